package rules

import (
	"errors"
	"fmt"
	"hash/fnv"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"gridferry/plan/decode"
	"gridferry/plan/schema"
)

// Names is how a family spells an identifier.
type Names struct {
	First    CharSet // what the first character may be
	Letters  CharSet // what the others may be
	Replace  string  // what stands for a run of anything else; may be empty
	Longest  int
	Case     string // keep, upper or lower
	reserved map[string]bool
}

// defaultNames suits most languages: letters, digits and single underscores.
func defaultNames() Names {
	return Names{First: mustCharSet("A-Za-z"), Letters: mustCharSet("A-Za-z0-9_"), Replace: "_", Longest: 32, Case: "keep"}
}

// fileNames suits any file system: one more reason why nothing from a plan can
// lead to another folder.
func fileNames() Names {
	return Names{First: mustCharSet("A-Za-z0-9"), Letters: mustCharSet("A-Za-z0-9_-"), Replace: "_", Longest: 64, Case: "keep"}
}

// CharSet is a set of ASCII characters.
type CharSet [128]bool

// parseCharSet reads "A-Za-z0-9_": characters and ranges of them.
func parseCharSet(text string) (CharSet, error) {
	var set CharSet
	for i := 0; i < len(text); i++ {
		from, to := text[i], text[i]
		if i+2 < len(text) && text[i+1] == '-' {
			to = text[i+2]
			i += 2
		}
		if from > to || from <= ' ' || to >= 127 {
			return set, errors.New("wanted printable ASCII characters and ranges such as A-Z")
		}
		for c := from; c <= to; c++ {
			set[c] = true
		}
	}
	return set, nil
}

func mustCharSet(text string) CharSet {
	set, err := parseCharSet(text)
	if err != nil {
		panic(err)
	}
	return set
}

// Has reports whether r is in the set.
func (s *CharSet) Has(r rune) bool { return 0 <= r && r < rune(len(s)) && s[r] }

// form is a table of name rules; first and letters are how the usual sets of
// characters are written.
func (n *Names) form(key, first, letters string) decode.Form {
	var replace, letterCase decode.Value[string]
	var longest decode.Value[int]
	return decode.Object{What: key, Keys: []decode.Key{
		decode.May("first", "What it may begin with.", charSet(&n.First)).Default(first),
		decode.May("letters", "What else it may be made of.", charSet(&n.Letters)).Default(letters),
		decode.May("replace", "What stands for anything else; may be empty.", decode.Under(decode.Text(&replace), oneCharacter)).Default(n.Replace),
		decode.May("longest", "How long it may be.", decode.Whole(&longest, 4, 255)).Default(n.Longest),
		decode.May("case", "Whether letters change case.", decode.OneOf(&letterCase, "keep", "upper", "lower")).Default(n.Case),
		decode.May("reserved", "The words that it must not be.", words(n.reserve)),
	}, Check: func(r *decode.Reader, _ decode.Written) {
		n.Replace, n.Longest, n.Case = replace.Or(n.Replace), longest.Or(n.Longest), letterCase.Or(n.Case)
		for _, c := range n.Replace {
			if !n.Letters.Has(c) || len(n.Replace) > 1 {
				r.List.Errorf("bad-name-rule", replace.Place, "%q cannot stand in a name, wanted nothing or one of its letters", n.Replace)
				return
			}
		}
	}}
}

// oneCharacter is what a schema says of a text that is no longer than that.
var oneCharacter = schema.With("maxLength", 1)

// charSet reads characters and ranges of them.
func charSet(dst *CharSet) decode.Form {
	var text decode.Value[string]
	return decode.Under(decode.Then(decode.Text(&text), func(r *decode.Reader, n decode.Node) {
		set, err := parseCharSet(text.V)
		if err == nil && set == (CharSet{}) {
			err = errors.New("wanted at least one character")
		}
		if text.IsSet() && err != nil {
			r.List.Errorf("bad-name-rule", n.Place(), "%q is no set of characters: %v", text.V, err)
			return
		}
		*dst = set
	}), schema.With("pattern", "^[!-~]+$"))
}

// words reads a list of words.
func words(each func(string)) decode.Form {
	return decode.List{What: "words", Each: func() decode.Form {
		var word decode.Value[string]
		return decode.Then(decode.Text(&word), func(*decode.Reader, decode.Node) {
			if word.IsSet() {
				each(word.V)
			}
		})
	}}
}

func (n *Names) reserve(word string) {
	if n.reserved == nil {
		n.reserved = map[string]bool{}
	}
	n.reserved[strings.ToUpper(word)] = true
}

// Make spells text as an identifier: never empty, never a reserved word, never
// longer than the family allows. A name that had to be shortened ends in a check
// made of the whole text, so that two long texts that begin alike stay apart, in
// every program and whatever else stands in the cell. Texts that differ only in
// what no identifier may hold can still give the same name.
func (n *Names) Make(text string) string {
	name := n.spell(text)
	if len(name) > n.Longest {
		name = n.marked(name, text)
	}
	if n.reserved[strings.ToUpper(name)] {
		return n.numbered(name, 1)
	}
	return name
}

// Table spells several texts so that no two differ in letter case only, nor one from a
// name that is taken. Names that would be alike all get their own check, so that none of
// them depends on the order of the others.
func (n *Names) Table(texts []string, taken ...string) []string {
	alike, used, out := map[string]int{}, map[string]bool{}, make([]string, len(texts))
	for _, name := range taken {
		alike[strings.ToUpper(name)], used[strings.ToUpper(name)] = 1, true
	}
	for _, text := range texts {
		alike[strings.ToUpper(n.Make(text))]++
	}
	clashes := 1
	for i, text := range texts {
		name := n.Make(text)
		if alike[strings.ToUpper(name)] > 1 {
			name = n.marked(n.spell(text), text)
		}
		for check := name; used[strings.ToUpper(name)]; { // one in thousands: even the checks are alike
			clashes++
			name = n.numbered(check, clashes)
		}
		used[strings.ToUpper(name)] = true
		out[i] = name
	}
	return out
}

// checkLetters is what checks are made of: no vowels, and nothing that could be
// taken for a digit, so that they spell no words.
const checkLetters = "0123456789BCDFGHJKMNPQRSTVWXZ"

// marked is base, shortened, with a check of three letters made of the text.
func (n *Names) marked(base, text string) string {
	var letters []rune
	for _, c := range n.fold(checkLetters) {
		if n.Letters.Has(c) {
			letters = append(letters, c)
		}
	}
	if len(letters) == 0 {
		return n.shorten(base, n.Longest)
	}
	hash := fnv.New64a()
	hash.Write([]byte(text))
	sum, size := hash.Sum64(), uint64(len(letters))
	check := string([]rune{letters[sum%size], letters[sum/size%size], letters[sum/size/size%size]})
	if n.Replace != "" && n.Longest > len(check)+1 {
		check = n.Replace + check
	}
	return n.shorten(base, n.Longest-len(check)) + check
}

// spell maps text to allowed characters, then sees to its first one. The result
// may still be too long.
func (n *Names) spell(text string) string {
	var b strings.Builder
	gap := false
	for _, r := range n.fold(norm.NFD.String(spelled.Replace(text))) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case !n.Letters.Has(r) || string(r) == n.Replace:
			gap = b.Len() > 0
		default:
			if gap {
				b.WriteString(n.Replace)
			}
			gap = false
			b.WriteRune(r)
		}
	}
	return n.begin(b.String())
}

func (n *Names) fold(s string) string {
	switch n.Case {
	case "upper":
		return strings.ToUpper(s)
	case "lower":
		return strings.ToLower(s)
	}
	return s
}

// begin puts an allowed character first.
func (n *Names) begin(s string) string {
	if s != "" && n.First.Has(rune(s[0])) {
		return s
	}
	for _, first := range n.fold("n") + "nN" {
		if n.First.Has(first) {
			return string(first) + s
		}
	}
	for c, ok := range n.First {
		if ok {
			return string(rune(c)) + s
		}
	}
	return s
}

func (n *Names) shorten(s string, longest int) string {
	if len(s) > longest {
		s = s[:longest]
	}
	if n.Replace != "" {
		s = strings.TrimRight(s, n.Replace)
	}
	return s
}

// numbered is a name with a number at its end, still short enough.
func (n *Names) numbered(base string, k int) string {
	end := n.Replace + strconv.Itoa(k)
	return n.shorten(base, max(n.Longest-len(end), 1)) + end
}

// MostParts is how many parts can have different names.
const MostParts = 999

// OfPart is the name of one part of something, numbered from 1 to MostParts:
// never that of the whole, never that of another part. The number always has
// three digits: shortened to eight letters, WAGON1 and a 2 would else be WAGO
// and a 12.
func (n *Names) OfPart(whole string, part int) string {
	end := fmt.Sprintf("%s%03d", n.Replace, part)
	stem := n.shorten(whole, max(n.Longest-len(end), 1))
	if !strings.EqualFold(stem+end, whole) {
		return stem + end
	}
	for _, c := range n.fold(checkLetters) { // the whole ends in this very number
		if last := stem[len(stem)-1:]; n.Letters.Has(c) && !strings.EqualFold(string(c), last) {
			return strings.TrimSuffix(stem, last) + string(c) + end
		}
	}
	return stem + end
}
