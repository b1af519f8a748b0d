package compare

import (
	"hash/maphash"
	"iter"
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// how a side's steps become groups that can be laid beside each other.
type grouping uint8

const (
	byTransfer grouping = iota // both sides number their transfers
	byGrip                     // one does not: from one release to the next, by where the gripper works
	byStep                     // and one has no grips: every step by itself
)

// group is one transfer, what comes before the first or after the last, or one step.
type group struct {
	steps    []Step
	transfer int // from 1; counted where nobody numbers them, 0 outside
	line     int // of its first step
	place    int // among the parts that are carried at once, from 0

	from, to       move.Target // as labels, where there are any
	fromAt, toAt   geom.Vec    // in the base
	hasFrom, hasTo bool
	id             *string // of its part; nil where it is not known
}

// groups goes through the steps group by group. A group's steps hold until the arm has put down
// what it carries together with its part.
func groups(steps iter.Seq[Step], by grouping) iter.Seq[*group] {
	return func(yield func(*group) bool) {
		h := &haul{by: by}
		for s := range steps {
			if h.ends(&s) && !h.give(yield) {
				return
			}
			h.add(&s)
		}
		h.give(yield)
	}
}

// mark is what is kept of a group between the two passes.
type mark struct {
	key             uint64 // the same for groups that are the same transfer
	from            uint64 // the same for those that begin at the same place
	transfer        int32
	line            int32
	at, destination [3]float32 // where its part comes from and goes to; of a step, where it leads
}

// marker makes marks.
type marker struct {
	by   grouping
	grid float64 // mm: places in the same cell of it are the same
	seed maphash.Seed
}

func (k *marker) of(g *group) mark {
	m := mark{transfer: int32(g.transfer), line: int32(g.line)}
	at, destination := g.fromAt, g.toAt
	var h maphash.Hash
	h.SetSeed(k.seed)
	switch k.by {
	case byTransfer:
		if g.from.IsZero() { // a part that nothing but its neighbour in the tool tells of
			h.WriteByte(byte(g.place))
		}
		h.WriteString(g.from.String())
		m.from = h.Sum64()
		h.WriteString(" to " + g.to.String())
	case byGrip:
		if g.place > 0 { // in one descent all are taken where the arm stands
			h.WriteByte(byte(g.place))
		}
		k.place(&h, at, g.hasFrom)
		m.from = h.Sum64()
		k.place(&h, destination, g.hasTo)
	case byStep:
		s := &g.steps[0]
		at, destination = s.Base.Vec, s.Base.Vec
		h.WriteByte(byte(s.Kind))
		k.place(&h, at, s.Kind.IsMotion())
		h.WriteString(s.Text)
	}
	m.key = h.Sum64()
	m.at, m.destination = short(at), short(destination)
	return m
}

func (k *marker) place(h *maphash.Hash, at geom.Vec, known bool) {
	if !known {
		h.WriteByte(0)
		return
	}
	for _, v := range []float64{at.X, at.Y, at.Z} {
		maphash.WriteComparable(h, int64(math.Round(v/k.grid)))
	}
}

func short(v geom.Vec) [3]float32 { return [3]float32{float32(v.X), float32(v.Y), float32(v.Z)} }
