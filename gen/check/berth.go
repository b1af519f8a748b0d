package check

import (
	"math"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/solid"
)

// berth is how the arm stands at some readings, with the room that its limbs have about them there: it tells that nothing is hit at readings near
// them. Where it does not, the way is looked at closely, so that a berth has no say in what is found.
type berth struct {
	at     arm.Readings
	links  [arm.MaxJoints]geom.Pose
	axes   [arm.MaxJoints]geom.Vec
	points [arm.MaxJoints]geom.Vec // on the axes
	limbs  []berthed
	planes []plane // as far as they were asked for
}

// berthed is a limb in a berth.
type berthed struct {
	bounds solid.Bounds
	middle geom.Vec
	far    arm.Readings // how far any point of it is from the axis of each joint before it, mm; 1 for one that slides
}

// plane is between a limb and what it must not meet, by their numbers.
type plane struct {
	limb, other int      // a box, behind the boxes a grid, or below 0 a pair
	away        geom.Vec // from the other one to the limb, of unit length
	room        float64  // mm that they may come nearer along that
}

// hull is readings and all means of them, with all that are no farther off than some.
type hull struct {
	at  [3]arm.Readings
	n   int
	off arm.Readings
}

func (h *hull) middle() (middle arm.Readings) {
	for k := range h.n {
		for i := range middle {
			middle[i] += h.at[k][i] / float64(h.n)
		}
	}
	return middle
}

// motion is how the arm gets from a berth to a hull: radians and mm.
type motion struct {
	most  arm.Readings                    // that each joint goes
	off   arm.Readings                    // of that, what has no direction
	turns [3][arm.MaxJoints + 1]arm.Twist // to each of the readings, of what is behind so many joints, to first order
	n     int
}

// to is how the arm gets to a hull.
func (b *berth) to(w *armWatcher, h *hull) (m motion) {
	m.n = h.n
	for i := range w.a.Joints {
		m.off[i] = w.inner(i, h.off[i])
	}
	for k := range h.n {
		turns := &m.turns[k]
		for i := range w.a.Joints {
			way := w.inner(i, h.at[k][i]-b.at[i])
			m.most[i] = max(m.most[i], math.Abs(way)+m.off[i])
			turns[i+1] = turns[i]
			if axis := b.axes[i].Scale(way); w.a.Joints[i].Slides {
				turns[i+1].Linear = turns[i].Linear.Add(axis)
			} else {
				turns[i+1].Turn = turns[i].Turn.Add(axis)
				turns[i+1].Linear = turns[i].Linear.Add(b.points[i].Cross(axis))
			}
		}
	}
	return m
}

// goes bounds how far any point of a limb gets while the joints behind the first few go that far. Let them go one after the other, the first
// one first: each moves the limb together with all axes between, so that what counts is how far the limb is from its axis in the berth.
func (l *berthed) goes(off *arm.Readings, first, behind int) (way float64) {
	for i := first; i < behind; i++ {
		way += float64(off[i] * l.far[i])
	}
	return way
}

// rounding is how much of the room does not count.
const rounding = 1e-6

// berth is the one at some readings.
func (w *armWatcher) berth(at *arm.Readings) berth {
	b := berth{at: *at, links: w.a.Links(*at), limbs: make([]berthed, len(w.limbs))}
	for i := range w.a.Joints {
		b.axes[i], b.points[i] = b.links[i].R.Apply(w.a.Joints[i].Axis), b.links[i].Apply(w.a.Joints[i].Point)
	}
	for k := range w.limbs {
		w.c.effort.made += effortPerLook
		l, here := &w.limbs[k], &b.limbs[k]
		core := l.at(&b.links)
		here.bounds, here.middle = core.Bounds(), core.Centre
		here.bounds = here.bounds.Wider(l.radius)
		for i := range l.behind {
			if here.far[i] = 1; !w.a.Joints[i].Slides {
				here.far[i] = b.axes[i].Cross(core.Centre.Sub(b.points[i])).Norm() + l.ball
			}
		}
	}
	return b
}

// holds says whether nothing is hit in a hull, as far as the berth tells.
func (b *berth) holds(p *space, h *hull) bool {
	m, w := b.to(p.w, h), p.w
	for k := len(w.limbs) - 1; k >= 0; k-- { // the outermost first, which mostly has the least room
		if w.limbs[k].behind > 0 && (p.kind == allLimbs || k < w.links) && !b.among(p, &m, k) {
			return false
		}
	}
	for i, pair := range w.pairs {
		if !b.pair(p, &m, i, pair[0], pair[1]) {
			return false
		}
	}
	return true
}

// among says whether a limb is clear of all that stands.
func (b *berth) among(p *space, m *motion, k int) bool {
	w, l, here := p.w, &p.w.limbs[k], &b.limbs[k]
	near := here.bounds.Wider(here.goes(&m.most, 0, l.behind) + rounding)
	for _, n := range w.boxes.index.Overlapping(&near) {
		box := &w.boxes.all[n]
		if !(l.behind <= 2 && w.foot[box.Box]) && !b.clear(p, m, k, n, 0, &box.bounds, 0, func() *solid.Solid { return &box.room }) {
			return false
		}
	}
	for _, n := range p.s.near(&near) {
		g := p.s.Grids[n]
		if g.part.Sized() && !b.clear(p, m, k, len(w.boxes.all)+n, 0, &g.bounds, 0, func() *solid.Solid {
			room := g.solid(w.tops[n])
			return &room
		}) {
			return false
		}
	}
	return true
}

// pair says whether two limbs are clear of each other.
func (b *berth) pair(p *space, m *motion, n, one, other int) bool {
	w := p.w
	first, l := &w.limbs[one], &w.limbs[other]
	if b.limbs[one].middle.Dist(b.limbs[other].middle)-first.ball-l.ball > b.limbs[other].goes(&m.most, first.behind, l.behind)+rounding {
		return true
	}
	return b.clear(p, m, other, -1-n, first.behind, &b.limbs[one].bounds, first.radius, func() *solid.Solid {
		core := first.at(&b.links)
		return &core
	})
}

// clear says whether a limb stays clear of another thing within bounds, which moves with the first joints. Mostly a plane between their bounds tells that.
func (b *berth) clear(p *space, m *motion, k, other, first int, bounds *solid.Bounds, radius float64, body func() *solid.Solid) bool {
	if away, room := bounds.Apart(&b.limbs[k].bounds); room > 0 && b.keeps(p.w, m, first, &plane{k, other, away, room + deep - rounding}) {
		return true
	}
	return b.keeps(p.w, m, first, b.plane(p, k, other, radius, body))
}

// keeps says whether a limb stays on its side of a plane that moves with the first joints.
//
// A point p of the limb comes away from the plane, which is square to n, by n·(a×(p-c)) for a radian of a joint with the axis a
// through c. The sum over all joints is linear in p, and so least at an end of the limb, and linear in how far they turn, and so least at one of the
// readings. That is to first order; what is missing is no more than half of the second derivatives. Each of these is a way of p
// about the outer one of two axes, turned about the inner one, and so no longer than p is from the outer one.
func (b *berth) keeps(w *armWatcher, m *motion, first int, x *plane) bool {
	l, here := &w.limbs[x.limb], &b.limbs[x.limb]
	room := x.room - here.goes(&m.off, first, l.behind) - b.bent(w, m, x.limb, first)
	if room < 0 {
		return false
	}
	for i := range m.n {
		turn := m.turns[i][l.behind].Turn.Sub(m.turns[i][first].Turn)
		linear := m.turns[i][l.behind].Linear.Sub(m.turns[i][first].Linear)
		along := x.away.Cross(turn)
		link := &b.links[l.behind-1]
		lo, _ := l.core.Along(link.R.T().Apply(along))
		if room+lo+along.Dot(link.T)-float64(l.radius*along.Norm())+x.away.Dot(linear) < 0 {
			return false
		}
	}
	return true
}

// bent is what may be missing to first order. A limb comes no farther from an axis than it is in the berth and what the joints behind that
// move it.
func (b *berth) bent(w *armWatcher, m *motion, k, first int) (bent float64) {
	l, here := &w.limbs[k], &b.limbs[k]
	turned, moved := 0.0, 0.0
	for i := first; i < l.behind; i++ {
		if !w.a.Joints[i].Slides {
			turned += m.most[i]
		}
	}
	for i := l.behind - 1; i >= first; i-- {
		if w.a.Joints[i].Slides {
			bent += float64(m.most[i] * turned)
			moved += m.most[i]
			continue
		}
		turned -= m.most[i]
		far := min(l.far[i], here.far[i]+moved)
		bent += float64(m.most[i] * far * (m.most[i]/2 + turned))
		moved += float64(m.most[i] * far)
	}
	return bent
}

// plane is the one between a limb and another thing.
func (b *berth) plane(p *space, k, other int, radius float64, body func() *solid.Solid) *plane {
	for i := range b.planes {
		if x := &b.planes[i]; x.limb == k && x.other == other {
			return x
		}
	}
	p.w.c.effort.made += effortPerBody
	l := &p.w.limbs[k]
	core := l.at(&b.links)
	away, room := solid.Between(body(), &core)
	if room > 0 {
		room += deep - rounding - radius - l.radius
	} else {
		room = -1
	}
	b.planes = append(b.planes, plane{k, other, away, room})
	return &b.planes[len(b.planes)-1]
}
