package wording

import (
	"strings"

	"gridferry/plan/lazy"
)

// Inert is a text for a CSV table that no spreadsheet takes for a formula: one that would
// be, and one that FromInert would change, gets an apostrophe in front. Numbers are no
// formulas.
func Inert(text string) string {
	if isFormula(text) {
		return "'" + text
	}
	return text
}

// AppendInert is Inert without the allocation.
func AppendInert(b []byte, text string) []byte {
	if isFormula(text) {
		b = append(b, '\'')
	}
	return append(b, text...)
}

// FromInert is the text that Inert made inert.
func FromInert(text string) string {
	if strings.HasPrefix(text, "'") && isFormula(text) {
		return text[1:]
	}
	return text
}

// isFormula reports whether a text begins as formulas do, behind apostrophes or none. A tab
// and a carriage return are among the signs, since some spreadsheets pass over them.
func isFormula(text string) bool {
	text = strings.TrimLeft(text, "'")
	return text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) && !figure().MatchString(text)
}

var figure = lazy.Regexp(`^[+-]\d+([.,]\d+)?$`)
