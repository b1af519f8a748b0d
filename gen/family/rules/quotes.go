package rules

import (
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
)

// Quotes is how a family writes a text in quotation marks, each of them one sign or "".
type Quotes struct {
	Open, Close string
	Escape      string // stands before a mark in the text; Close itself where that is doubled; "": such a mark becomes a blank
}

func (q *Quotes) key() decode.Key {
	return decode.May("quotes", "The quotation marks that `quote` writes around a text: signs, one each.", decode.Object{What: "quotes", Keys: []decode.Key{
		decode.Must("open", "The mark that opens a quoted text.", sign(&q.Open)),
		decode.Must("close", "The mark that closes it.", sign(&q.Close)),
		decode.May("escape", "What stands before such a mark, or before itself, inside the text; the closing mark itself where that is doubled.", sign(&q.Escape)).
			Else("a mark inside the text becomes a blank"),
	}}).Else("the family quotes no texts, and there is no `quote`")
}

// sign reads one sign that no word and no figure has.
func sign(dst *string) decode.Form {
	var text decode.Value[string]
	return decode.Under(decode.Then(decode.Text(&text), func(r *decode.Reader, _ decode.Node) {
		if !text.IsSet() {
			return
		}
		if len(text.V) != 1 || !isPrintableASCII(text.V) || isWordCharacter(rune(text.V[0])) || strings.ContainsAny(text.V, ",+-_") {
			r.List.Errorf("bad-quotes", text.Place, "%q cannot be a quotation mark, wanted one sign that no word and no figure has", text.V).
				WithHint(`as in quotes: {open: '"', close: '"', escape: '"'}`)
			return
		}
		*dst = text.V
	}), schema.With("pattern", "^[!-*/:-@\\[-^`{-~]$"))
}

// Has reports whether the family quotes texts.
func (q *Quotes) Has() bool { return q.Open != "" && q.Close != "" }

// checkQuotes holds quotation marks to what else stands in a line.
func (rules *Rules) checkQuotes(list *diag.List, at diag.Place) {
	q := &rules.Quotes
	for _, mark := range []string{q.Open, q.Close, q.Escape} {
		if mark != "" && rules.Letters != nil && !rules.Letters.Has(rune(mark[0])) {
			list.Errorf("bad-quotes", at, "the quotation mark %q is not among the family's \"letters\"", mark)
			return
		}
	}
	if q.Has() && q.Open == q.Escape && q.Open != q.Close {
		list.Errorf("bad-quotes", at, "%q both opens a quoted text and escapes a mark in it", q.Open)
		return
	}
	if q.Has() && rules.Comment.Form == Marked {
		for _, mark := range []string{q.Open, q.Close} {
			if strings.HasPrefix(strings.TrimSpace(rules.Comment.Open), mark) || strings.TrimSpace(rules.Comment.Close) == mark {
				list.Errorf("bad-quotes", at, "the quotation mark %q also begins or ends a comment", mark)
				return
			}
		}
	}
}

// Quote is a text in the family's quotation marks. Whatever it holds, the result is one
// line and ends where the quotation ends.
func (rules *Rules) Quote(s string) string {
	q := &rules.Quotes
	s = rules.Comment.fold(rules.Comment.spelled(s))
	var b strings.Builder
	for i := range len(s) {
		switch c := s[i : i+1]; {
		case c != q.Open && c != q.Close && c != q.Escape:
			b.WriteString(c)
		case q.Escape == "" || q.Escape == q.Close && c != q.Close:
			b.WriteByte(' ')
		default:
			b.WriteString(q.Escape + c)
		}
	}
	return q.Open + singleBlanks(b.String()) + q.Close
}

// Opens reports whether a quotation can begin with that character: with the family's own
// mark, or with those that nearly every language has.
func (q *Quotes) Opens(c byte) bool { return c == '"' || c == '\'' || q.Has() && c == q.Open[0] }

// Length is how much of a line the quotation takes that it begins with; 0 where it begins
// with none, or with one that does not end.
func (q *Quotes) Length(line []byte) int { return quotation(q, line) }

func quotation[line string | []byte](q *Quotes, text line) int {
	if len(text) == 0 || !q.Opens(text[0]) {
		return 0
	}
	end, escape, escapes := text[0], byte(0), false
	if q.Has() && text[0] == q.Open[0] {
		end = q.Close[0]
		if escapes = q.Escape != ""; escapes {
			escape = q.Escape[0]
		}
	}
	for i := 1; i < len(text); i++ {
		switch {
		case escapes && text[i] == escape && (escape != end || i+1 < len(text) && text[i+1] == end):
			i++ // what stands behind it ends nothing
		case text[i] == end:
			return i + 1
		}
	}
	return 0
}
