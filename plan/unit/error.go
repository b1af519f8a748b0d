package unit

import (
	"fmt"
	"strconv"

	"gridferry/plan/wording"
)

// Kind says what is wrong with a quantity. The zero value is invalid.
type Kind uint8

// The kinds of fault.
const (
	_              Kind = iota
	NotANumber          // "fast"
	UnknownUnit         // "5 furlong"
	WrongDimension      // "5 kg" where a length is wanted
	NotFinite           // "inf", "1e999"
	Ambiguous           // "017", "1_000", "1,5": readers disagree on what it means
	NotWhole            // "4.0" where a count is wanted

	numKinds = iota
)

var rules [numKinds]string = [...]string{
	NotANumber:     "not-a-number",
	UnknownUnit:    "unknown-unit",
	WrongDimension: "wrong-dimension",
	NotFinite:      "not-finite",
	Ambiguous:      "ambiguous-number",
	NotWhole:       "not-whole-number",
}

// Error says why a text is not the quantity that was wanted.
type Error struct {
	Kind Kind
	Text string // as it was written
	Hint string // what to write instead; may be empty

	message string
}

// Error gives the message, without the hint.
func (e *Error) Error() string { return e.message }

// Rule gives the name of the rule that was broken, such as "unknown-unit".
func (e *Error) Rule() string {
	if int(e.Kind) >= len(rules) {
		return ""
	}
	return rules[e.Kind]
}

func fault(kind Kind, text, hint, format string, args ...any) *Error {
	return &Error{Kind: kind, Text: text, Hint: hint, message: quote(text) + " " + fmt.Sprintf(format, args...)}
}

// hinted adds what to write, where nothing more exact is known.
func (e *Error) hinted(hint string) *Error {
	if e.Hint == "" {
		e.Hint = hint
	}
	return e
}

func quote(text string) string { return strconv.Quote(wording.Brief(text)) }
