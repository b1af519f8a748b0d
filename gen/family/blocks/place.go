package blocks

import (
	"path"
	"slices"
	"strconv"
	"unicode/utf8"

	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// source is a template file with the places where its lines begin, looked up once: every
// word of it is asked for its place.
type source struct {
	File
	starts []int
}

func newSource(file File) source {
	s := source{file, []int{0}}
	for i := range len(file.Text) {
		if file.Text[i] == '\n' {
			s.starts = append(s.starts, i+1)
		}
	}
	return s
}

// placeAt is where a byte of a file stands: a tree knows bytes, a place counts
// characters.
func placeAt(label string, file source, pos int) diag.Place {
	pos = min(pos, len(file.Text))
	line, begins := slices.BinarySearch(file.starts, pos)
	if begins {
		line++
	}
	return diag.Place{File: path.Join(label, file.Name), Line: line, Col: utf8.RuneCountInString(file.Text[file.starts[line-1]:pos]) + 1}
}

// The messages of text/template begin with a place, which is the only way to
// learn it: "template: FILE:LINE: …" from parsing, "template: FILE:LINE:COL:
// executing …" from running, the column counted in bytes from 0.
var (
	parseMessage = lazy.Regexp(`(?s)^template: [^:]*:(\d+): (.*)$`)
	runMessage   = lazy.Regexp(`(?s)^template: ([^:]*):(\d+):(\d+): executing "[^"]*" at <.*?>: (.*)$`)
)

// splitParseError takes a parser's message apart.
func splitParseError(label, name string, err error) (diag.Place, string) {
	at := diag.Place{File: path.Join(label, name)}
	m := parseMessage().FindStringSubmatch(err.Error())
	if m == nil {
		return at, err.Error()
	}
	at.Line, _ = strconv.Atoi(m[1])
	return at, m[2]
}

// splitRunError takes a message of a run apart.
func splitRunError(label string, err error) (diag.Place, string) {
	m := runMessage().FindStringSubmatch(err.Error())
	if m == nil {
		return diag.Place{File: label}, err.Error()
	}
	at := diag.Place{File: path.Join(label, m[1])}
	at.Line, _ = strconv.Atoi(m[2])
	at.Col, _ = strconv.Atoi(m[3])
	at.Col++
	return at, m[4]
}
