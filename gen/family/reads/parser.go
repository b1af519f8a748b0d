package reads

import (
	"bytes"

	"gridferry/gen/move"
)

// parser finds what a line says, which depends on nothing but its words and the
// section that it stands in.
type parser struct {
	reads   *Reads
	cleaner *Cleaner
	values  *valuer
	found   []Found
	met     tails
	says    Values        // of an end that was not met before
	begin   [256][]*Entry // the entries that a line can fit, by its first byte; nil until one is met
}

func newParser(from *Reads, job move.Job) *parser {
	p := &parser{reads: from, cleaner: NewCleaner(from.Rules), values: newValuer(from.Rules, job)}
	p.values.frames.learned, p.values.tools.learned = p.met.forget, p.met.forget
	return p
}

// beginning is the entries that a line that begins with a byte can fit.
func (p *parser) beginning(c byte) []*Entry {
	if p.begin[c] == nil {
		p.begin[c] = []*Entry{}
		for i := range p.reads.Entries {
			if e := &p.reads.Entries[i]; e.CanBegin(c) {
				p.begin[c] = append(p.begin[c], e)
			}
		}
	}
	return p.begin[c]
}

// parse fills in what a line says and gives the entry that it fits, nil for none. The
// item of a blank line has no text.
func (p *parser) parse(line []byte, section string, item *Item) *Entry {
	text, plain := p.cleaner.plainly(line)
	if plain {
		if e, certain := p.entry(text, section, item, false); certain {
			return e
		}
	}
	text, closed := p.cleaner.Clean(line)
	if item.Open = !closed; !closed || len(text) >= longestLine {
		item.Text = text
		return nil
	}
	e, _ := p.entry(text, section, item, true)
	return e
}

// entry finds the first entry that fits and what it makes of the line. It is not certain where blanks in a row or tabs, of
// which a text that is not clean may have some, make a difference. A pattern that has none spares the usual line the search for them.
func (p *parser) entry(text []byte, section string, item *Item, clean bool) (found *Entry, certain bool) {
	if item.Text = text; len(text) == 0 || len(text) >= longestLine {
		return nil, len(text) == 0
	}
	for _, e := range p.beginning(text[0]) {
		if e.Within != "" && e.Within != section {
			continue
		}
		if !clean && !e.SingleBlanks() {
			if clean = p.cleaner.isClean(text); !clean {
				return nil, false
			}
		}
		if !e.IsQuick() && !e.lead.leads(text) {
			continue
		}
		if p.fits(e, item) {
			item.Means, item.When = e.Means, e.When
			return e, true
		}
	}
	if !p.reads.Has() {
		item.Means = MeansText // where a family has no entries, every line is text
	}
	return nil, clean || p.cleaner.isClean(text)
}

// fits reports whether the entry fits the line, and keeps the values if it does.
func (p *parser) fits(e *Entry, item *Item) bool {
	found, fits := e.find(item.Text, p.found[:0], &p.met)
	p.found = found
	if !fits {
		return false
	}
	before, end := len(found), p.met.end
	if end != nil {
		before = p.met.before
	}
	fits = p.put(e, item.Text, found[:before], &item.Values)
	if fits && end != nil {
		if fits = p.met.known || p.learn(e, item.Text, found[before:]); fits {
			end.put(&item.Values)
		}
	}
	if fits = fits && p.given(e, item); !fits {
		item.Values = Values{} // of the fields that did fit
	}
	return fits
}

// learn keeps what the fields say that were found in the end of a line.
func (p *parser) learn(e *Entry, text []byte, found []Found) bool {
	p.says = Values{}
	if !p.put(e, text, found, &p.says) {
		return false
	}
	p.met.keep(&p.says)
	return true
}

func (p *parser) put(e *Entry, text []byte, found []Found, to *Values) bool {
	for i := range found {
		if !p.values.putFound(to, text, &found[i], e.Means) {
			return false
		}
	}
	return true
}

// given adds what the entry says without the line's words: fields and the kind.
func (p *parser) given(e *Entry, item *Item) bool {
	for i := range e.Gives {
		g := &e.Gives[i]
		if !p.values.putFound(&item.Values, []byte(g.Text), &g.Found, e.Means) {
			return false
		}
	}
	kind, known := e.KindOf(item.Number[Kind])
	item.Kind = kind
	return known
}

var (
	comma     = []byte(",")
	semicolon = []byte(";")
)

// columns is a row without the mark that may stand at its ends, and the mark between columns.
func (e *Entry) columns(text []byte) (columns, between []byte) {
	if e.comma {
		return bytes.Trim(text, "; "), semicolon
	}
	return bytes.Trim(text, ", "), comma
}

// findColumns is find for a row; one mark more may stand at either end. A line whose kind the row does not have is known at once.
func (e *Entry) findColumns(text []byte, found []Found, met *tails, steady int) ([]Found, bool) {
	rest, between := e.columns(text)
	at := bytes.Index(text, rest)
	var end *tail
	var from, before int
	for i, f := range e.Row {
		if i == steady && met != nil {
			if end = met.place(rest); met.has(end, rest) {
				met.hit(end, len(found))
				return found, true
			}
			from, before = at, len(found)
		}
		column, behind, more := bytes.Cut(rest, between)
		inside := bytes.TrimSpace(column)
		if last := i == len(e.Row)-1; len(column) == 0 || more == last || f == Kind && !e.mayBe(inside) {
			return found, false
		}
		if f != NoField {
			begin := at
			if len(inside) > 0 {
				begin += cap(column) - cap(inside) // the blanks that were taken off before it
			}
			found = append(found, Found{Field: f, From: begin, To: begin + len(inside)})
		}
		rest, at = behind, at+len(column)+len(between)
	}
	if end != nil {
		met.miss(end, text[from:at-len(between)], before)
	}
	return found, len(e.Row) > 0
}

// mayBe reports whether a line with that in its column "kind" can be of a row's kinds.
func (e *Entry) mayBe(kind []byte) bool {
	mark := byte('.')
	if e.comma {
		mark = ','
	}
	number, n := Decimal(kind, mark)
	if n < len(kind) {
		return true // it is written otherwise
	}
	_, known := e.KindOf(number)
	return known
}
