package blocks

import (
	"path"
	"regexp"
	"strconv"
	"unicode/utf8"

	"gridferry/plan/diag"
)

// placeAt is where a byte of a file stands: a tree knows bytes, a place counts
// characters.
func placeAt(label string, file File, pos int) diag.Place {
	text := file.Text[:min(pos, len(file.Text))]
	line, start := 1, 0
	for i := range len(text) {
		if text[i] == '\n' {
			line, start = line+1, i+1
		}
	}
	return diag.Place{File: path.Join(label, file.Name), Line: line, Col: utf8.RuneCountInString(text[start:]) + 1}
}

// The messages of text/template begin with a place, which is the only way to
// learn it: "template: FILE:LINE: …" from parsing, "template: FILE:LINE:COL:
// executing …" from running, the column counted in bytes from 0.
var (
	parseMessage = regexp.MustCompile(`(?s)^template: [^:]*:(\d+): (.*)$`)
	runMessage   = regexp.MustCompile(`(?s)^template: ([^:]*):(\d+):(\d+): executing "[^"]*" at <.*?>: (.*)$`)
)

// splitParseError takes a parser's message apart.
func splitParseError(label, name string, err error) (diag.Place, string) {
	at := diag.Place{File: path.Join(label, name)}
	m := parseMessage.FindStringSubmatch(err.Error())
	if m == nil {
		return at, err.Error()
	}
	at.Line, _ = strconv.Atoi(m[1])
	return at, m[2]
}

// splitRunError takes a message of a run apart.
func splitRunError(label string, err error) (diag.Place, string) {
	m := runMessage.FindStringSubmatch(err.Error())
	if m == nil {
		return diag.Place{File: label}, err.Error()
	}
	at := diag.Place{File: path.Join(label, m[1])}
	at.Line, _ = strconv.Atoi(m[2])
	at.Col, _ = strconv.Atoi(m[3])
	at.Col++
	return at, m[4]
}
