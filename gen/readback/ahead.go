package readback

import (
	"bytes"

	"gridferry/gen/family/reads"
	"gridferry/gen/move"
)

// Piece is lines of a program that are read ahead of their turn: what each of them
// says by its words and the section that it is guessed to stand in. The rest, which
// depends on the lines before, is left to a Checker.
type Piece struct {
	Text []byte // read ahead only where its last line ends in a line feed

	guess   string // the section that it begins in
	lines   []parsed
	numbers []float64 // of the fields that the lines have, in their order
}

// parsed is an item with its numbers elsewhere, so that a piece stays small.
type parsed struct {
	text   []byte
	target string
	entry  *reads.Entry
	has    reads.FieldSet
	means  reads.Means
	kind   move.Kind
	open   bool
}

// Ahead reads pieces of a checker's program on a goroutine of its own.
type Ahead struct {
	checker *Checker
	parser  *parser
	item    Item
}

// NewAhead returns one more reader of pieces.
func (c *Checker) NewAhead() *Ahead {
	return &Ahead{checker: c, parser: newParser(c.family, *c.job)}
}

var lineFeed = []byte("\n")

// Read reads a piece. Which section it begins in is not known yet; mostly it is the
// one that the checker is in now, where a program is one long table or has none.
func (a *Ahead) Read(p *Piece) {
	p.guess, p.lines, p.numbers = "", p.lines[:0], p.numbers[:0]
	if at := a.checker.section.Load(); at != nil {
		p.guess = *at
	}
	if !bytes.HasSuffix(p.Text, lineFeed) {
		return // the checker reads it
	}
	section := p.guess
	lines := endsOf(p.Text)
	for from := 0; from < len(p.Text); {
		end := lines.after(from)
		a.item = Item{}
		e := a.parser.parse(p.Text[from:min(end, from+longestLine)], section, &a.item)
		if e != nil {
			section = e.Behind(section)
		}
		p.add(&a.item, e)
		from = lines.behind(end)
	}
}

// add keeps what a line says.
func (p *Piece) add(item *Item, e *reads.Entry) {
	p.lines = append(p.lines, parsed{item.Text, item.Target, e, item.Has, item.Means, item.Kind, item.Open})
	for rest := item.Has; rest != 0; rest &= rest - 1 {
		p.numbers = append(p.numbers, item.Number[first(rest)])
	}
}

// Take compares the next piece of the program. What was read ahead counts only if the
// piece begins where it was guessed to; otherwise it is read again.
func (c *Checker) Take(p *Piece) {
	r := c.reader
	if begun := len(r.line) > 0 || r.ended; begun || len(p.lines) == 0 || p.guess != r.section {
		_, _ = r.Write(p.Text) // it holds no error
	} else {
		r.takePiece(p)
	}
	c.tell()
}

// tell lets readers of pieces know which section the program is in.
func (c *Checker) tell() {
	if at := c.section.Load(); at == nil || *at != c.reader.section {
		section := c.reader.section
		c.section.Store(&section)
	}
}

// takePiece is take for every line of a piece.
func (r *Reader) takePiece(p *Piece) {
	numbers := p.numbers
	for i := range p.lines {
		l := &p.lines[i]
		if r.number++; len(l.text) == 0 {
			continue
		}
		r.item = Item{Line: r.number, Text: l.text, Means: l.means, Kind: l.kind, Open: l.open}
		r.item.Has, r.item.Target = l.has, l.target
		for rest := l.has; rest != 0; rest &= rest - 1 {
			r.item.Number[first(rest)], numbers = numbers[0], numbers[1:]
		}
		if l.entry != nil {
			r.item.When = l.entry.When
			r.mean(l.entry, &r.item)
		}
		r.each(&r.item)
	}
}
