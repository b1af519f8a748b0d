package readback

import (
	"bytes"
	"slices"
	"strings"

	"gridferry/gen/family"
	"gridferry/gen/move"
)

// Reader takes program text as a writer does and hands on an item for every
// line that is not blank. It holds one line at a time.
type Reader struct {
	reads   *family.Reads
	cleaner *cleaner
	values  *valuer
	each    func(*Item)

	line    []byte // so far
	ended   bool   // the last byte was a carriage return, which a line feed may follow
	number  int
	section string
	rows    [2]int // entries of the tables of frames and tools so far
	groups  []string
	at      []int // where the groups of the present line are
	item    Item  // of the present line; whoever is handed it copies what has to last
	memory  memory
}

// NewReader returns a reader of programs that the family wrote for a job.
func NewReader(f *family.Family, job move.Job, each func(*Item)) *Reader {
	return &Reader{reads: &f.Reads, cleaner: newCleaner(&f.Rules), values: newValuer(f, job), each: each}
}

// longestLine bounds what is held of a line that does not end, in bytes. What
// is longer fits no entry.
const longestLine = 1 << 16

// Write reads the lines that end in p. CR, LF and both together end a line.
func (r *Reader) Write(p []byte) (int, error) {
	n := len(p)
	for len(p) > 0 {
		end := bytes.IndexAny(p, "\r\n")
		if end < 0 {
			r.hold(p)
			r.ended = false
			break
		}
		if p[end] == '\n' && end == 0 && r.ended {
			r.ended = false
		} else {
			r.hold(p[:end])
			r.take()
			r.ended = p[end] == '\r'
		}
		p = p[end+1:]
	}
	return n, nil
}

func (r *Reader) hold(p []byte) {
	if room := longestLine - len(r.line); len(p) > room {
		p = p[:room]
	}
	r.line = append(r.line, p...)
}

// Close reads the last line, where nothing ends it.
func (r *Reader) Close() error {
	if len(r.line) > 0 {
		r.take()
	}
	return nil
}

// take reads the line that is held.
func (r *Reader) take() {
	r.number++
	text, closed := r.cleaner.clean(r.line)
	r.line = r.line[:0]
	if len(text) == 0 {
		return
	}
	r.item = Item{Line: r.number, Text: string(text), Open: !closed}
	if closed && len(text) < longestLine {
		r.read(&r.item)
	}
	r.each(&r.item)
}

// read finds the first entry that fits and what it makes of the line.
// Where a family has none, every line is text.
func (r *Reader) read(item *Item) {
	if !r.reads.Has() {
		item.Means = family.MeansText
		return
	}
	if known := r.memory.of(r.section, item.Text); known.entry != nil {
		item.Kind, item.Values = known.kind, known.values
		r.mean(known.entry, item)
		return
	}
	for i := range r.reads.Entries {
		e := &r.reads.Entries[i]
		if e.Within != "" && e.Within != r.section || !r.fits(e, item) {
			continue
		}
		r.memory.keep(r.section, e, item)
		r.mean(e, item)
		return
	}
}

// mean does what an entry that fits a line says.
func (r *Reader) mean(e *family.Reading, item *Item) {
	item.Means, item.When = e.Means, e.When
	if e.Means == family.MeansFrame || e.Means == family.MeansTool {
		r.count(item)
	}
	if e.Then != "" || e.Leaves {
		r.section = e.Then
	}
}

// count gives an entry of a table its number where the line does not tell it.
func (r *Reader) count(item *Item) {
	seen := &r.rows[item.Means-family.MeansFrame]
	*seen++
	if !item.Has.Has(family.ReadNumber) {
		item.set(family.ReadNumber, float64(*seen))
	}
}

// fits tells whether the entry fits the line, and keeps the values if it does.
func (r *Reader) fits(e *family.Reading, item *Item) bool {
	var values Values
	if e.Line != nil && !r.pattern(e, item.Text, &values) || e.Line == nil && !r.row(e, item.Text, &values) {
		return false
	}
	for _, g := range e.Gives {
		if !r.values.put(&values, g.Field, g.Text, e.Means) {
			return false
		}
	}
	kind := e.Kind
	if e.Kinds != nil {
		known := false
		if kind, known = e.Kinds[values.Number[family.ReadKind]]; !known {
			return false
		}
	}
	item.Kind, item.Values = kind, values
	return true
}

// pattern reads the groups of a pattern.
func (r *Reader) pattern(e *family.Reading, text string, to *Values) bool {
	if !strings.HasPrefix(text, e.Prefix) {
		return false
	}
	if len(e.Groups) == 1 {
		return e.Line.MatchString(text)
	}
	at := e.Find(text, r.at[:0])
	if at == nil {
		return false
	}
	r.at = at
	for i, f := range e.Groups {
		if f != family.NoField && at[2*i] >= 0 && !r.values.put(to, f, text[at[2*i]:at[2*i+1]], e.Means) {
			return false
		}
	}
	return true
}

// row reads columns between commas; one comma more may stand at either end.
func (r *Reader) row(e *family.Reading, text string, to *Values) bool {
	r.groups = append(r.groups[:0], strings.Split(strings.Trim(text, ", "), ",")...)
	if len(r.groups) != len(e.Row) {
		return false
	}
	for i, f := range e.Row {
		if !r.values.put(to, f, strings.TrimSpace(r.groups[i]), e.Means) {
			return false
		}
	}
	return !slices.Contains(r.groups, "")
}
