package layout

import (
	"math"
	"slices"

	"gridferry/gen/balance"
	"gridferry/gen/geom"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Rotor is rings that turn together: all of one frame and one axis.
type Rotor struct {
	Grids  []*Grid
	Axis   geom.Vec   // a point on it, in the frame
	Radius float64    // mm, of the slot that is farthest from it
	Asked  diag.Place // where the plan asks for balance; nowhere where it does not
	Within float64    // g·mm, what may be lacking
}

// Moment is what a part in a slot adds to the rotor's imbalance, in g·mm.
func (o *Rotor) Moment(g *Grid, s slot.Slot, p *Part) balance.Moment {
	const grams = 1000 // in a kg
	mass := 1.0        // any, where nobody knows what stands there
	if p != nil {
		mass = p.Mass * grams
	}
	off := g.At(s).Sub(o.Axis)
	return balance.Moment{X: off.X * mass, Y: off.Y * mass}
}

// rotors puts rings together that turn about one axis.
func (r *resolver) rotors() {
	known := axes{}
	for _, g := range r.out.Grids {
		axis, ok := pattern.Axis(g.Pattern)
		if !ok {
			continue
		}
		g.Rotor = known.at(g.Frame, axis)
		g.Rotor.Grids = append(g.Rotor.Grids, g)
		for _, s := range g.Pattern.Outline() {
			off := g.At(s).Sub(axis)
			off.Z = 0
			g.Rotor.Radius = max(g.Rotor.Radius, off.Norm())
		}
	}
	for _, g := range r.out.Grids {
		if g.Rotor != nil {
			r.asked(g)
		}
	}
}

// axes are rotors by where they are, in cells as wide as two axes may be apart that are one.
type axes map[axisCell][]*Rotor

type axisCell struct {
	frame *Frame
	x, y  int64
}

// at is the rotor about an axis of a frame.
func (known axes) at(frame *Frame, axis geom.Vec) *Rotor {
	const little = 0.001 // mm
	axis.Z = 0
	own := axisCell{frame, int64(math.Floor(axis.X / little)), int64(math.Floor(axis.Y / little))}
	for i := range int64(9) {
		for _, o := range known[axisCell{frame, own.x + i%3 - 1, own.y + i/3 - 1}] {
			if o.Axis.Dist(axis) < little {
				return o
			}
		}
	}
	o := &Rotor{Axis: axis}
	known[own] = append(known[own], o)
	return o
}

// asked takes in how far a grid's ring may be out of balance: the least of what the rings of
// a rotor say.
func (r *resolver) asked(g *Grid) {
	b := g.balance
	if !b.IsSet() {
		return
	}
	if g.Part != nil && b.V >= g.Part.Mass {
		r.list.Errorf("bad-balance", b.Place, "a balance within %g g lets a whole %q be missing, which has %g g", b.V*1000, g.Part.Name, g.Part.Mass*1000).
			WithHint("write what the rotor's manual allows to be lacking, such as \"0.1 g\"; a bare number is in kg")
	}
	within := b.V * 1000 * g.Rotor.Radius
	if g.Rotor.Asked.IsZero() || within < g.Rotor.Within {
		g.Rotor.Asked, g.Rotor.Within = b.Place, within
	}
}

// moment is that of all parts on a rotor.
func (o *occupancy) moment(rotor *Rotor) (sum balance.Moment) {
	for _, g := range rotor.Grids {
		for i := range g.Size() {
			if o.full[g].Has(i) {
				sum = sum.Add(rotor.Moment(g, g.Slot(i), o.kind(g, i)))
			}
		}
	}
	return sum
}

// kind is what stands in a slot; nil where the plan does not say.
func (o *occupancy) kind(g *Grid, i int) *Part {
	if p, put := o.kinds[g][i]; put {
		return p
	}
	return o.ids.l.PartOf(o.ids.At(g, i), o.held[g])
}

// MostBalanced is how many slots a stop has at most for its order to be balanced.
const MostBalanced = 360

// balances reports whether the parts of an entry come to, or leave, a stop in an order that
// keeps a rotor in balance.
func (c *chooser) balances(i int, order Order) bool {
	return order == Balanced && c.e.Stops[i].Grid.Rotor != nil && !c.endless(i)
}

// rings refuses an order that is for rings only, where there is none.
func (c *chooser) rings() bool {
	last := len(c.e.Stops) - 1
	for _, side := range []struct {
		order Order
		at    plan.Text
		stops []Stop
		which string
	}{{c.leave, c.t.From, c.e.Stops[:last], "that the parts leave"}, {c.fill, c.t.To, c.e.Stops[1:], "that the parts go into"}} {
		if c.t.From.Place == c.t.To.Place {
			side.stops, side.which = c.e.Stops, "of this entry"
		}
		if side.order == Balanced && !slices.ContainsFunc(side.stops, func(s Stop) bool { return s.Grid.Rotor != nil }) {
			c.r.list.Errorf("no-ring", side.at.Place, "\"balanced\" is an order for the slots of a ring, and no grid %s is one", side.which).
				WithHint("name a grid with \"ring\", or another order")
			return false
		}
	}
	return true
}

// balanced is the slots of a stop chosen, and put in order, so that its rotor stays in balance
// while they are filled, or emptied where it is the first one.
func (c *chooser) balanced(i int, s Sequence, candidates int) Sequence {
	b := &balancing{c: c, grid: s.Grid, emptied: i == 0, carried: c.now.held[c.e.Stops[0].Grid], asked: c.t.To.Place}
	if b.emptied {
		b.asked = c.t.From.Place
	}
	return b.sequence(s, candidates)
}

// passing is the slots of a stop in the middle in the order in which the entry's parts, all of
// which stand there by then, leave it.
func (c *chooser) passing(i int, s Sequence) Sequence {
	b := &balancing{c: c, grid: s.Grid, emptied: true, carried: c.now.held[c.e.Stops[0].Grid], asked: c.t.From.Place, passing: true}
	return b.sequence(s, s.Len)
}

// balancing is one stop while its slots are chosen, layer after layer.
type balancing struct {
	c       *chooser
	grid    *Grid
	emptied bool
	passing bool       // the slots hold what the entry has put there
	carried *Part      // what the entry carries
	asked   diag.Place // where the order is written

	sum   balance.Moment // of what stands on the rotor by now
	one   float64        // what one part comes to at most
	worst float64        // the farthest out of balance on the way
	proof bool           // no order does better
	many  int            // slots of a layer, where they are too many
}

// sequence is the chosen slots in their order. Layers keep theirs.
func (b *balancing) sequence(s Sequence, candidates int) Sequence {
	c, all := b.c, s
	all.order, all.Len = ByRow, candidates
	out := roundStop{grid: s.Grid, topFirst: s.topFirst}
	for at := range all.All() {
		out.slots = append(out.slots, at)
	}
	rotor := s.Grid.Rotor
	looks := len(out.slots)
	for _, g := range rotor.Grids {
		looks += g.Size()
	}
	if !c.r.look(looks, c.e.Place) {
		return s
	}
	out.free = true
	sorted := make([]slot.Slot, 0, len(out.slots))
	for _, k := range out.sorting(ByRow) {
		sorted = append(sorted, out.slots[k])
	}
	out.slots = nil
	b.sum, b.proof = c.now.moment(rotor), true
	for _, at := range sorted {
		if b.passing {
			b.sum = b.sum.Add(rotor.Moment(s.Grid, at, b.carried))
		}
	}
	for len(sorted) > 0 && len(out.slots) < c.e.Parts {
		n := 1
		for n < len(sorted) && sorted[n].Layer == sorted[0].Layer {
			n++
		}
		out.slots = append(out.slots, b.layer(sorted[:n], min(n, c.e.Parts-len(out.slots)))...)
		sorted = sorted[n:]
	}
	switch {
	case b.many > 0:
		c.r.list.Warnf("order-not-searched", b.asked, "the ring %q has %d slots to choose among in a layer, but up to %d are put in balance, so they are visited by row", b.grid.Name, b.many, MostBalanced).
			WithHint("name fewer slots")
		return out.sequence()
	case rotor.Asked.IsZero():
		rotor.Asked = b.asked
	}
	c.e.balanced = true
	c.r.balanced = append(c.r.balanced, b)
	return out.sequence()
}

// layer chooses n slots of one layer.
func (b *balancing) layer(slots []slot.Slot, n int) []slot.Slot {
	if len(slots) > MostBalanced {
		b.many = len(slots)
		return slots[:n]
	}
	p := balance.Problem{Start: b.sum, Choose: n}
	for _, s := range slots {
		m := b.grid.Rotor.Moment(b.grid, s, b.part(s))
		if b.emptied {
			m = balance.Moment{}.Sub(m)
		}
		p.Places = append(p.Places, m)
	}
	p.Quick = b.c.r.searched > MostWork
	a := p.Solve()
	b.c.r.searched += a.Work
	b.one = max(b.one, p.One())
	b.sum, b.worst, b.proof = a.End, max(b.worst, a.Worst), b.proof && a.Least
	chosen := make([]slot.Slot, n)
	for k, i := range a.Order {
		chosen[k] = slots[i]
	}
	return chosen
}

// part is what leaves a slot, or comes to it.
func (b *balancing) part(s slot.Slot) *Part {
	if b.emptied && !b.passing {
		return b.c.now.kind(b.grid, b.grid.Index(s))
	}
	return b.carried
}

// onTheWay says where rotors are out of balance by more than one part while they are filled,
// or emptied. What stays out of balance is told at the end of the job.
func (r *resolver) onTheWay(now *occupancy) {
	for _, b := range r.balanced {
		if left := now.moment(b.grid.Rotor).Size(); left <= b.grid.Rotor.Within || balance.Balanced(left, b.one) {
			b.report()
		}
	}
}

func (b *balancing) report() {
	at, doing := b.asked, "filled"
	if b.emptied {
		doing = "emptied"
	}
	if b.worst > b.one && !balance.Balanced(b.worst-b.one, b.one) {
		f := b.c.r.list.Warnf("rotor-unbalanced", at, "while the ring %q is %s it is out of balance by up to %.6g g·mm, which is more than one part's %.6g g·mm", b.grid.Name, doing, b.worst, b.one)
		switch {
		case !b.proof:
			f.WithHint("not all orders were looked at: name opposite places by hand, one pair after the other")
		case b.emptied:
			f.WithHint("no order of these slots does better: look at what else stands on the rotor, and which parts stay there")
		default:
			f.WithHint("no order of these slots does better: look at what stands on the rotor before, and at missing slots")
		}
	}
}
