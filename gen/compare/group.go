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

	from, to         move.Target // as labels, where there are any
	fromAt, toAt     geom.Vec    // in the base
	hasFrom, hasTo   bool
	gripped, dropped bool
	motions          int
}

// groups goes through the steps group by group. A group's steps hold until the next.
func groups(steps iter.Seq[Step], by grouping) iter.Seq[*group] {
	return func(yield func(*group) bool) {
		g := &group{}
		var at geom.Vec
		counted, going := 0, true
		give := func() bool {
			if len(g.steps) > 0 {
				if g.number(by, &counted); !yield(g) {
					going = false
				}
			}
			*g = group{steps: g.steps[:0]}
			return going
		}
		for s := range steps {
			if g.ends(&s, by) && !give() {
				return
			}
			if s.Kind.IsMotion() {
				at = s.Base.Vec
			}
			g.add(&s, at)
		}
		if going {
			give()
		}
	}
}

// number gives a group its number where the steps have none.
func (g *group) number(by grouping, counted *int) {
	g.line = g.steps[0].Line
	g.transfer = g.steps[0].Transfer
	if by == byGrip && (g.gripped || g.dropped) || by == byStep {
		*counted++
		if g.transfer == 0 || by == byStep {
			g.transfer = *counted
		}
	}
}

// ends reports whether a step begins another group.
func (g *group) ends(s *Step, by grouping) bool {
	switch {
	case len(g.steps) == 0:
		return false
	case by == byStep:
		return true
	case by == byTransfer:
		return g.steps[len(g.steps)-1].Transfer != s.Transfer
	}
	// After the release the arm goes up again; with the next motion something
	// else begins.
	return g.dropped && s.Kind.IsMotion() && g.wentUp()
}

// wentUp reports whether the arm moved since the part was let go.
func (g *group) wentUp() bool {
	for i := len(g.steps) - 1; g.steps[i].Kind != move.Release; i-- {
		if g.steps[i].Kind.IsMotion() {
			return true
		}
	}
	return false
}

// opening is how many motions may come before the gripper is opened at the start: the
// one to the clear pose.
const opening = 1

func (g *group) add(s *Step, at geom.Vec) {
	g.steps = append(g.steps, *s)
	if s.Kind.IsMotion() {
		g.motions++
	}
	switch {
	case s.Kind == move.Grip:
		g.gripped = true
		g.begin(s.Target, at)
	case s.Kind == move.Release && (g.gripped || g.motions > opening):
		g.dropped = true
		g.end(s.Target, at)
	case s.Kind == move.Release && !s.Target.IsZero():
		g.end(s.Target, at) // of a resumed job that begins with the part in the gripper
	case s.Role == move.DownSource:
		g.begin(s.Target, at)
	case s.Role == move.DownDestination:
		g.end(s.Target, at)
	}
}

func (g *group) begin(target move.Target, at geom.Vec) {
	if !g.hasFrom {
		g.hasFrom, g.fromAt = true, at
	}
	if g.from.IsZero() {
		g.from = target
	}
}

func (g *group) end(target move.Target, at geom.Vec) {
	if !g.hasTo {
		g.hasTo, g.toAt = true, at
	}
	if g.to.IsZero() {
		g.to = target
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
		h.WriteString(g.from.String())
		m.from = h.Sum64()
		h.WriteString(" to " + g.to.String())
	case byGrip:
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
