package reads

import (
	"bytes"

	"gridferry/gen/move"
)

// Piece is lines of a program that are read ahead of their turn: what each of them
// says by its words and the section that it is guessed to stand in. The rest, which
// depends on the lines before, is left to a Reader.
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
	point  string
	entry  *Entry
	has    FieldSet
	means  Means
	kind   move.Kind
	open   bool
}

// Ahead reads pieces of a reader's program on a goroutine of its own.
type Ahead struct {
	reader *Reader
	parser *parser
	item   Item
}

// NewAhead returns one more reader of pieces.
func (r *Reader) NewAhead() *Ahead {
	return &Ahead{reader: r, parser: newParser(r.parser.reads, r.job)}
}

var lineFeed = []byte("\n")

// Read reads a piece. Which section it begins in is not known yet; mostly it is the
// one that the reader is in now, where a program is one long table or has none.
func (a *Ahead) Read(p *Piece) {
	p.guess, p.lines, p.numbers = "", p.lines[:0], p.numbers[:0]
	if at := a.reader.published.Load(); at != nil {
		p.guess = *at
	}
	if !bytes.HasSuffix(p.Text, lineFeed) {
		return // the reader reads it
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
func (p *Piece) add(item *Item, e *Entry) {
	p.lines = append(p.lines, parsed{item.Text, item.Target, item.Point, e, item.Has, item.Means, item.Kind, item.Open})
	for rest := item.Has; rest != 0; rest &= rest - 1 {
		p.numbers = append(p.numbers, item.Number[rest.First()])
	}
}

// Take reads the next piece of the program. What was read ahead counts only if the
// piece begins where it was guessed to; otherwise it is read again.
func (r *Reader) Take(p *Piece) {
	if begun := len(r.line) > 0 || r.ended; begun || len(p.lines) == 0 || p.guess != r.section {
		_, _ = r.Write(p.Text) // it holds no error
	} else {
		r.takePiece(p)
	}
	r.publish()
}

// publish lets readers of pieces know which section the program is in.
func (r *Reader) publish() {
	if at := r.published.Load(); at == nil || *at != r.section {
		section := r.section
		r.published.Store(&section)
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
		r.item.Has, r.item.Target, r.item.Point = l.has, l.target, l.point
		for rest := l.has; rest != 0; rest &= rest - 1 {
			r.item.Number[rest.First()], numbers = numbers[0], numbers[1:]
		}
		if l.entry != nil {
			r.item.When = l.entry.When
			r.mean(l.entry, &r.item)
		}
		r.each(&r.item)
	}
}
