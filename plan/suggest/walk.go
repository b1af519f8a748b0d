package suggest

import (
	"strings"
	"unicode/utf8"

	"gridferry/plan/diag"
)

// Walk goes through the keys and texts of a file in their order, as far as they can be told by indentation and brackets
// alone: of a text that cannot be parsed, too. A path leads to the text, or to the key and through it; a place
// takes in quotes.
func Walk(file, text string, see func(path []string, text string, key bool, at diag.Place)) {
	s := newScanner()
	lines := diag.SplitLines(strings.TrimPrefix(text, "\ufeff"))
	counted, characters := span{}, 0 // up to its end, the characters of the line
	place := func(at span) diag.Place {
		if at.line != counted.line || at.start < counted.end {
			counted, characters = span{line: at.line}, 0
		}
		line := lines[at.line-1]
		characters += utf8.RuneCountInString(line[counted.end:at.start])
		counted.end = at.start
		return diag.Place{File: file, Line: at.line, Col: characters + 1, Width: utf8.RuneCountInString(line[at.start:at.end])}
	}
	s.onKey = func(levels []*level, name string, at span) { see(s.path(len(levels)), name, true, place(at)) }
	s.onValue = func(levels []*level, text string, at span) { see(s.path(len(levels)), text, false, place(at)) }
	for _, line := range lines {
		if !s.line(line) {
			return
		}
	}
}
