package reads

import (
	"fmt"
	"sync/atomic"

	"gridferry/gen/move"
)

// Reader takes program text as a writer does and hands on an item for every
// line that is not blank. It holds one line at a time.
type Reader struct {
	parser *parser
	each   func(*Item)

	line    []byte // what was there so far of one that did not end
	ended   bool   // the last byte was a carriage return, which a line feed may follow
	number  int
	section string
	rows    [3]int // entries of the tables of frames, tools and points so far
	points  points
	rests   bool // the rest of every move's line is wanted
	item    Item // of the present line; whoever is handed it copies what has to last

	job       move.Job
	published atomic.Pointer[string] // the section that the program is in, for those who read ahead
}

// NewReader returns a reader of programs that the family wrote for a job.
func NewReader(from *Reads, job move.Job, each func(*Item)) *Reader {
	return &Reader{parser: newParser(from, job), each: each, job: job}
}

// NewFilledReader is NewReader that also fills in what lines leave out, with the
// values that hold from the lines before.
func NewFilledReader(from *Reads, job move.Job, each func(*Item)) *Reader {
	modal := NewModal(from)
	return NewReader(from, job, func(item *Item) {
		modal.Complete(item)
		each(item)
	})
}

// WithRests has the reader keep the rest of every move's line.
func (r *Reader) WithRests() *Reader {
	r.rests = true
	return r
}

// longestLine bounds what is held of a line that does not end, in bytes. What
// is longer fits no entry.
const longestLine = 1 << 16

// Write reads the lines that end in text. CR, LF and both together end a line.
func (r *Reader) Write(text []byte) (int, error) {
	if len(text) == 0 {
		return 0, nil
	}
	lines, from := endsOf(text), 0
	if r.ended && text[0] == '\n' {
		from = 1
	}
	for from < len(text) {
		end := lines.after(from)
		if end == len(text) {
			r.hold(text[from:])
			break
		}
		r.take(r.whole(text[from:end]))
		from = lines.behind(end)
	}
	r.ended = text[len(text)-1] == '\r'
	return len(text), nil
}

func (r *Reader) hold(text []byte) {
	r.line = append(r.line, text[:min(len(text), longestLine-len(r.line))]...)
}

// whole is a line with what is held of it, which ends there. It holds until more of
// the next one is held.
func (r *Reader) whole(text []byte) []byte {
	if len(r.line) == 0 {
		return text[:min(len(text), longestLine)]
	}
	r.hold(text)
	line := r.line
	r.line = r.line[:0]
	return line
}

// Close reads the last line, where nothing ends it.
func (r *Reader) Close() error {
	if len(r.line) > 0 {
		r.take(r.whole(nil))
	}
	return nil
}

// NextFile is for what follows being another of the program's files.
func (r *Reader) NextFile() {
	r.Close()
	r.section = ""
	r.publish()
}

// take reads a line.
func (r *Reader) take(line []byte) {
	r.number++
	r.item = Item{Line: r.number}
	e := r.parser.parse(line, r.section, &r.item)
	if len(r.item.Text) == 0 {
		return
	}
	if e != nil {
		if r.rests && r.item.IsMove() {
			r.item.Rest = e.restOf(r.item.Text)
		}
		r.mean(e, &r.item)
	}
	r.each(&r.item)
}

// mean does what an entry that fits a line says.
func (r *Reader) mean(e *Entry, item *Item) {
	switch {
	case item.IsEntry():
		r.count(item)
	case item.Means == MeansPoint:
		r.count(item)
		r.points.keep(&item.Values)
	case item.Has&aPoint != 0 && !r.points.fill(&item.Values):
		item.Means = 0
	}
	r.section = e.Behind(r.section)
}

// count gives an entry of a table its number where the line does not have it.
func (r *Reader) count(item *Item) {
	seen := &r.rows[item.Means-MeansFrame]
	*seen++
	if !item.Has.Has(Number) {
		item.Set(Number, float64(*seen))
	}
}

// UnreadError is for a text in which nothing is of the family: any two such texts would
// be the same, and all that a program has would be reported as missing.
type UnreadError struct{ Family string }

func (e *UnreadError) Error() string {
	return fmt.Sprintf("nothing in it reads as a program of the family %q: name its family with --family", e.Family)
}
