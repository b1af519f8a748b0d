package rules

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
)

// Comment is how a family writes words that the controller does not obey.
type Comment struct {
	Form        CommentForm
	Open, Close string // Close is "" for a comment that runs to the end of its line
	Replace     []Replacement
	Otherwise   string // what stands for a character that a program must not hold
	encoding    Encoding
	letters     *CharSet // nil for any
	quotes      Quotes
}

// Replacement is a piece of text that must not stand in a comment, and what
// stands there instead.
type Replacement struct{ Old, New string }

// CommentForm says whether a family has comments.
type CommentForm uint8

// The forms.
const (
	Marked CommentForm = iota // between marks
	Plain                     // no marks: people read this text and no machine obeys it
	None                      // no comments at all: free text is left out
)

// form is a word for the forms without marks, or a table.
func (c *Comment) form() decode.Form {
	var open, end, otherwise decode.Value[string]
	marks := decode.Object{What: "comment", Keys: []decode.Key{
		decode.Must("open", "The mark that opens a comment.", decode.Under(decode.Text(&open), schema.With("pattern", `\S`))),
		decode.May("close", "The mark that closes it. A mark is signs, not letters, where a comment has a `close`.", decode.Text(&end)).
			Else("a comment runs to the end of its line"),
		decode.May("replace", "Texts that must not stand in a comment, each with what stands there instead.",
			decode.Texts{What: "texts to replace, each with what stands in its place", Each: c.replacement}),
		decode.May("otherwise", "What stands for a character that no program may hold.", decode.Under(decode.Text(&otherwise), oneCharacter)).Default(c.Otherwise),
	}, Check: func(r *decode.Reader, _ decode.Written) {
		c.Open, c.Close, c.Otherwise = open.V, end.V, otherwise.Or(c.Otherwise)
		if len(c.Otherwise) > 1 || !isPrintableASCII(c.Otherwise) {
			r.List.Errorf("bad-comment-mark", otherwise.Place, "%q cannot stand for other characters, wanted one printable ASCII character or nothing", c.Otherwise)
		}
		if open.IsSet() && strings.TrimSpace(c.Open) == "" {
			r.List.Errorf("bad-comment-mark", open.Place, "the mark that opens a comment is blank").
				WithHint("write \"comment: none\" for a controller without comments")
		}
	}}
	return decode.OrMapping(decode.Choice(&c.Form, []string{"plain", "none"}, []CommentForm{Plain, None}), marks)
}

// What replacing may cost: all of them go through every comment, and each may make it longer.
const (
	mostReplaced       = 100
	longestReplacement = 20    // bytes
	longestReplaced    = 8_192 // bytes of a comment that go on to the next one
)

// replacement reads what stands in the place of a text. The keys are not names but
// the very characters that must not appear.
func (c *Comment) replacement(old decode.Node) decode.Form {
	var to decode.Value[string]
	return decode.Then(decode.Text(&to), func(r *decode.Reader, _ decode.Node) {
		switch {
		case old.Text() == "":
			r.List.Errorf("bad-comment-mark", old.Place(), "the text to replace is empty")
		case len(c.Replace) == mostReplaced:
			r.List.Errorf("bad-comment-mark", old.Place(), "there are more than %d texts to replace", mostReplaced).
				WithHint("what no program may hold becomes what \"otherwise\" says")
			c.Replace = append(c.Replace, Replacement{})
		case len(c.Replace) > mostReplaced: // which is reported once
		case len(to.V) > longestReplacement:
			r.List.Errorf("bad-comment-mark", to.Place, "what stands in a comment instead of %q has %d bytes, at most %d fit", old.Text(), len(to.V), longestReplacement).
				WithHint("one or two letters, or a short word, are enough")
		case strings.ContainsFunc(to.V, unicode.IsControl):
			r.List.Errorf("bad-comment-mark", to.Place, "what stands in a comment instead of %q must be on one line", old.Text())
		default:
			c.Replace = append(c.Replace, Replacement{old.Text(), to.V})
		}
	})
}

// Format returns s as one comment of at most room characters (0: no limit), or
// "" when nothing is left of it, or nothing but that something is missing. Whatever s holds, the result is one line, ends
// where the comment ends, and is a comment from its first character to its last.
func (c *Comment) Format(s string, room int) string {
	s = c.clean(s)
	if s == "" || c.Form == None {
		return ""
	}
	if c.Form == Plain {
		return cut(s, room)
	}
	open, end := c.Marks()
	if room > 0 {
		if room -= utf8.RuneCountInString(open + end); room <= 0 {
			return ""
		}
	}
	if s = cut(s, room); s == "" {
		return ""
	}
	return open + s + end
}

// Marks are the marks around a text, with a blank inside those of several characters,
// whose ends could otherwise pair with the text's own: "(*" and ")" are harmless apart.
func (c *Comment) Marks() (open, end string) {
	open, end = c.Open, c.Close
	if len(strings.TrimSpace(open)) > 1 && !strings.HasSuffix(open, " ") {
		open += " "
	}
	if len(strings.TrimSpace(end)) > 1 && !strings.HasPrefix(end, " ") {
		end = " " + end
	}
	return open, end
}

// marksWidth is how many characters the marks take.
func (c *Comment) marksWidth() int {
	if c.Form != Marked {
		return 0
	}
	open, end := c.Marks()
	return utf8.RuneCountInString(open + end)
}

// clean makes s one line without any mark of the family's comments.
func (c *Comment) clean(s string) string {
	s = c.spelled(s)
	for _, r := range c.Replace {
		if s = strings.ReplaceAll(s, r.Old, r.New); len(s) > longestReplaced {
			s = strings.ToValidUTF8(s[:longestReplaced], "")
		}
	}
	s = c.fold(s)
	if c.Form == Marked {
		s = breakMark(s, strings.TrimSpace(c.Open))
		s = breakMark(s, strings.TrimSpace(c.Close))
		// Some languages carry a comment that ends in a backslash over to the next line.
		s = strings.TrimRight(s, ` \`)
	}
	return singleBlanks(s)
}

// spelled is s with characters that people can see and the encoding has. Making the text ASCII comes
// first: a few characters decompose into marks (U+037E, the Greek question mark, is a
// semicolon).
func (c *Comment) spelled(s string) string {
	if !isPrintableASCII(s) {
		s = strings.Map(visible, s)
		s = c.encoding.spell(s, c.Otherwise)
	}
	return s
}

// singleBlanks is s with one blank between words and none at its ends; most texts
// are so already.
func singleBlanks(s string) string {
	blank := true // before the first character
	for i := range len(s) {
		c := s[i]
		if c >= utf8.RuneSelf || c < ' ' || c == ' ' && blank {
			return strings.Join(strings.Fields(s), " ")
		}
		blank = c == ' '
	}
	if blank {
		return strings.TrimSuffix(s, " ")
	}
	return s
}

// fold writes s with the characters that a program may hold: in the other case
// where only that is allowed.
func (c *Comment) fold(s string) string {
	if c.letters == nil {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == ' ' || c.letters.Has(r):
			b.WriteRune(r)
		case c.letters.Has(unicode.ToUpper(r)):
			b.WriteRune(unicode.ToUpper(r))
		case c.letters.Has(unicode.ToLower(r)):
			b.WriteRune(unicode.ToLower(r))
		default:
			b.WriteString(c.Otherwise)
		}
	}
	return b.String()
}

// isPrintableASCII spares most texts, of which there is one in every other line,
// the work that the others need.
func isPrintableASCII(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// breakMark takes a mark out of s: a single character becomes a blank, a longer
// one is split by a blank after its first character.
func breakMark(s, mark string) string {
	switch first, size := utf8.DecodeRuneInString(mark); {
	case mark == "":
		return s
	case size == len(mark):
		return strings.ReplaceAll(s, mark, " ")
	default:
		// The second pass catches a mark that overlapped itself.
		for strings.Contains(s, mark) {
			s = strings.Replace(s, mark, string(first)+" "+mark[size:], -1)
		}
		return s
	}
}

// visible turns what people cannot see, but programs and editors obey, into a
// blank: control characters, line breaks, marks that turn the reading direction.
func visible(r rune) rune {
	if Unfit(r) || r == '\t' || unicode.In(r, unicode.Cf, unicode.Zs) || r == utf8.RuneError {
		return ' '
	}
	return r
}

// Unfit reports whether a character may stand in no program: some readers end a line at it
// and others do not, or read the line in another direction, or take it for no text.
func Unfit(r rune) bool {
	if r < utf8.RuneSelf {
		return r < ' ' && r != '\t' || r == 0x7f
	}
	return unicode.IsControl(r) || r == '\ufeff' || unicode.In(r, unicode.Zl, unicode.Zp, unicode.Bidi_Control, unicode.Noncharacter_Code_Point)
}

const ellipsis = "..."

// cut shortens s to room characters (0: any number), the last three of which then show
// that something is missing; nothing remains where they would stand alone.
func cut(s string, room int) string {
	if room <= 0 || utf8.RuneCountInString(s) <= room {
		return s
	}
	runes := []rune(s)
	left := strings.TrimRight(string(runes[:max(room-len(ellipsis), 0)]), " ")
	if left == "" {
		return ""
	}
	return left + ellipsis
}

// Where the end of a line can be.
const (
	InComment = "a comment"
	InQuotes  = "quotes"
)

// Inside says where the end of line is: in the open, inside a comment, or
// inside quotes. A comment mark in quotes or in another comment begins none.
func (c *Comment) Inside(line string) string {
	open, end := strings.TrimSpace(c.Open), strings.TrimSpace(c.Close)
	for line != "" {
		switch {
		case open != "" && strings.HasPrefix(line, open):
			rest := line[len(open):]
			i := strings.Index(rest, end)
			if end == "" || i < 0 {
				return InComment
			}
			line = rest[i+len(end):]
		case c.quotes.Opens(line[0]):
			n := quotation(&c.quotes, line)
			if n == 0 {
				return InQuotes
			}
			line = line[n:]
		default:
			line = line[1:]
		}
	}
	return ""
}

// checkMarks refuses marks that could not close what they open.
func (c *Comment) checkMarks(list *diag.List, at diag.Place) {
	open, end := strings.TrimSpace(c.Open), strings.TrimSpace(c.Close)
	if strings.ContainsFunc(c.Open+c.Close, unicode.IsControl) {
		list.Errorf("bad-comment-mark", at, "a comment mark holds a line break or another control character")
		return
	}
	for _, r := range c.Replace {
		if open != "" && strings.Contains(r.New, open) || end != "" && strings.Contains(r.New, end) {
			list.Errorf("bad-comment-mark", at, "what stands in a comment instead of %q is one of the comment's own marks", r.Old)
		}
	}
	if end == "" {
		return // nothing ends such a comment but its line
	}
	for _, mark := range []string{open, end} {
		if strings.ContainsFunc(mark, isWordCharacter) {
			list.Errorf("bad-comment-mark", at, "the comment mark %q holds a letter, a digit, a blank or a full stop", mark).
				WithHint("a comment's marks are signs, so that no word of a text can be taken for one")
		}
	}
}

func isWordCharacter(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || r == ' ' || r == '.'
}
