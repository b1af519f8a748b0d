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
	begin   [256][]*Entry // the entries that a line can fit, by its first byte; nil until one is met
}

func newParser(from *Reads, job move.Job) *parser {
	return &parser{reads: from, cleaner: NewCleaner(from.Rules), values: newValuer(from.Rules, job)}
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
	if e := p.parsePlainly(line, section, item); e != nil {
		return e
	}
	text, closed := p.cleaner.Clean(line)
	if len(text) == 0 {
		return nil
	}
	item.Text, item.Open = text, !closed
	if !closed || len(text) >= longestLine {
		return nil
	}
	if !p.reads.Has() {
		item.Means = MeansText // where a family has no entries, every line is text
		return nil
	}
	e := p.entry(section, item)
	if e != nil {
		item.Means, item.When = e.Means, e.When
	}
	return e
}

// parsePlainly spares the usual line the search for blanks in a row: one that fits a
// pattern which has none is clean. It gives up at the first entry that leaves a doubt.
func (p *parser) parsePlainly(line []byte, section string, item *Item) *Entry {
	text, plain := p.cleaner.plainly(line)
	if !plain || len(text) == 0 || len(text) >= longestLine {
		return nil
	}
	for _, e := range p.beginning(text[0]) {
		if e.Within != "" && e.Within != section {
			continue
		}
		if !e.SingleBlanks() {
			break
		}
		if item.Text = text; p.fits(e, item) {
			item.Means, item.When = e.Means, e.When
			return e
		}
	}
	item.Text = nil
	return nil
}

// entry finds the first entry that fits and what it makes of the line.
func (p *parser) entry(section string, item *Item) *Entry {
	for _, e := range p.beginning(item.Text[0]) {
		if e.Within != "" && e.Within != section {
			continue
		}
		if !e.IsQuick() && !e.lead.leads(item.Text) {
			continue
		}
		if p.fits(e, item) {
			return e
		}
	}
	return nil
}

// fits reports whether the entry fits the line, and keeps the values if it does.
func (p *parser) fits(e *Entry, item *Item) bool {
	fits := false
	if e.Line != nil {
		fits = p.pattern(e, item.Text, &item.Values)
	} else {
		fits = p.row(e, item.Text, &item.Values)
	}
	if fits = fits && p.given(e, item); !fits && item.Has != 0 {
		item.Values = Values{} // of the fields that did fit
	}
	return fits
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

// pattern reads the fields of a pattern.
func (p *parser) pattern(e *Entry, text []byte, to *Values) bool {
	found, fits := e.find(text, p.found[:0], &p.met)
	p.found = found
	if !fits {
		return false
	}
	for i := range found {
		if !p.values.putFound(to, text, &found[i], e.Means) {
			return false
		}
	}
	return true
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

// row reads columns; one mark more may stand at either end.
func (p *parser) row(e *Entry, text []byte, to *Values) bool {
	rest, between := e.columns(text)
	for i, f := range e.Row {
		column, behind, more := bytes.Cut(rest, between)
		if last := i == len(e.Row)-1; len(column) == 0 || more == last {
			return false
		}
		if !p.values.put(to, f, bytes.TrimSpace(column), e.Means) {
			return false
		}
		rest = behind
	}
	return len(e.Row) > 0
}
