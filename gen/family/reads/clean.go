package reads

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"gridferry/gen/family/rules"
)

// Cleaner takes off a line what no controller obeys: its comments, its number,
// blanks at its ends and, but in a text for people, blanks in a row.
type Cleaner struct {
	rules       *rules.Rules
	open, close []byte
	line        []byte
	room        room
	unclosed    [256]bool // marks that open a quotation which this line does not close
}

// NewCleaner returns the cleaner of programs by these rules.
func NewCleaner(r *rules.Rules) *Cleaner {
	c := &Cleaner{rules: r}
	if r.Comment.Form == rules.Marked {
		c.open, c.close = []byte(strings.TrimSpace(r.Comment.Open)), []byte(strings.TrimSpace(r.Comment.Close))
	}
	return c
}

// Clean gives what is left of a line. It is false for a line whose comment never
// ends, or in which another one begins: what follows could be anything.
func (c *Cleaner) Clean(line []byte) (text []byte, closed bool) {
	text, simple := c.uncommented(line)
	switch {
	case !simple || c.rules.Encoding == rules.Latin1 && !isASCII(line):
		return c.copied(line)
	case c.isClean(text):
		return c.withoutNumber(text), true
	}
	c.line = singleBlanks(append(c.line[:0], text...))
	return c.withoutNumber(c.room.keep(c.line)), true
}

// plainly is a line without a comment at its end, its number and blanks at its ends;
// false for a line of which that is not certain. Blanks in a row are left.
func (c *Cleaner) plainly(line []byte) ([]byte, bool) {
	text, simple := c.uncommented(line)
	return c.withoutNumber(text), simple && c.rules.Encoding != rules.Latin1
}

// uncommented is a line without a comment at its end and blanks at its ends; false
// for a line with comments of another sort, or quotes that could hold a mark. It
// spares the usual line being copied, and so does isClean: 1.24 times the work in
// structured text, where every line ends in a comment.
func (c *Cleaner) uncommented(line []byte) ([]byte, bool) {
	if len(c.open) == 0 {
		return bytes.TrimSpace(line), true
	}
	at := bytes.Index(line, c.open)
	if at < 0 {
		return bytes.TrimSpace(line), true
	}
	// A mark may be a quote itself.
	quotes := line[:at+1]
	if bytes.IndexByte(quotes, '"') >= 0 || bytes.IndexByte(quotes, '\'') >= 0 || c.rules.Quotes.Has() && bytes.IndexByte(quotes, c.rules.Quotes.Open[0]) >= 0 {
		return nil, false
	}
	if len(c.close) > 0 {
		inside := line[at+len(c.open):]
		end := bytes.Index(inside, c.close)
		if end < 0 || len(bytes.TrimSpace(inside[end+len(c.close):])) > 0 || bytes.Contains(inside[:end], c.open) {
			return nil, false
		}
	}
	text := bytes.TrimSpace(line[:at])
	return text, !c.standsAlone(text)
}

// standsAlone reports whether a text is a line that the family neither numbers nor writes
// a comment to.
func (c *Cleaner) standsAlone(text []byte) bool {
	return c.rules.BlockNumbers.Unnumbered[string(text)]
}

// isClean reports whether a text without comments is as copied leaves it.
func (c *Cleaner) isClean(text []byte) bool {
	return c.rules.Comment.Form == rules.Plain || !bytes.Contains(text, twoBlanks) && bytes.IndexByte(text, '\t') < 0
}

func isASCII(text []byte) bool {
	for i := range len(text) {
		if text[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// copied is clean for any line.
func (c *Cleaner) copied(line []byte) ([]byte, bool) {
	c.line = c.line[:0]
	closed := true
	if len(c.open) == 0 {
		c.line = append(c.line, line...)
	} else {
		closed = c.withoutComments(line)
		if len(c.line) < len(line) && c.standsAlone(bytes.TrimSpace(c.line)) {
			return c.room.keep(line), closed
		}
	}
	if c.rules.Encoding == rules.Latin1 {
		c.line = fromLatin1(c.line)
	}
	if c.rules.Comment.Form != rules.Plain {
		c.line = singleBlanks(c.line)
	}
	text := c.room.keep(bytes.TrimSpace(c.line))
	if len(c.open) > 0 && bytes.HasPrefix(bytes.TrimSpace(line), c.open) {
		return text, closed // a number behind a comment is none: it has to stand first
	}
	return c.withoutNumber(text), closed
}

// room keeps texts many at a time.
type room struct{ kept []byte }

const roomSize = 1 << 14

func (r *room) keep(text []byte) []byte {
	if len(text) > cap(r.kept)-len(r.kept) {
		r.kept = make([]byte, 0, max(roomSize, len(text)))
	}
	from := len(r.kept)
	r.kept = append(r.kept, text...)
	return r.kept[from:len(r.kept):len(r.kept)]
}

var twoBlanks = []byte("  ")

// withoutComments copies a line; every comment becomes a blank.
func (c *Cleaner) withoutComments(line []byte) bool {
	clear(c.unclosed[:])
	for len(line) > 0 {
		switch at := c.quoted(line); {
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
			if end < 0 || bytes.Contains(rest[:end], c.open) { // a comment that begins in another one ends nobody knows where
				c.line = append(c.line, line...)
				return false
			}
			c.line = append(c.line, ' ')
			line = rest[end+len(c.close):]
		}
	}
	return true
}

// quoted is the length of the quotation that a line begins with: a mark in quotes begins
// no comment.
func (c *Cleaner) quoted(line []byte) int {
	if !c.rules.Quotes.Opens(line[0]) || c.unclosed[line[0]] {
		return 0
	}
	length := c.rules.Quotes.Length(line)
	// What is not closed from here to the end of the line is not closed from any place
	// behind it, but for a mark that is doubled: there the second one of two may close.
	q := &c.rules.Quotes
	c.unclosed[line[0]] = length == 0 && !(q.Has() && line[0] == q.Open[0] && q.Open == q.Close)
	return length
}

// withoutNumber takes the block number off.
func (c *Cleaner) withoutNumber(line []byte) []byte {
	numbers := &c.rules.BlockNumbers
	if !numbers.On() || !beginsWith(line, numbers.Prefix) {
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
