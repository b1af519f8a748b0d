package verify

import (
	"fmt"
	"strings"

	"gridferry/gen/family/reads"
	"gridferry/gen/move"
	"gridferry/gen/readback"
	"gridferry/plan/diag"
)

// What a difference is.
type What string

// The kinds of difference.
const (
	Changed What = "changed" // a move says something else
	Missing What = "missing" // the program lacks a move
	Extra   What = "extra"   // the program has a move that the plan does not give
	Entry   What = "entry"   // of the tables of frames and tools
	Other   What = "other"   // a line beside the moves
)

// Difference is one way in which programs differ, and how often.
type Difference struct {
	What   What
	Times  int
	File   string // of the program
	Line   int    // of the program, where it is first met; of a missing one the line before it
	Move   int    // number of the first move that it is about; 0 for none
	Last   int    // and of the last
	Name   string // of the first: travel to tray A1
	Place  diag.Place
	Fields []FieldDelta
	Wanted string // the line that would be written now; "" for none
	Given  string // the line that is there; "" for none
	Open   bool   // a comment begins on the line and does not end
	Astray []Astray
}

// FieldDelta is one field of a difference, in words.
type FieldDelta struct {
	Name, Unit string
	Plan       *float64 // of the first; nil for what is no number
	Program    *float64 // nil where the line has none
	Text       string   // "x is 41.0000 mm instead of 40.0000 mm (+1.0000)"
}

// Report is what a comparison found.
type Report struct {
	Moves       int                // that lines of the program were to say
	Compared    [move.NumKinds]int // the same of each kind
	Lines       int                // of the program that say something
	Differences []*Difference
	// Changed, Missing and Extra count moves, Others entries and lines beside them.
	Changed, Missing, Extra, Others int

	judge   *readback.Judge
	modal   *reads.Modal // for what is compared of a kind
	tables  *readback.Tables
	seen    map[string]*Difference
	astray  astray
	counted int         // the number of the last move that was counted
	before  node        // the last line of the program
	run     *Difference // missing or extra moves that go on
}

func newReport(j *readback.Judge, modal *reads.Modal, base bool) *Report {
	return &Report{judge: j, modal: modal, seen: map[string]*Difference{}, astray: newAstray(modal, base)}
}

// Same reports whether nothing differs.
func (r *Report) Same() bool { return len(r.Differences) == 0 }

// pair takes two lines that stand beside each other.
func (r *Report) pair(given, wanted *node) {
	if given != nil {
		r.Lines++
	}
	if wanted != nil && wanted.want != nil && wanted.want.N != r.counted {
		r.counted = wanted.want.N // a select may take several lines
		r.Moves++
		r.Compared[wanted.want.Kind]++
	}
	r.astray.follow(given, wanted)
	if given == nil || wanted == nil || given.key != wanted.key || given.item.Number[reads.N] != wanted.item.Number[reads.N] || given.item.Rest.Differs(wanted.item.Rest) {
		r.differs(given, wanted)
	} else {
		r.run = nil
	}
	r.astray.hold(given, wanted, r.run)
	if given != nil {
		r.before = node{item: reads.Item{Line: given.item.Line}, file: given.file}
	}
}

func (r *Report) differs(given, wanted *node) {
	d := &Difference{What: Other, Times: 1, File: r.before.file, Line: r.before.item.Line}
	if given != nil {
		d.File, d.Line, d.Given, d.Open = given.file, given.item.Line, string(given.item.Text), given.item.Open
	}
	if wanted != nil {
		d.Wanted = string(wanted.item.Text)
		if wanted.want != nil {
			m := wanted.want
			d.Move, d.Last, d.Name, d.Place = m.N, m.N, readback.Describe(m), m.Place
		}
	}
	if r.sort(d, given, wanted) {
		r.add(d)
	}
}

// sort says what a difference is; false when it is none after all.
func (r *Report) sort(d *Difference, given, wanted *node) bool {
	isMove := func(n *node) bool { return n != nil && n.item.IsMove() }
	switch {
	case isMove(given) && isMove(wanted):
		d.What = Changed
		deltas := r.deltas(given, wanted)
		d.Fields = r.inWords(deltas, given, wanted)
		if a, b := given.item.Rest, wanted.item.Rest; len(deltas) == 0 && a.Differs(b) {
			d.Fields = []FieldDelta{{Name: "rest", Text: fmt.Sprintf("what no reading takes is %q instead of %q", a.Words, b.Words)}}
		}
		return len(d.Fields) > 0
	case isMove(wanted) && given == nil:
		d.What = Missing
	case isMove(given) && wanted == nil:
		d.What, d.Name = Extra, given.item.Kind.String()
	case given != nil && wanted != nil && given.item.IsEntry() && wanted.item.IsEntry():
		d.What = Entry
		return r.entry(d, given)
	}
	return true
}

func (r *Report) deltas(given, wanted *node) []readback.Delta {
	known := r.modal.Compared(&wanted.item)
	if wanted.want == nil {
		return r.judge.Differing(&given.item.Values, &wanted.item.Values, known)
	}
	return r.judge.Deltas(&given.item, wanted.want, known)
}

// entry compares a row of the tables.
func (r *Report) entry(d *Difference, given *node) bool {
	e, deltas, ok := r.tables.Compare(&given.item)
	if !ok {
		return true
	}
	d.Name = e.String()
	d.Fields = r.inWords(deltas, given, nil)
	return len(deltas) > 0
}

// inWords are fields for people.
func (r *Report) inWords(deltas []readback.Delta, given, wanted *node) []FieldDelta {
	fields := make([]FieldDelta, len(deltas))
	for i := range deltas {
		d, f := &deltas[i], &fields[i]
		*f = FieldDelta{Name: d.Field.Words(), Unit: d.Unit}
		if d.Field == reads.Target {
			f.Text = "it goes to another target"
			if wanted != nil {
				f.Text = fmt.Sprintf("it goes to %q instead of %q", given.item.Target, wanted.item.Target)
			}
			continue
		}
		f.Plan = &d.Want
		f.Text = fmt.Sprintf("%s is not given instead of %s", f.Name, r.figure(d, d.Want))
		if !d.Lacks {
			f.Program = &d.Got
			f.Text = fmt.Sprintf("%s is %s instead of %s%s", f.Name, r.figure(d, d.Got), r.figure(d, d.Want), change(*d))
		}
	}
	return fields
}

// figure is one value of a difference in words: of a frame or a tool what the cell calls it, or
// its number where the cell has none of that; 0 stands for a name that nobody knows.
func (r *Report) figure(d *readback.Delta, v float64) string {
	f := d.Field
	switch name := r.tables.Name(f, v); {
	case name != "":
		return name
	case v == 0 && (f == reads.Frame || f == reads.Tool):
		return "unknown"
	}
	return f.Figure(v, d.Unit)
}

// change is how far a quantity is off, with its sign.
func change(d readback.Delta) string {
	if d.Unit == "" {
		return ""
	}
	return fmt.Sprintf(" (%+.*f)", d.Field.Decimals(), d.Got-d.Want)
}

// mostGroups bounds how many differences are reported one by one.
const mostGroups = 200

// add folds differences of the same sort into one: those that are off by the same
// in the same fields, then those that differ in the same fields at all.
func (r *Report) add(d *Difference) {
	r.count(d)
	if (d.What == Missing || d.What == Extra) && r.run != nil && r.run.What == d.What {
		r.run.repeat(d)
		return
	}
	key := d.signature(true)
	if r.seen[key] == nil && len(r.Differences) >= mostGroups {
		key = d.signature(false)
	}
	if first := r.seen[key]; first != nil && d.What != Entry {
		first.repeat(d)
		r.run = first
		return
	}
	r.seen[key], r.run = d, d
	r.Differences = append(r.Differences, d)
}

// repeat counts one more of the same sort.
func (d *Difference) repeat(more *Difference) { d.Times, d.Last = d.Times+1, max(d.Last, more.Last) }

func (r *Report) count(d *Difference) {
	switch d.What {
	case Changed:
		r.Changed++
	case Missing:
		r.Missing++
	case Extra:
		r.Extra++
	default:
		r.Others++
	}
}

// signature is the same for differences that are reported as one.
func (d *Difference) signature(exact bool) string {
	var b strings.Builder
	b.WriteString(string(d.What))
	kind, _, _ := strings.Cut(d.Name, " ")
	if d.What != Changed {
		b.WriteString(kind)
	}
	if exact && d.What != Changed {
		fmt.Fprintf(&b, "|%s|%s", d.Wanted, d.Given)
	}
	for _, f := range d.Fields {
		b.WriteString("|" + f.Name)
		switch {
		case !exact:
		case f.Plan == nil || f.Program == nil:
			b.WriteString(f.Text)
		case f.Unit == "" && f.Name != reads.N.Words():
			fmt.Fprintf(&b, "%g>%g", *f.Plan, *f.Program)
		default:
			fmt.Fprintf(&b, "%+.4f", *f.Program-*f.Plan)
		}
	}
	return b.String()
}
