package solid

import "gridferry/gen/geom"

// Bounds is an upright box, lo below hi in every direction.
type Bounds struct{ Lo, Hi geom.Vec }

// Overlaps reports whether two boxes share more than a side.
func (b *Bounds) Overlaps(c *Bounds) bool {
	return b.Lo.X < c.Hi.X && b.Hi.X > c.Lo.X && b.Lo.Y < c.Hi.Y && b.Hi.Y > c.Lo.Y && b.Lo.Z < c.Hi.Z && b.Hi.Z > c.Lo.Z
}

// Apart is how far one box is from another along an axis, the one along which that is most, and the direction from it to
// the other one; below 0 where they overlap.
func (b *Bounds) Apart(c *Bounds) (along geom.Vec, apart float64) {
	below, above := b.Lo.Sub(c.Hi), c.Lo.Sub(b.Hi)
	along, apart = geom.Vec{X: 1}, above.X
	for _, other := range [...]struct {
		along geom.Vec
		apart float64
	}{{geom.Vec{X: -1}, below.X}, {geom.Vec{Y: 1}, above.Y}, {geom.Vec{Y: -1}, below.Y}, {geom.Vec{Z: 1}, above.Z}, {geom.Vec{Z: -1}, below.Z}} {
		if other.apart > apart {
			along, apart = other.along, other.apart
		}
	}
	return along, apart
}

// Around is the box around two.
func (b *Bounds) Around(c *Bounds) Bounds { return Bounds{b.Lo.Min(c.Lo), b.Hi.Max(c.Hi)} }

// Wider is the box with so much more room on every side.
func (b *Bounds) Wider(by float64) Bounds {
	more := geom.Vec{X: by, Y: by, Z: by}
	return Bounds{b.Lo.Sub(more), b.Hi.Add(more)}
}

// Along is the box around one that is written about a point, while that point goes
// straight from one place to another.
func (b *Bounds) Along(from, to geom.Vec) Bounds {
	if to.X < from.X {
		from.X, to.X = to.X, from.X
	}
	if to.Y < from.Y {
		from.Y, to.Y = to.Y, from.Y
	}
	if to.Z < from.Z {
		from.Z, to.Z = to.Z, from.Z
	}
	return Bounds{b.Lo.Add(from), b.Hi.Add(to)}
}

// Passage is the part of a way on which a box that is written about a point overlaps
// another, while that point goes straight along the way: where it begins and
// ends, as fractions of the way. False where they never share more than a side.
func (b *Bounds) Passage(other *Bounds, from, way geom.Vec) (begin, end float64, ok bool) {
	// They overlap where the point is in the box of their differences.
	begin, end = clip(0, 1, from.X, way.X, other.Lo.X-b.Hi.X, other.Hi.X-b.Lo.X)
	begin, end = clip(begin, end, from.Y, way.Y, other.Lo.Y-b.Hi.Y, other.Hi.Y-b.Lo.Y)
	begin, end = clip(begin, end, from.Z, way.Z, other.Lo.Z-b.Hi.Z, other.Hi.Z-b.Lo.Z)
	return begin, end, begin < end
}

// clip narrows a part of a way to where one coordinate is between two values; the
// end comes before the beginning where it never is.
func clip(begin, end, from, way, lo, hi float64) (float64, float64) {
	if way == 0 {
		if from <= lo || from >= hi {
			return 1, 0
		}
		return begin, end
	}
	in, out := (lo-from)/way, (hi-from)/way
	if way < 0 {
		in, out = out, in
	}
	return max(begin, in), min(end, out)
}
