package sarif

import (
	"unicode/utf16"
	"unicode/utf8"

	"gridferry/plan/diag"
)

// columns counts columns in units of UTF-16, from columns in characters. It goes on from where it
// was if the next place is farther along the same line: a line may have ten megabytes, and ten
// thousand findings.
type columns struct {
	sources *diag.Sources
	file    string
	line    int
	text    string // of the line
	at      mark
}

// mark is a place in a line: how many characters, bytes and units of UTF-16 are before it.
type mark struct{ chars, bytes, units int }

// region is the part of a file that a place speaks of; nil for a file as a whole, without columns
// where it is a line as a whole (section 3.30).
func (c *columns) region(at diag.Place) *region {
	if at.Line <= 0 {
		return nil
	}
	if at.Col <= 0 || !c.find(at) {
		return &region{StartLine: at.Line}
	}
	c.at = c.to(at.Col - 1)
	r := &region{StartLine: at.Line, StartColumn: c.at.units + 1}
	if end := c.sources.End(at); end > at.Col {
		r.EndColumn = c.to(end-1).units + 1
	}
	return r
}

// find goes to the line of a place.
func (c *columns) find(at diag.Place) bool {
	if c.file != at.File || c.line != at.Line {
		text, ok := c.sources.Line(at.File, at.Line)
		if !ok {
			return false
		}
		c.file, c.line, c.text, c.at = at.File, at.Line, text, mark{}
	}
	if c.at.chars > at.Col-1 {
		c.at = mark{}
	}
	return true
}

// to is the mark behind so many characters of the line, or at its end.
func (c *columns) to(chars int) mark {
	m := c.at
	for m.chars < chars && m.bytes < len(c.text) {
		r, size := utf8.DecodeRuneInString(c.text[m.bytes:])
		m = mark{m.chars + 1, m.bytes + size, m.units + max(utf16.RuneLen(r), 1)}
	}
	return m
}
