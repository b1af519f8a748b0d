package joints

import (
	"math"

	"gridferry/gen/arm"
	"gridferry/gen/move"
)

// walk goes through a list and finds, of each motion, the solution that the configuration asks for.
type walk struct {
	c       *Choice
	run     int
	motions int          // so far
	at      arm.Readings // where the joints are
	known   map[taken]*place
	found   []arm.Solution
	turns   [arm.MaxJoints]int // of the exceptions of each joint, those behind
}

// taken is a pose in one configuration.
type taken struct {
	spot
	index int
}

// place is a solution with its configuration, and the same on whatever turns it was needed so far.
type place struct {
	readings arm.Readings
	holds    arm.Configuration
	turned   []*arm.Readings
}

func (c *Choice) walk() *walk {
	w := &walk{c: c, known: map[taken]*place{}}
	for i, j := range c.b.arm.Joints { // nothing is known of where they are: as near to 0 as they can be
		w.at[i] = min(max(0, j.Lo), j.Hi)
	}
	return w
}

// solution is the readings of one motion, whichever turns; false where there are none. Exact says that
// the turns are those of the cell's own readings.
func (w *walk) solution(m *move.Move) (p *place, exact, ok bool) {
	for w.run+1 < len(w.c.runs) && w.c.runs[w.run+1].first <= m.N {
		w.run++
	}
	if w.c.b.asked(m)>>w.index()&1 == 0 {
		return nil, false, false
	}
	if r := w.c.b.given(m); r != nil {
		if w.c.b.maskOf(*r)>>w.index()&1 == 0 {
			return nil, false, false // a straight leads there, on which the arm cannot change
		}
		return w.c.b.place(*r, w.index()), true, true
	}
	s := taken{spotOf(m), w.index()}
	if p := w.known[s]; p != nil {
		return p, false, true
	}
	if p := w.c.remembered(&s); p != nil {
		w.known[s] = p
		return p, false, true
	}
	sol, ok := w.solve(&s.spot)
	if !ok {
		return nil, false, false
	}
	p = w.c.b.place(sol.Readings, w.index())
	if sol.Free == 0 && w.c.b.settled && len(w.known) < mostSpots {
		w.known[s] = p
		w.c.remember(&s, p)
	}
	return p, false, true
}

// remember keeps a place for other passes, and remembered is one of its own for this pass; nil where none is kept.
func (c *Choice) remember(s *taken, p *place) {
	if c.count.Add(1) <= mostSpots {
		c.solved.Store(*s, place{readings: p.readings, holds: p.holds})
	}
}

func (c *Choice) remembered(s *taken) *place {
	kept, ok := c.solved.Load(*s)
	if !ok {
		return nil
	}
	p := kept.(place)
	return &p
}

// given is the readings by which the cell gives the pose that a motion goes to; nil for none, or where the motion goes
// elsewhere, as in a prove-out.
func (b *bench) given(m *move.Move) *arm.Readings {
	r := b.asJoints(m)
	if r == nil {
		return nil
	}
	s := spotOf(m)
	flange, _ := b.flange(&s, *r)
	if way, turn := arm.Off(b.arm.Pose(*r), flange); way > sameWay || turn > sameTurn {
		return nil
	}
	return r
}

// sameWay and sameTurn are how near poses are that count as one: mm and degrees.
const sameWay, sameTurn = 1e-6, 1e-6

func (w *walk) index() int { return w.c.runs[w.run].index }

// solve is the solution in the present configuration that is nearest to where the joints are.
func (w *walk) solve(s *spot) (best arm.Solution, ok bool) {
	b := w.c.b
	w.found = b.solve(s, w.at, false, w.found[:0])
	least := math.Inf(1)
	for i := range w.found {
		r, in := b.arm.InRange(w.found[i].Readings, w.at)
		if !in || b.maskOf(r)>>w.index()&1 == 0 {
			continue
		}
		if far := w.far(&r); far < least {
			best, least, ok = w.found[i], far, true
		}
	}
	return best, ok
}

// far weighs how far joints have to go, each between the turns in its range that are nearest to each other: degrees,
// and mm of those that slide.
func (w *walk) far(r *arm.Readings) (sum float64) {
	for i := range w.c.b.arm.Joints {
		sum += math.Abs(w.c.b.arm.Joints[i].Way(w.at[i], r[i]))
	}
	return sum
}

// fill gives a motion its readings.
func (w *walk) fill(m *move.Move) {
	m.Joints, m.Configuration = nil, 0
	p, exact, ok := w.solution(m)
	w.motions++
	if !ok {
		return
	}
	now := p.readings
	if !exact {
		w.wind(&now)
	}
	w.at = now
	m.Joints, m.Configuration = p.on(&now), p.holds
}

// place is where the arm stands by some readings. On the edge between two configurations it is in the one that is kept.
func (b *bench) place(r arm.Readings, kept int) *place {
	c, either := b.arm.Configuration(r)
	for factor := range 3 {
		if either>>factor&1 == 1 {
			c = c.With(factor, kept>>(2-factor)&1 == 1)
		}
	}
	return &place{readings: r, holds: c}
}

// wind brings readings onto the turns that were chosen: mostly those nearest to where the joints are.
func (w *walk) wind(r *arm.Readings) {
	for i := range w.c.b.arm.Joints {
		j := &w.c.b.arm.Joints[i]
		if others := w.c.wind[i]; w.turns[i] < len(others) && others[w.turns[i]].motion == w.motions {
			r[i] = onTurn(j, r[i], others[w.turns[i]].turn)
			w.turns[i]++
			continue
		}
		r[i], _ = j.Nearest(r[i], w.at[i])
	}
}

// on is a copy of readings that is not changed any more; one is made for all motions alike.
func (p *place) on(r *arm.Readings) *arm.Readings {
	for _, known := range p.turned {
		if *known == *r {
			return known
		}
	}
	own := *r
	p.turned = append(p.turned, &own)
	return &own
}
