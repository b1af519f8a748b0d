package pattern

import "slices"

// Overlap is how a layer of boxes rests on the one below it.
type Overlap struct {
	// Rests is the share of each upper box's base that rests on boxes below, from 0 to 1,
	// and On how many those are: one that rests on several ties them together.
	Rests []float64
	On    []int
	// Joints is the length of the joints between the boxes of the upper layer, and Through
	// how much of it lies above joints of the lower one that go the same way, in mm: there
	// a vertical joint runs through both layers.
	Joints, Through float64
}

// Tied is how many boxes of the upper layer rest on several of the lower one.
func (o *Overlap) Tied() (n int) {
	for _, on := range o.On {
		if on > 1 {
			n++
		}
	}
	return n
}

// Least is the least share with which a box of the upper layer rests on those below; 1
// where there are none.
func (o *Overlap) Least() float64 {
	return slices.Min(append([]float64{1}, o.Rests...))
}

// Overlap is how one layer rests on another. A joint is the room between two boxes that
// face each other with no room for a box between them: a gap, and what a layout
// leaves free.
func (f Floor) Overlap(lower, upper []LayBox, looks *Looks) Overlap {
	n := len(lower) + len(upper)
	if !looks.take(n * n) {
		return Overlap{}
	}
	below, above := f.bases(lower), f.bases(upper)
	var o Overlap
	for i := range above {
		rests, on := above[i].restsOn(below)
		o.Rests, o.On = append(o.Rests, rests), append(o.On, on)
	}
	for axis := range 2 {
		under, over := f.joints(below, axis), f.joints(above, axis)
		if !looks.take(len(under) * len(over)) {
			return Overlap{}
		}
		for i := range over {
			o.Joints += over[i].long(axis)
			o.Through += over[i].shared(under, axis)
		}
	}
	return o
}

// restsOn is the share of a base that lies on others, and how many of them bear more than
// a hundredth of it.
func (b *base) restsOn(below []base) (share float64, on int) {
	const bears = 0.01 // common practice, no source
	all := 0.0
	for i := range below {
		if c := b.with(&below[i]); c.lo[0] < c.hi[0] && c.lo[1] < c.hi[1] {
			all += c.area()
			if c.area() > bears*b.area() {
				on++
			}
		}
	}
	return min(1, all/b.area()), on
}

// joints is the rooms between boxes that face each other along an axis.
func (f Floor) joints(bases []base, axis int) []base {
	narrow, other := int64(min(f.Base[0], f.Base[1])*thousandths), 1-axis
	var all []base
	for i := range bases {
		for k := range bases {
			p, q := &bases[i], &bases[k]
			if !p.ends(q, axis) || q.lo[axis]-p.hi[axis] >= narrow || p.ends(q, other) || q.ends(p, other) {
				continue
			}
			j := p.with(q)
			j.lo[axis], j.hi[axis] = p.hi[axis]-touching, q.lo[axis]+touching
			all = append(all, j)
		}
	}
	return all
}

// long is how long a joint is between boxes that face each other along an axis, in mm.
func (b *base) long(axis int) float64 {
	return float64(b.hi[1-axis]-b.lo[1-axis]) / thousandths
}

// shared is how much of a joint's length lies above others, in mm. Those others do not lie
// side by side under it: between them there is a box, which is wider than a joint.
func (b *base) shared(under []base, axis int) (all float64) {
	for i := range under {
		if c := b.with(&under[i]); c.lo[axis] <= c.hi[axis] && c.lo[1-axis] < c.hi[1-axis] {
			all += c.long(axis)
		}
	}
	return all
}
