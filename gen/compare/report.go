package compare

import (
	"fmt"
	"hash/maphash"
	"iter"
	"math"
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// What is the kind of a difference.
type What string

// The kinds of difference.
const (
	Positions What = "position"
	Turns     What = "turn"
	Speeds    What = "speed"
	FlyBys    What = "fly_by"
	Frames    What = "frame"
	Tools     What = "tool"
	Loads     What = "load"
	Centres   What = "centre"  // a coordinate of the load's centre of gravity
	Inertias  What = "inertia" // a moment of inertia of the load
	Signals   What = "signal"
	Levels    What = "level"
	Times     What = "time"
	GoesOn    What = "go-on"
	Texts     What = "text"
	Rests     What = "rest" // words of a line that no reading takes
	Kinds     What = "kind"
	OnlyA     What = "only-a" // a step that only the first side has
	OnlyB     What = "only-b"
	IDs       What = "id" // of the part that comes into a slot
)

// Report is what a comparison found.
type Report struct {
	A, B      string // the names of the sides
	Word      string // what is counted: "transfer", or "step" where nothing is gripped
	Transfers [2]int // of either side
	Both      int    // that both have, from the same place
	Changed   int    // of these, those that go the same way and are not alike
	OnlyA     []*Run // that only the first has
	OnlyB     []*Run
	Reordered int // of those, what both have, but at another time
	Elsewhere []*Run
	Different []*Difference

	Beside      []Beside // what differs beside the moves, the first of it
	BesideCount int
	Controller  []Entry // what programs count on at the controller; whoever compares knows it

	differOf map[signature]*Difference
	leftA    map[uint64]int // keys that only A has, to find those of another time
	leftB    []uint64
}

// Entry is a frame or a tool whose figures are at the controller and not in a program.
type Entry struct {
	Text    string `json:"text"`
	Differs bool   `json:"differs"` // it is not the same for both
}

// differing counts those that are not the same.
func (r *Report) differing() int {
	n := 0
	for _, e := range r.Controller {
		if e.Differs {
			n++
		}
	}
	return n
}

// Run is one or several transfers behind each other.
type Run struct {
	First, Last End
	Count       int
	Instead     End // of one that goes elsewhere: the other side
}

// End is one transfer.
type End struct {
	Transfer int
	Line     int
	From, To string // slots, or places in the base
}

// Difference is what differs alike, folded.
type Difference struct {
	What  What
	Name  string // what it is about: a grid, a pose, a kind of step
	Count int

	First, Last [2]int // transfers of either side
	Lines       [2]int // where it is first met

	A, B     string   // of the first, for people
	Same     bool     // all are off by the same
	Way      geom.Vec // of positions, of the first
	Min, Max float64  // of all: mm, degrees or the figure of B
	MostAt   string   // where it is most
	MostIn   int      // and in which transfer of A
	minA     float64
	maxA     float64
	word     string // what is counted
}

// Equal reports whether nothing differs.
func (r *Report) Equal() bool {
	return len(r.OnlyA)+len(r.OnlyB)+len(r.Elsewhere)+len(r.Different)+r.Reordered+r.BesideCount+r.differing() == 0
}

// Compare compares two sides. The error is that of a side whose steps could not all
// be read.
func Compare(a, b Side) (*Report, error) {
	if a.Form != b.Form {
		a, b = a.reduced(b), b.reduced(a)
	}
	c := &comparison{a: a, b: b, marker: marker{seed: maphash.MakeSeed()}}
	c.judge.above, c.judge.below = within(a.Half, b.Half)
	c.judge.oneForm = a.Form == b.Form
	if err := c.group(); err != nil {
		return nil, err
	}
	marksA, idsA, err := c.marks(a)
	if err != nil {
		return nil, err
	}
	marksB, idsB, err := c.marks(b)
	if err != nil {
		return nil, err
	}
	c.ids = idsA && idsB
	c.report = newReport(a.Name, b.Name, c.by)
	pairs := pairUp(marksA, marksB, c.by != byTransfer)
	c.walk(marksA, marksB, pairs)
	c.report.settle()
	if a.Beside != nil && b.Beside != nil && a.Form == b.Form {
		c.report.beside(a, b)
	}
	for _, side := range []Side{a, b} {
		if err := side.Err(); err != nil {
			return nil, fmt.Errorf("%s: %w", side.Name, err)
		}
	}
	return c.report, nil
}

type comparison struct {
	marker
	a, b   Side
	judge  judge
	ids    bool // both sides say which part is which
	report *Report
}

// group finds out how the steps can be grouped.
func (c *comparison) group() error {
	if c.by = byTransfer; c.a.Form == "" && c.b.Form == "" {
		return nil
	}
	c.by = byGrip
	c.grid = max(2*max(c.a.Half.Length, c.b.Half.Length), 0.001)
	for _, side := range []Side{c.a, c.b} {
		grips := false
		for s := range side.Steps {
			if grips = s.Kind == move.Grip; grips {
				break
			}
		}
		if err := side.Err(); err != nil {
			return fmt.Errorf("%s: %w", side.Name, err)
		}
		if !grips {
			c.by = byStep
		}
	}
	return nil
}

// marks is what is kept of a side's groups, and whether some part of it has an id.
func (c *comparison) marks(side Side) (marks []mark, ids bool, err error) {
	for g := range groups(side.Steps, c.by) {
		marks, ids = append(marks, c.of(g)), ids || g.id != nil
	}
	if err := side.Err(); err != nil {
		return nil, false, fmt.Errorf("%s: %w", side.Name, err)
	}
	return marks, ids, nil
}

// walk goes through both sides once more, side by side.
func (c *comparison) walk(a, b []mark, pairs []int32) {
	nextA, stopA := iter.Pull(groups(c.a.Steps, c.by))
	defer stopA()
	nextB, stopB := iter.Pull(groups(c.b.Steps, c.by))
	defer stopB()
	j := 0
	skipB := func(until int) {
		for ; j < until; j++ {
			if g, ok := nextB(); ok {
				c.report.only(&c.report.OnlyB, g, b[j].key, false)
			}
		}
	}
	for i := range a {
		if pairs[i] >= 0 {
			skipB(int(pairs[i]))
		}
		g, ok := nextA()
		if !ok {
			return
		}
		if pairs[i] < 0 {
			c.report.only(&c.report.OnlyA, g, a[i].key, true)
			continue
		}
		other, ok := nextB()
		if !ok {
			return
		}
		j++
		c.pair(g, other, a[i].key == b[j-1].key)
	}
	skipB(len(b))
}

// pair compares two groups that belong together.
func (c *comparison) pair(a, b *group, same bool) {
	c.report.counts(a, b)
	if !same && c.by == byTransfer {
		c.report.elsewhere(a, b)
		return
	}
	alike := true
	c.judge.found = func(d delta) {
		alike = false
		c.report.add(d, a, b)
	}
	if c.ids && a.partID() != b.partID() {
		c.judge.report(delta{what: IDs, a: a.part(), b: b.part()})
	}
	c.judge.groups(a, b)
	if !alike && c.report.isOne(a) && c.report.isOne(b) {
		c.report.Changed++
	}
}

func newReport(a, b string, by grouping) *Report {
	r := &Report{A: a, B: b, Word: "transfer", differOf: map[signature]*Difference{}, leftA: map[uint64]int{}}
	if by == byStep {
		r.Word = "step"
	}
	return r
}

// isOne reports whether a group is a transfer, or a step that is counted.
func (r *Report) isOne(g *group) bool { return g.transfer > 0 }

func (r *Report) counts(a, b *group) {
	if r.isOne(a) {
		r.Transfers[0]++
	}
	if r.isOne(b) {
		r.Transfers[1]++
	}
	if r.isOne(a) && r.isOne(b) {
		r.Both++
	}
}

func endOf(g *group) End {
	e := End{Transfer: g.transfer, Line: g.line}
	name := func(label move.Target, at geom.Vec, known bool) string {
		switch {
		case !label.IsZero():
			return label.String()
		case known:
			return fmt.Sprintf("X %.3f Y %.3f Z %.3f", at.X, at.Y, at.Z)
		}
		return ""
	}
	e.From, e.To = name(g.from, g.fromAt, g.hasFrom), name(g.to, g.toAt, g.hasTo)
	if len(g.steps) == 1 && e.From == "" {
		e.From = stepName(&g.steps[0])
	}
	return e
}

// only keeps a group that one side lacks.
func (r *Report) only(runs *[]*Run, g *group, key uint64, first bool) {
	side := 1
	if first {
		side = 0
		r.leftA[key]++
	} else {
		r.leftB = append(r.leftB, key)
	}
	if r.isOne(g) {
		r.Transfers[side]++
	}
	end := endOf(g)
	if n := len(*runs); n > 0 && (*runs)[n-1].Last.Transfer == end.Transfer-1 && end.Transfer > 1 {
		last := (*runs)[n-1]
		last.Last, last.Count = end, last.Count+1
		return
	}
	if n := len(*runs); n == mostRuns {
		last := (*runs)[n-1]
		last.Last, last.Count = end, last.Count+1
		return
	}
	*runs = append(*runs, &Run{First: end, Last: end, Count: 1})
}

// mostRuns bounds how many runs there are; the last one counts all transfers behind
// it, whatever lies between them.
const mostRuns = 1000

func (r *Report) elsewhere(a, b *group) {
	if len(r.Elsewhere) < mostRuns {
		r.Elsewhere = append(r.Elsewhere, &Run{First: endOf(a), Last: endOf(a), Count: 1, Instead: endOf(b)})
	} else {
		r.Elsewhere[mostRuns-1].Count++
	}
}

// settle finds what both sides have at another time, and puts what differs in order.
func (r *Report) settle() {
	for _, key := range r.leftB {
		if r.leftA[key] > 0 {
			r.leftA[key]--
			r.Reordered++
		}
	}
	slices.SortStableFunc(r.Different, func(a, b *Difference) int { return a.What.rank() - b.What.rank() })
	r.leftA, r.leftB = nil, nil
}

func (w What) rank() int {
	return slices.Index([]What{OnlyA, OnlyB, IDs, Kinds, Positions, Turns, Frames, Speeds, FlyBys, Signals, Levels, Times, GoesOn, Tools, Loads, Centres, Inertias, Texts, Rests}, w)
}

// signature is the same for what is reported as one.
type signature struct {
	what What
	name string
}

func (r *Report) add(d delta, a, b *group) {
	key := signature{d.what, d.name()}
	f := r.differOf[key]
	if f == nil {
		f = &Difference{
			What: d.what, Name: key.name, Same: true, Way: d.way, word: r.Word,
			Min: math.Inf(1), Max: math.Inf(-1), minA: d.from, maxA: d.from,
		}
		f.A, f.B = d.sides()
		if d.a != nil {
			f.Lines[0] = d.a.Line
		}
		if d.b != nil {
			f.Lines[1] = d.b.Line
		}
		r.differOf[key] = f
		r.Different = append(r.Different, f)
	}
	f.fold(d, a, b)
}

func (f *Difference) fold(d delta, a, b *group) {
	f.Count++
	for side, n := range [2]int{a.transfer, b.transfer} {
		if f.First[side] == 0 {
			f.First[side] = n
		}
		f.Last[side] = max(f.Last[side], n)
	}
	from, to := d.sides()
	const alike = 0.002 // mm: two roundings to the third decimal
	f.Same = f.Same && from == f.A && to == f.B && d.way.Dist(f.Way) <= alike
	f.minA, f.maxA = min(f.minA, d.from), max(f.maxA, d.from)
	f.Min = min(f.Min, d.to)
	if d.to > f.Max {
		f.Max, f.MostIn = d.to, a.transfer
		if d.a != nil {
			f.MostAt = d.a.Target.String()
		}
	}
}
