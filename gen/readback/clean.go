package readback

import (
	"bytes"
	"unicode/utf8"

	"gridferry/gen/family"
)

// cleaner takes off a line what no controller obeys: its comments, its number,
// blanks at its ends and, but in a text for people, blanks in a row.
type cleaner struct {
	rules       *family.Rules
	open, close []byte
	line        []byte
}

func newCleaner(rules *family.Rules) *cleaner {
	c := &cleaner{rules: rules}
	if rules.Comment.Form == family.Marked {
		c.open = bytes.TrimSpace([]byte(rules.Comment.Open))
		c.close = bytes.TrimSpace([]byte(rules.Comment.Close))
	}
	return c
}

// clean gives what is left of a line; it holds until the next call. It is false
// for a line whose comment never ends: what follows could be anything.
func (c *cleaner) clean(line []byte) ([]byte, bool) {
	c.line = c.line[:0]
	closed := true
	if len(c.open) == 0 {
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
	return c.withoutNumber(bytes.TrimSpace(c.line)), closed
}

// withoutComments copies a line; every comment becomes a blank.
func (c *cleaner) withoutComments(line []byte) bool {
	for len(line) > 0 {
		switch at := quoted(line); {
		case at > 0:
			c.line = append(c.line, line[:at]...)
			line = line[at:]
		case !bytes.HasPrefix(line, c.open):
			c.line = append(c.line, line[0])
			line = line[1:]
		case len(c.close) == 0:
			return true
		default:
			rest := line[len(c.open):]
			end := bytes.Index(rest, c.close)
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
func quoted(line []byte) int {
	if line[0] != '"' && line[0] != '\'' {
		return 0
	}
	if end := bytes.IndexByte(line[1:], line[0]); end >= 0 {
		return end + 2
	}
	return 0
}

// withoutNumber takes the block number off.
func (c *cleaner) withoutNumber(line []byte) []byte {
	numbers := &c.rules.BlockNumbers
	if !numbers.On() || !bytes.HasPrefix(line, []byte(numbers.Prefix)) {
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
	return bytes.TrimLeft(rest[digits:], " ")
}

// singleBlanks makes one blank of every run of blanks and tabs, in place.
func singleBlanks(line []byte) []byte {
	out := line[:0]
	for _, c := range line {
		if c == '\t' {
			c = ' '
		}
		if c != ' ' || len(out) > 0 && out[len(out)-1] != ' ' {
			out = append(out, c)
		}
	}
	return out
}

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
