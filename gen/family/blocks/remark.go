package blocks

import (
	"bytes"
	"strings"

	"gridferry/gen/family/rules"
)

// remarks is how the comments of blocks that only print are written. Most texts
// need nothing but marks around them; the others go by way of Comment.Format.
type remarks struct {
	comment   *rules.Comment
	open, end string
	quote     string    // the mark that opens a quoted text; "" for none
	first     byte      // of the mark that opens
	longest   int       // bytes that surely fit in a line; 0 for any number
	stays     [256]bool // the characters that Comment.clean leaves as they are
}

func newRemarks(f *Blocks) *remarks {
	c := &f.Comment
	r := &remarks{comment: c, quote: f.Quotes.Open}
	for i := ' '; i <= '~'; i++ {
		r.stays[i] = f.Letters == nil || i == ' ' || f.Letters.Has(i)
	}
	for _, old := range c.Replace {
		r.stays[old.Old[0]] = false
	}
	if c.Form == rules.Marked {
		r.open, r.end = c.Marks()
		for _, mark := range []string{strings.TrimSpace(c.Open), strings.TrimSpace(c.Close), `\`} {
			if mark != "" {
				r.stays[mark[0]] = false
			}
		}
		r.first = strings.TrimSpace(c.Open)[0]
	}
	if f.LongestLine > 0 {
		r.longest = max(f.LongestLine-f.BlockNumbers.Width(), 1)
	}
	return r
}

// asIs reports whether a text stands in a comment as it is: it has only such
// characters, and one blank between words.
func (r *remarks) asIs(text []byte) bool {
	blank := true // before the first character
	for _, c := range text {
		if !r.stays[c] || blank && c == ' ' {
			return false
		}
		blank = c == ' '
	}
	return !blank
}

// canBegin reports whether a comment may begin behind a line.
func (r *remarks) canBegin(line []byte) bool {
	if r.comment.Form != rules.Marked || len(line) == 0 {
		return true
	}
	sure := bytes.IndexByte(line, r.first) < 0 && bytes.IndexByte(line, '"') < 0 && bytes.IndexByte(line, '\'') < 0 &&
		(r.quote == "" || bytes.IndexByte(line, r.quote[0]) < 0)
	return sure || r.comment.Inside(string(line)) == ""
}

// remark is a comment of values.
type remark struct {
	values  []value
	bounded bool // joined, to no more than so long
}

// print does what emitText does with the values, joined as joinComment does it.
func (s *remark) print(p *Printer, b []byte) ([]byte, bool) {
	r, before := p.remarks, len(b)
	line := p.lastLine(b)
	b = append(b, r.open...)
	start := len(b)
	b = appendJoined(b, s.values)
	text := b[start:]
	if _, err := p.tick(len(line)/64 + p.spelling(len(text))); err != nil || !r.canBegin(line) || s.bounded && len(text) > longestComment {
		return b, false
	}
	fits := r.longest == 0 || len(line)+len(b)-before+len(r.end) <= r.longest
	switch {
	case r.comment.Form == rules.None:
		return b[:before], true
	case fits && r.asIs(text):
		b = append(b, r.end...)
	default:
		b = append(b[:before], r.comment.Format(string(text), p.room(line))...)
	}
	if r.comment.Form == rules.Marked && r.comment.Close == "" && len(b) > before {
		p.ends = append(p.ends, len(b))
	}
	return b, true
}

// quotedText is a quoted text of values.
type quotedText struct{ values []value }

// print does what emitQuoted does with the values, joined and quoted.
func (s *quotedText) print(p *Printer, b []byte) ([]byte, bool) {
	line := p.lastLine(b)
	p.scratch = appendJoined(p.scratch[:0], s.values)
	const calls = 1 // as many ticks more as "quote" and emitQuoted take
	if _, err := p.tick(len(line)/64 + p.spelling(len(p.scratch)) + calls); err != nil || len(p.scratch) > longestComment || p.family.Comment.Inside(string(line)) != "" {
		return b, false
	}
	return append(b, p.family.Quote(string(p.scratch))...), true
}

// lastLine is the line that the text of a block ends in, searched from the one that
// was found last.
func (p *Printer) lastLine(b []byte) []byte {
	for {
		i := bytes.IndexByte(b[p.line:], '\n')
		if i < 0 {
			return b[p.line:]
		}
		p.line += i + 1
	}
}

// appendJoined does what joinComment does.
func appendJoined(b []byte, values []value) []byte {
	start := len(b)
	for i := range values {
		x, before := &values[i], len(b)
		if before > start {
			b = append(b, ' ')
		}
		from := len(b)
		if b = x.append(b); len(b) == from {
			b = b[:before]
			continue
		}
		if from > before && !x.free && isEnding(b[from]) {
			b = append(b[:before], b[from:]...)
		}
	}
	return b
}

// isEnding reports whether no blank stands before a sign.
func isEnding(c byte) bool {
	switch c {
	case ',', '.', ':', ';', ')':
		return true
	}
	return false
}
