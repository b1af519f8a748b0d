package readback

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"gridferry/gen/family"
)

// cleaner takes off a line what no controller obeys: its comments, its number,
// blanks at its ends and, but in a text for people, blanks in a row.
type cleaner struct {
	rules       *family.Rules
	open, close string
	line        []byte
	room        room
}

func newCleaner(rules *family.Rules) *cleaner {
	c := &cleaner{rules: rules}
	if rules.Comment.Form == family.Marked {
		c.open, c.close = strings.TrimSpace(rules.Comment.Open), strings.TrimSpace(rules.Comment.Close)
	}
	return c
}

// clean gives what is left of a line. It is false for a line whose comment never
// ends: what follows could be anything.
func (c *cleaner) clean(line string) (text string, closed bool) {
	text, simple := c.uncommented(line)
	switch {
	case !simple || c.rules.Encoding == family.Latin1 && !isASCII(line):
		return c.copied(line)
	case c.isClean(text):
		return c.withoutNumber(text), true
	}
	c.line = singleBlanks(append(c.line[:0], text...))
	return c.withoutNumber(c.room.keep(c.line)), true
}

// plainly is a line without a comment at its end, its number and blanks at its ends;
// false for a line that cannot be told so. Blanks in a row are left.
func (c *cleaner) plainly(line string) (string, bool) {
	text, simple := c.uncommented(line)
	return c.withoutNumber(text), simple && c.rules.Encoding != family.Latin1
}

// uncommented is a line without a comment at its end and blanks at its ends; false
// for a line with comments of another sort, or quotes that could hold a mark. It
// spares the usual line being copied, and so does isClean.
func (c *cleaner) uncommented(line string) (string, bool) {
	if c.open == "" {
		return strings.TrimSpace(line), true
	}
	at := strings.Index(line, c.open)
	if at < 0 {
		return strings.TrimSpace(line), true
	}
	// A mark may be a quote itself.
	if quotes := line[:at+1]; strings.IndexByte(quotes, '"') >= 0 || strings.IndexByte(quotes, '\'') >= 0 {
		return "", false
	}
	if c.close != "" {
		inside := line[at+len(c.open):]
		end := strings.Index(inside, c.close)
		if end < 0 || strings.TrimSpace(inside[end+len(c.close):]) != "" {
			return "", false
		}
	}
	return strings.TrimSpace(line[:at]), true
}

// isClean tells whether a text without comments is as copied leaves it.
func (c *cleaner) isClean(text string) bool {
	return c.rules.Comment.Form == family.Plain || !strings.Contains(text, "  ") && strings.IndexByte(text, '\t') < 0
}

func isASCII(text string) bool {
	for i := range len(text) {
		if text[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// copied is clean for any line.
func (c *cleaner) copied(line string) (string, bool) {
	c.line = c.line[:0]
	closed := true
	if c.open == "" {
		c.line = append(c.line, line...)
	} else {
		closed = c.withoutComments(line)
	}
	if c.rules.Encoding == family.Latin1 {
		c.line = fromLatin1(c.line)
	}
	if c.rules.Comment.Form != family.Plain {
		c.line = singleBlanks(c.line)
	}
	return c.withoutNumber(c.room.keep(bytes.TrimSpace(c.line))), closed
}

// room keeps texts many at a time.
type room struct{ kept strings.Builder }

const roomSize = 1 << 14

func (r *room) keep(text []byte) string {
	if len(text) > r.kept.Cap()-r.kept.Len() {
		r.kept = strings.Builder{}
		r.kept.Grow(max(roomSize, len(text)))
	}
	from := r.kept.Len()
	r.kept.Write(text)
	return r.kept.String()[from:]
}

// withoutComments copies a line; every comment becomes a blank.
func (c *cleaner) withoutComments(line string) bool {
	for len(line) > 0 {
		switch at := quoted(line); {
		case at > 0:
			c.line = append(c.line, line[:at]...)
			line = line[at:]
		case !strings.HasPrefix(line, c.open):
			c.line = append(c.line, line[0])
			line = line[1:]
		case len(c.close) == 0:
			return true
		default:
			rest := line[len(c.open):]
			end := strings.Index(rest, c.close)
			if end < 0 {
				c.line = append(c.line, line...)
				return false
			}
			c.line = append(c.line, ' ')
			line = rest[end+len(c.close):]
		}
	}
	return true
}

// quoted is the length of the quotation that a line begins with: a mark in
// quotes begins no comment.
func quoted(line string) int {
	if line[0] != '"' && line[0] != '\'' {
		return 0
	}
	if end := strings.IndexByte(line[1:], line[0]); end >= 0 {
		return end + 2
	}
	return 0
}

// withoutNumber takes the block number off.
func (c *cleaner) withoutNumber(line string) string {
	numbers := &c.rules.BlockNumbers
	if !numbers.On() || !strings.HasPrefix(line, numbers.Prefix) {
		return line
	}
	rest := line[len(numbers.Prefix):]
	digits := 0
	for digits < len(rest) && '0' <= rest[digits] && rest[digits] <= '9' {
		digits++
	}
	if digits == 0 || numbers.Prefix == "" && digits < len(rest) && rest[digits] != ' ' {
		return line
	}
	return strings.TrimLeft(rest[digits:], " ")
}

// singleBlanks makes one blank of every run of blanks and tabs, in place, and none at
// the beginning. What is no blank is counted and not asked for: columns have so many
// of both that a processor could not guess.
func singleBlanks(line []byte) []byte {
	n, before := 0, 1
	for _, c := range line {
		if c == '\t' {
			c = ' '
		}
		line[n] = c
		n += 1 - blank[c]&before
		before = blank[c]
	}
	return line[:n]
}

var blank = [256]int{' ': 1}

// fromLatin1 makes UTF-8 of ISO 8859-1, where every byte is a character.
func fromLatin1(line []byte) []byte {
	var out []byte
	for i, c := range line {
		if c >= utf8.RuneSelf && out == nil {
			out = append(out, line[:i]...)
		}
		if out != nil {
			out = utf8.AppendRune(out, rune(c))
		}
	}
	if out == nil {
		return line
	}
	return out
}
