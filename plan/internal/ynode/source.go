package ynode

import (
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"gridferry/plan/diag"
)

// source is a text in which nodes stand, with its lines looked up once: a file may hold a hundred thousand nodes on one line,
// and each is asked for its place.
type source struct {
	file  string
	text  string
	shift int // added to the columns of line 1
	lines []line
	// steps[i][k] is the offset of character k×stepWidth of line i; there is nothing for a line in which every character is
	// one byte.
	steps map[int][]int32
}

// line is one line of a text without its break, as byte offsets. They are small, since a file may hold millions of them.
type line struct{ start, end int32 }

const stepWidth = 128

func newSource(file, text string, shift int) *source {
	s := &source{file: file, text: text, shift: shift, steps: map[int][]int32{}}
	start := 0
	for i := 0; i < len(text); i++ {
		if text[i] != '\n' && text[i] != '\r' {
			continue
		}
		s.addLine(start, i)
		if text[i] == '\r' && i+1 < len(text) && text[i+1] == '\n' {
			i++
		}
		start = i + 1
	}
	s.addLine(start, len(text))
	return s
}

func (s *source) addLine(start, end int) {
	part := s.text[start:end]
	if utf8.RuneCountInString(part) != len(part) {
		var steps []int32
		n := 0
		for i := range part {
			if n%stepWidth == 0 {
				steps = append(steps, int32(start+i))
			}
			n++
		}
		s.steps[len(s.lines)] = steps
	}
	s.lines = append(s.lines, line{int32(start), int32(end)})
}

// line is the text of a line, counted from 0.
func (s *source) line(i int) string { return s.text[s.lines[i].start:s.lines[i].end] }

// rest is what stands at a line and column, up to the end of the line.
func (s *source) rest(lineNumber, col int) string {
	if lineNumber < 1 || lineNumber > len(s.lines) || col < 1 {
		return ""
	}
	l := s.lines[lineNumber-1]
	at := int(l.start) + col - 1
	if steps := s.steps[lineNumber-1]; steps != nil {
		at = int(steps[min((col-1)/stepWidth, len(steps)-1)])
		for left := (col - 1) % stepWidth; left > 0 && at < int(l.end); left-- {
			_, size := utf8.DecodeRuneInString(s.text[at:])
			at += size
		}
	}
	if at >= int(l.end) {
		return ""
	}
	return s.text[at:l.end]
}

// at is the place of a line and column of the text, as the reader of the findings sees them.
func (s *source) at(lineNumber, col, width int) diag.Place {
	if lineNumber == 1 {
		col += s.shift
	}
	return diag.Place{File: s.file, Line: lineNumber, Col: col, Width: width}
}

// atOffset is the place of a byte of the text.
func (s *source) atOffset(offset int) diag.Place {
	n := 0
	for n+1 < len(s.lines) && int(s.lines[n+1].start) <= offset {
		n++
	}
	return s.at(n+1, utf8.RuneCountInString(s.text[s.lines[n].start:offset])+1, 1)
}

// place is where a node stands, after its anchor and tag.
func (s *source) place(n *node) diag.Place {
	rest := s.rest(int(n.line), int(n.column))
	value := skipProperties(n, rest)
	col := int(n.column)
	if value != "" {
		col += utf8.RuneCountInString(rest[:len(rest)-len(value)])
	} else {
		value = rest
	}
	return s.at(int(n.line), col, width(n, value))
}

// skipProperties drops a node's anchor (&name) and tag (!name) from the text in which it stands. It gives "" when the value
// stands on another line.
func skipProperties(n *node, text string) string {
	for isProperty(n, text) {
		end := strings.IndexAny(text, " \t")
		if end < 0 {
			return ""
		}
		text = strings.TrimLeft(text[end:], " \t")
	}
	return text
}

func isProperty(n *node, text string) bool {
	return n.anchor() != "" && strings.HasPrefix(text, "&"+n.anchor()) || n.style&yaml.TaggedStyle != 0 && strings.HasPrefix(text, "!")
}

// width counts the characters of a node that stands at the beginning of text, 0 if it does not end on that line.
func width(n *node, text string) int {
	if n.kind == aliasNode {
		return 1 + utf8.RuneCountInString(n.value)
	}
	if n.kind != scalarNode {
		return 0
	}
	switch {
	case n.style&yaml.DoubleQuotedStyle != 0:
		return quotedWidth(text, '"')
	case n.style&yaml.SingleQuotedStyle != 0:
		return quotedWidth(text, '\'')
	case strings.HasPrefix(text, n.value):
		return utf8.RuneCountInString(n.value)
	}
	return 0
}

// quotedWidth counts up to the closing quote. Single quotes are doubled inside, which the count need not know: the second pair
// simply goes on.
func quotedWidth(text string, quote byte) int {
	if text == "" || text[0] != quote {
		return 0
	}
	for i := 1; i < len(text); i++ {
		switch {
		case text[i] == '\\' && quote == '"':
			i++
		case text[i] == quote && quote == '\'' && strings.HasPrefix(text[i+1:], "'"):
			i++
		case text[i] == quote:
			return utf8.RuneCountInString(text[:i+1])
		}
	}
	return 0
}
