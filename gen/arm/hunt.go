package arm

import "gridferry/gen/geom"

// hunt is the search for the solutions of one pose by one view of the arm.
type hunt struct {
	ring
	view
	elimination
	near   Readings
	angles [6]direction // by place in the ring
	found  solutions

	rounding float64 // of the determinant, in parts of its bound
	clear    bool    // nothing speaks against having found all
}

const (
	// signal is how many times its rounding a determinant has to be for its roots to mean something.
	signal = 1e4
	// leastRounding is the least that rounding is taken for, in parts of the bound: at square poses the samples may show none.
	leastRounding = 1e-16
	// spread is the greatest value of rounding, in amplitudes of the highest multiples.
	spread = 30
	// beside is how far, as a cosine, roots still count that a lens shows beside the half circle that it is on: rounding may have
	// moved them over its edge.
	beside = 0.2
	// deep is how low the minimum of a sum of squares has to be to be 0 but for an error of θ₃, in parts of its bound.
	deep = 1e-5
	// hopeful is how far the flange may be off for readings to be worth polishing, in lengths and in degrees.
	hopeful, hopefulTurn = 0.1, 6
)

func (h *hunt) run() {
	h.elimination = h.eliminate()
	h.clear = true
	h.look(lens{middle: direction{1, 0}, power: 1}, 0)
	h.clear = h.clear && (len(h.found.list)-h.found.start)%2 == 0
}

// look finds the roots of the determinant as a lens shows it, and looks closer where rounding hides all.
func (h *hunt) look(l lens, closer int) {
	const closest = 3
	f, rounding := h.determinant(l)
	bound := f.bound()
	rounding = max(rounding, leastRounding*bound)
	if closer == 0 {
		h.rounding = rounding / bound
	}
	if !(bound > signal*rounding) {
		h.clear = false
		h.third(l.middle)
		h.third(toward(h.near[h.joint(2)]))
		return
	}
	s := sieve{series: &f, touching: spread * rounding, noise: spread * rounding}
	s.sift()
	h.clear = h.clear && !s.touches && !s.roots.full
	for _, at := range s.roots.at[:s.roots.n] {
		if closer > 0 && at.cos < -beside {
			continue
		}
		third := l.seen(at)
		h.third(third)
		h.clear = h.clear && (h.rows > 6 || h.answers(third))
	}
	for _, part := range s.flats[:s.parts] {
		switch from, to := l.seen(part.from), l.seen(part.to); {
		case closer > 0 && part.from.cos < -beside && part.to.cos < -beside:
		case closer < closest:
			h.look(lensOn(from, to), closer+1)
		default:
			h.clear = false
			h.third(from)
			h.third(to)
		}
	}
}

// answers reports whether a solution is found that has a root.
func (h *hunt) answers(third direction) bool {
	const close = 1 - 1e-9 // a 4·10⁻⁵th of a radian
	for i := h.found.start; i < len(h.found.list); i++ {
		is := toward(h.found.list[i].Readings[h.joint(2)])
		if float64(is.cos*third.cos)+float64(is.sin*third.sin) > close {
			return true
		}
	}
	return false
}

// third finds θ₄: all biforms together are singular in (1, cos θ₅, sin θ₅) where Gram's determinant has its minimum, 0.
func (h *hunt) third(at direction) {
	h.angles[2] = at
	b := h.at(at)
	var values [samples / 2]float64
	most := 0.0
	for i := range values {
		g := b.gram(places[2*i])
		values[i] = g.determinant()
		most = max(most, g.xx+g.yy+g.zz)
	}
	f, _ := through(values[:], 6)
	fourths := h.deepest(&f, float64(most*most*most), 3)
	for _, at := range fourths.at[:fourths.n] {
		h.fourth(&b, at)
	}
}

// deepest returns the minima of a sum of squares that may be 0, and what the joint at a place reads now, if all of the sum is
// nothing beside a scale: then the joint is free.
func (h *hunt) deepest(f *series, scale float64, place int) (found angles) {
	const nothing = 1e-13
	bound := f.bound()
	if bound <= nothing*scale {
		found.add(toward(h.near[h.joint(place)]))
	}
	lows := f.lows()
	for _, at := range lows.at[:lows.n] {
		if value, _, _ := f.at(at); value <= deep*bound {
			found.add(at)
		}
	}
	return found
}

// fourth finds θ₅: the biforms, of the order of 1, are linear in (1, cos θ₅, sin θ₅).
func (h *hunt) fourth(b *biforms, at direction) {
	h.angles[3] = at
	g := b.gram(at)
	f := g.squares()
	fifths := h.deepest(&f, 1, 4)
	for _, at := range fifths.at[:fifths.n] {
		h.fifth(at)
	}
}

// fifth finds θ₂: what no turn about axis 1 changes is linear in (1, cos θ₂, sin θ₂).
func (h *hunt) fifth(at direction) {
	h.angles[4] = at
	one, two := h.axes[0], h.axes[1]
	line := h.axes[5].moved(h.motion(2, 5))
	from, to := marked(line), marked(h.axes[5].moved(h.end))
	from, to = from.shifted(geom.Vec{}.Sub(two.point)), to.shifted(geom.Vec{}.Sub(one.point))
	want := to.kept(one.along)
	var parts [3][6]float64
	for i, part := range from.split(two.along) {
		part = part.shifted(two.point.Sub(one.point))
		parts[i] = part.kept(one.along)
	}
	var g gram
	for i := range want {
		g.add(parts[0][i]-want[i], parts[1][i], parts[2][i])
	}
	f := g.squares()
	seconds := h.deepest(&f, 1, 1)
	for _, at := range seconds.at[:seconds.n] {
		h.second(line, &to, at)
	}
}

// motion is that of the axes from one place to before another.
func (h *hunt) motion(from, to int) geom.Pose {
	p := h.axes[from].turn(h.angles[from])
	for i := from + 1; i < to; i++ {
		p = p.Mul(h.axes[i].turn(h.angles[i]))
	}
	return p
}

// second finds θ₁, which takes all vectors of a mark to those of another one, and then θ₆.
func (h *hunt) second(line axis, to *mark, at direction) {
	h.angles[1] = at
	one := h.axes[0]
	from := marked(line.moved(h.axes[1].turn(at)))
	from = from.shifted(geom.Vec{}.Sub(one.point))
	h.angles[0] = h.turnTo(0, []geom.Vec{from.line, from.at, from.moment, from.bent}, []geom.Vec{to.line, to.at, to.moment, to.bent})
	rest := h.motion(0, 5).Inverse().Mul(h.end)
	side := sideOf(h.axes[5].along)
	h.angles[5] = h.turnTo(5, []geom.Vec{side}, []geom.Vec{rest.R.Apply(side)})
	h.sixth(rest)
}

// turnTo returns the turn about an axis that best takes vectors to others, or what the joint reads now where there is none.
func (h *hunt) turnTo(place int, from, to []geom.Vec) direction {
	const nothing = 1e-9
	d := h.axes[place].along
	var sum direction
	for i, v := range from {
		sum.cos += v.Dot(to[i]) - float64(d.Dot(v)*d.Dot(to[i]))
		sum.sin += d.Dot(v.Cross(to[i]))
	}
	if by, ok := sum.unit(nothing); ok {
		return by
	}
	return toward(h.near[h.joint(place)])
}

// sixth adds the readings if they come near to the pose.
func (h *hunt) sixth(rest geom.Pose) {
	way, turn := Off(h.axes[5].turn(h.angles[5]), rest)
	if way > hopeful || turn > hopefulTurn {
		return
	}
	var r Readings
	for place, at := range h.angles {
		r[h.joint(place)] = at.degrees()
	}
	h.found.add(r, h.near)
}

// gram holds the products of the columns of equations x + y·cos θ + z·sin θ = 0.
type gram struct{ xx, xy, xz, yy, yz, zz float64 }

func (g *gram) add(x, y, z float64) {
	g.xx += float64(x * x)
	g.xy += float64(x * y)
	g.xz += float64(x * z)
	g.yy += float64(y * y)
	g.yz += float64(y * z)
	g.zz += float64(z * z)
}

// gram returns that of the biforms at a value of θ₄, as equations for θ₅.
func (b *biforms) gram(fourth direction) (g gram) {
	var v [3]float64
	for i := range b.rows {
		q := &b.eq[i]
		for k := range v {
			v[k] = q[k] + float64(fourth.cos*q[3+k]) + float64(fourth.sin*q[6+k])
		}
		g.add(v[0], v[1], v[2])
	}
	return g
}

func (g *gram) determinant() float64 {
	return float64(g.xx*(float64(g.yy*g.zz)-float64(g.yz*g.yz))) -
		float64(g.xy*(float64(g.xy*g.zz)-float64(g.yz*g.xz))) +
		float64(g.xz*(float64(g.xy*g.yz)-float64(g.yy*g.xz)))
}

// squares returns the sum of the squares of the equations' left sides.
func (g *gram) squares() (f series) {
	f.n = 2
	f.a[0] = g.xx + (g.yy+g.zz)/2
	f.a[1], f.b[1] = 2*g.xy, 2*g.xz
	f.a[2], f.b[2] = (g.yy-g.zz)/2, g.yz
	return f
}
