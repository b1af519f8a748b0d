package pattern

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/slot"
)

// Circle is one row of a ring: slots on a circle, the first one at an angle from the
// frame's X axis about its Z, each further one by Turn/Share on, in degrees.
type Circle struct {
	Radius      float64 // mm
	Places      int
	Start       float64
	Turn, Share float64
}

// Angle is that of slot k, in degrees.
func (c Circle) Angle(k int) float64 { return c.Start + float64(float64(k)*c.Turn)/c.Share }

// ring is slots on circles about one centre.
type ring struct {
	extent  Extent
	centre  geom.Vec
	circles []Circle
	layer   float64
	radial  bool
	lo, hi  geom.Vec
	pitch   float64
}

// Ring is slots on circles about one centre, in layers that are so far apart. Where it is
// radial, tool and part are turned at a slot by the slot's angle.
func Ring(extent Extent, centre geom.Vec, circles []Circle, layer float64, radial bool) Pattern {
	r := &ring{extent: extent, centre: centre, circles: circles, layer: layer, radial: radial}
	r.lo, r.hi = boundsOf(r)
	r.pitch = leastPitch(r, 0)
	return r
}

// boundsOf are the bounds of a pattern by its outline.
func boundsOf(p Pattern) (lo, hi geom.Vec) {
	lo, _ = p.At(slot.Slot{})
	hi = lo
	for _, s := range p.Outline() {
		at, _ := p.At(s)
		lo, hi = lo.Min(at), hi.Max(at)
	}
	return lo, hi
}

func (r *ring) Extent() Extent { return r.extent }

func (r *ring) At(s slot.Slot) (geom.Vec, float64) {
	c := r.circles[s.Row]
	angle := c.Angle(int(s.Col))
	sin, cos := geom.SinCos(angle)
	at := geom.Vec{X: r.centre.X + float64(c.Radius*cos), Y: r.centre.Y + float64(c.Radius*sin), Z: r.height(s.Layer)}
	if !r.radial {
		return at, 0
	}
	return at, withinHalfTurn(angle)
}

// withinHalfTurn is the same angle between -180, not included, and 180.
func withinHalfTurn(degrees float64) float64 {
	d := math.Mod(degrees, 360)
	switch {
	case d > 180:
		d -= 360
	case d <= -180:
		d += 360
	}
	return d
}

func (r *ring) height(layer int32) float64 { return r.centre.Z + float64(float64(layer)*r.layer) }

func (r *ring) Lie(s slot.Slot) geom.Rot {
	_, turned := r.At(s)
	return geom.RotZ(turned)
}

func (r *ring) Bounds() (lo, hi geom.Vec) { return r.lo, r.hi }

func (r *ring) Level(layer int) (lo, hi float64) {
	z := r.height(int32(layer))
	return z, z
}

// slack is more than rounding does to a slot's position, as a share of the radius.
const slack = 1e-9

// RowsIn is the circles that pass between the box's nearest and its farthest point.
func (r *ring) RowsIn(layer int, lo, hi geom.Vec) (first, last int) {
	if z := r.height(int32(layer)); z < lo.Z || z > hi.Z {
		return 0, -1
	}
	lo, hi = lo.Sub(r.centre), hi.Sub(r.centre)
	near := math.Hypot(max(lo.X, -hi.X, 0), max(lo.Y, -hi.Y, 0))
	far := math.Hypot(max(hi.X, -lo.X), max(hi.Y, -lo.Y))
	first, last = len(r.circles), -1
	for i, c := range r.circles {
		if c.Radius*(1+slack) >= near && c.Radius*(1-slack) <= far {
			first, last = min(first, i), i
		}
	}
	return first, last
}

// ColumnsIn is the slots between the two directions that the box is seen between from the
// centre. Where these have the first slot of the circle between them, it is all.
func (r *ring) ColumnsIn(row, layer int, lo, hi geom.Vec) (first, last int) {
	if at, end := r.RowsIn(layer, lo, hi); row < at || row > end {
		return 0, -1
	}
	c := r.circles[row]
	lo, hi = lo.Sub(r.centre), hi.Sub(r.centre)
	if lo.X <= 0 && hi.X >= 0 && lo.Y <= 0 && hi.Y >= 0 {
		return 0, c.Places - 1
	}
	// From the middle of the box no corner is seen farther than 90° away.
	middle := geom.Atan2((lo.Y+hi.Y)/2, (lo.X+hi.X)/2)
	least, most := 0.0, 0.0
	for _, x := range [...]float64{lo.X, hi.X} {
		for _, y := range [...]float64{lo.Y, hi.Y} {
			off := withinHalfTurn(geom.Atan2(y, x) - middle)
			least, most = min(least, off), max(most, off)
		}
	}
	const little = 1e-6 // degrees
	return c.between(middle+least-little, middle+most+little)
}

// between is the slots of a circle from one angle to a greater one; all of them where they
// are no range.
func (c Circle) between(from, to float64) (first, last int) {
	step := c.Turn / c.Share
	if step == 0 {
		return 0, c.Places - 1
	}
	from, to = (from-c.Start)/step, (to-c.Start)/step
	if step < 0 {
		from, to = to, from
	}
	round := 360 / math.Abs(step) // slots in a full turn
	turns := math.Floor(from / round)
	from, to = from-float64(turns*round), to-float64(turns*round)
	first, last = int(math.Ceil(min(from, float64(c.Places)))), int(math.Floor(min(to, float64(c.Places-1))))
	if to >= round { // round again, past the first slot
		again := int(math.Floor(min(to-round, float64(c.Places-1))))
		if first < c.Places && again >= 0 {
			return 0, c.Places - 1
		}
		if again >= 0 {
			return 0, again
		}
	}
	return first, last
}

func (r *ring) Outline() []slot.Slot { return outline(&r.extent) }

// Corners are quarter after quarter of the widest circle.
func (r *ring) Corners() [4]slot.Slot {
	widest := 0
	for i, c := range r.circles {
		if c.Radius > r.circles[widest].Radius {
			widest = i
		}
	}
	var corners [4]slot.Slot
	for i := range corners {
		corners[i] = slot.Slot{Row: int32(widest), Col: int32(i * r.circles[widest].Places / 4)}
	}
	return corners
}

func (r *ring) Pitch() float64 { return r.pitch }

// Form says nothing in short: the slots are shown one by one.
func (r *ring) Form() Form { return Form{} }

// Axis is a point on the axis of a ring, with or without corrections; false where slots lie
// otherwise.
func Axis(p Pattern) (geom.Vec, bool) {
	plain, _ := Uncorrected(p)
	if r, is := plain.(*ring); is {
		return r.centre, true
	}
	return geom.Vec{}, false
}
