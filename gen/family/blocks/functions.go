package blocks

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"text/template"
	"unicode/utf8"

	"gridferry/gen/family/rules"
)

// Function is one function that templates may call. The table Functions makes
// the function map, the documentation and the test of it.
type Function struct {
	Name    string
	Use     string // how it is called
	Doc     string
	Example string // an action, run by the test on exampleView
	Want    string // what it gives in the family iso6983
	make    func(*rules.Rules) any
}

// Functions is every function beside the comparisons and logic that
// text/template itself has.
var Functions = []Function{
	{
		Name: commentName, Use: "comment VALUE…",
		Doc:     "one comment of all the values, with blanks between; texts, words and whole numbers",
		Example: `{{comment .N "to" .Target ", plan line" .Line}}`, Want: "(7 to tray A1, plan line 31)",
		make: func(*rules.Rules) any { return joinComment },
	},
	{
		Name: quoteName, Use: "quote VALUE…",
		Doc:     "all the values as one text in the family's quotation marks, with blanks between; only with the rule `quotes`",
		Example: `{{quote .N "to" .Target}}`, Want: `"7 to tray A1"`,
		make: func(r *rules.Rules) any { return quote(r, func(string) error { return nil }) }, // the printer's counts
	},
	{
		Name: nameName, Use: "name TEXT",
		Doc:     "the text as an identifier by the family's name rules; two texts that give the same one are an error",
		Example: `{{name .Target}}`, Want: "TRAY_A1",
		make: func(r *rules.Rules) any { return func(v any) (string, error) { return makeName(&r.Names, v) } },
	},
	{
		Name: "pad", Use: "pad WIDTH VALUE",
		Doc:     "a word or a whole number with blanks before it, so that columns line up on the right",
		Example: `[{{pad 9 .X}}]`, Want: "[   40.000]",
		make: func(*rules.Rules) any { return pad },
	},
	{
		Name: "left", Use: "left WIDTH VALUE",
		Doc:     "the same with blanks behind it",
		Example: `[{{left 9 .X}}]`, Want: "[40.000   ]",
		make: func(*rules.Rules) any { return padLeft },
	},
	{
		Name: "zeros", Use: "zeros WIDTH WHOLE",
		Doc:     "a whole number with zeros before it; one that is below 0 is refused",
		Example: `N{{zeros 4 .Line}}`, Want: "N0031",
		make: func(*rules.Rules) any { return zeros },
	},
	{
		Name: "plus", Use: "plus WHOLE WHOLE",
		Doc:     "the sum of two whole numbers",
		Example: `{{plus .Line 1}}`, Want: "32",
		make: func(*rules.Rules) any { return plus },
	},
	{
		Name: "times", Use: "times WHOLE WHOLE",
		Doc:     "the product of two whole numbers",
		Example: `{{times .N 16}}`, Want: "112",
		make: func(*rules.Rules) any { return times },
	},
	wordingFunction("upper", "upper WORD", "the word in upper case", `{{upper .Tool}}`, "JAW", strings.ToUpper),
	wordingFunction("lower", "lower WORD", "the word in lower case", `{{lower .Tool}}`, "jaw", strings.ToLower),
	wordingFunction("trim", "trim WORD", "the word without blanks at its ends", `{{trim " a b "}}`, "a b", strings.TrimSpace),
	wordingFunction("trimPrefix", "trimPrefix START WORD", "the word without that start", `{{trimPrefix "J" .Tool}}`, "AW", trimPrefix),
	wordingFunction("trimSuffix", "trimSuffix END WORD", "the word without that end", `{{trimSuffix ".000" .X}}`, "40", trimSuffix),
	wordingFunction("contains", "contains PART WORD", "whether the part is in the word", `{{if contains "." .X}}real{{end}}`, "real", contains),
	wordingFunction("hasPrefix", "hasPrefix START WORD", "whether the word starts so", `{{if hasPrefix "-" .X}}minus{{else}}plus{{end}}`, "plus", hasPrefix),
	wordingFunction("hasSuffix", "hasSuffix END WORD", "whether the word ends so", `{{if hasSuffix "0" .X}}nought{{end}}`, "nought", hasSuffix),
	wordingFunction("ternary", "ternary YES NO CONDITION", "the first value if the condition holds, else the second", `{{ternary "rest" "pass" .Stops}}`, "rest", ternary),
	wordingFunction("plural", "plural ONE MANY WHOLE", "the first word for 1, else the second", `{{.N}} {{plural "move" "moves" .N}}`, "7 moves", plural),
	{
		Name: "replace", Use: "replace OLD NEW WORD",
		Doc:     "the word with every OLD replaced by NEW",
		Example: `{{replace "." "," .X}}`, Want: "40,000",
		make: func(*rules.Rules) any { return boundedReplace },
	},
}

// builtins are the functions of text/template itself that are harmless here.
// The others are left out on purpose: print, printf, println, html, js and
// urlquery turn any value into a word, also a Text, and call runs functions.
var builtins = []string{"and", "or", "not", "eq", "ne", "lt", "le", "gt", "ge", "len", "index", "slice"}

// funcMap is the table for one family.
func funcMap(r *rules.Rules) template.FuncMap {
	m := make(template.FuncMap, len(Functions))
	for _, f := range Functions {
		m[f.Name] = f.make(r)
	}
	return m
}

// longestComment bounds what one comment is made of, in bytes: more than the
// longest text that a plan may hold.
const longestComment = 8 << 10

// joinComment makes one text of several values. It does not make a comment yet:
// that happens where the text is printed, so that it can be nothing else.
func joinComment(values ...any) (Text, error) {
	var b strings.Builder
	for _, v := range values {
		piece, err := pieceOf(v)
		if err != nil {
			return Text{}, err
		}
		if piece == "" {
			continue
		}
		_, free := v.(Text)
		if b.Len() > 0 && (free || !isEnding(piece[0])) {
			b.WriteByte(' ')
		}
		if b.Len()+len(piece) > longestComment {
			return Text{}, errTooLarge
		}
		b.WriteString(piece)
	}
	return Text{b.String()}, nil
}

func pieceOf(v any) (string, error) {
	if t, ok := v.(Text); ok {
		return t.s, nil
	}
	return wordOf(v)
}

// wordOf is a word or a whole number as it is printed.
func wordOf(v any) (string, error) {
	switch v := v.(type) {
	case string:
		return v, nil
	case int:
		return strconv.Itoa(v), nil
	}
	return "", fmt.Errorf("found %s, wanted a word or a whole number", describe(v))
}

// describe says what a value is in the words of AUTHORING.md.
func describe(v any) string {
	switch v.(type) {
	case nil:
		return "nothing"
	case Text:
		return "a text"
	case Quoted:
		return "a quoted text"
	case bool:
		return "a condition"
	case float32, float64:
		return "a number with a fraction"
	}
	return fmt.Sprintf("a %T", v)
}

// The functions that take texts.
const (
	commentName = "comment"
	nameName    = "name"
	quoteName   = "quote"
)

func makeName(names *rules.Names, v any) (string, error) {
	text, err := pieceOf(v)
	if err != nil {
		return "", err
	}
	return names.Make(text), nil
}

// name is the function "name" of a printer, which reports what it makes.
func (p *Printer) name(v any) (string, error) {
	text, err := pieceOf(v)
	if err == nil {
		err = p.spells(text)
	}
	if err != nil {
		return "", err
	}
	name := p.family.Names.Make(text)
	if p.Named != nil {
		p.Named(name, text)
	}
	return name, nil
}

// widest bounds what the functions make: no line of a program is longer.
const widest = 4096

func pad(width int, v any) (string, error) {
	word, blanks, err := padding(width, v)
	return blanks + word, err
}

func padLeft(width int, v any) (string, error) {
	word, blanks, err := padding(width, v)
	return word + blanks, err
}

func zeros(width, n int) (string, error) {
	if n < 0 {
		return "", fmt.Errorf("found %d, wanted 0 or more", n)
	}
	digits, blanks, err := padding(width, n)
	return strings.ReplaceAll(blanks, " ", "0") + digits, err
}

func padding(width int, v any) (word, blanks string, err error) {
	if word, err = wordOf(v); err != nil {
		return "", "", err
	}
	if width < 0 || width > widest {
		return "", "", fmt.Errorf("a width of %d, wanted one from 0 to %d", width, widest)
	}
	return word, strings.Repeat(" ", max(width-utf8.RuneCountInString(word), 0)), nil
}

var errTooLarge = errors.New("the result is larger than a program could hold")

func plus(a, b int) (int, error) { return bounded(float64(a) + float64(b)) }

func times(a, b int) (int, error) { return bounded(float64(a) * float64(b)) }

// bounded is a result that an int of 32 bits holds: so it is the same on every machine.
func bounded(exact float64) (int, error) {
	if math.Abs(exact) > math.MaxInt32 {
		return 0, errTooLarge
	}
	return int(exact), nil
}

// boundedReplace is a replace with an end to its growth: applied to its
// own result in a loop, it would double it every time.
func boundedReplace(from, to, word string) (string, error) {
	if (strings.Count(word, from)+1)*len(to)+len(word) > widest {
		return "", errTooLarge
	}
	return strings.ReplaceAll(word, from, to), nil
}
