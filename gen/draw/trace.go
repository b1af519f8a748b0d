package draw

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// trace is the path of the tool centre point, thinned out: of a long job it
// keeps every so many-th transfer, and what is gone along again it keeps once.
type trace struct {
	strokes []stroke
	every   int // one transfer in this many; 0 for none
	only    int // or this one alone
	total   int

	at    geom.Vec
	known bool
	grid  bool // at is over a grid
	seen  map[[7]int64]bool
}

// stroke is one motion, in the base.
type stroke struct {
	from, to geom.Vec
	straight bool
	back     bool // along a line that is there already, the other way
}

func newTrace(total int, o Options) trace {
	t := trace{total: total, only: o.Transfer, every: 1, seen: map[[7]int64]bool{}}
	switch {
	case o.NoPath:
		t.every, t.only = 0, 0
	case total > mostTransfers:
		t.every = coprime((total + fewTransfers - 1) / fewTransfers)
	}
	return t
}

// coprime is n or a little more: a step that shares no factor with 6, so that
// of transfers that go by in twos or threes each kind is met.
func coprime(n int) int {
	for n%2 == 0 || n%3 == 0 {
		n++
	}
	return n
}

// thinned reports whether transfers were left out.
func (t *trace) thinned() bool { return t.every > 1 && t.only == 0 }

// drawn is how many transfers are kept.
func (t *trace) drawn() int {
	n := 0
	for i := 1; i <= t.total; i += t.every {
		n++
	}
	if (t.total-1)%t.every != 0 {
		n++ // the last one is always kept
	}
	return n
}

func (t *trace) keeps(transfer int) bool {
	switch {
	case t.every == 0:
		return false
	case t.only > 0:
		return transfer == t.only
	default: // what comes after the last transfer counts as part of it
		return transfer == 0 || transfer == t.total || (transfer-1)%t.every == 0
	}
}

// to takes in where a motion goes.
func (t *trace) to(m *move.Move) {
	from := *t
	t.at, t.known, t.grid = m.Base.Vec, true, m.Target.Grid != ""
	if !from.known || !t.keeps(m.Transfer) {
		return
	}
	s := stroke{from: from.at, to: t.at, straight: m.Kind == move.Straight}
	key := t.key(s)
	if t.seen[key] && t.only == 0 {
		return
	}
	s.back, t.seen[key] = t.seen[key], true
	if t.only == 0 && !from.grid && t.grid {
		s.from, s.to = s.to, s.from // lines that meet at a pose get out of step there, not into rings
	}
	t.strokes = append(t.strokes, s)
}

// key is the same for two motions along one line, there and back.
func (t *trace) key(s stroke) [7]int64 {
	a, b := s.from, s.to
	if before(b, a) {
		a, b = b, a
	}
	kind := int64(0)
	if s.straight {
		kind = 1
	}
	return [7]int64{micron(a.X), micron(a.Y), micron(a.Z), micron(b.X), micron(b.Y), micron(b.Z), kind}
}

func before(a, b geom.Vec) bool {
	switch {
	case micron(a.X) != micron(b.X):
		return a.X < b.X
	case micron(a.Y) != micron(b.Y):
		return a.Y < b.Y
	default:
		return a.Z < b.Z
	}
}

func micron(x float64) int64 { return int64(math.Round(x * 1000)) }
