package solid

import "gridferry/gen/geom"

// Bounds is an upright box, lo below hi in every direction.
type Bounds struct{ Lo, Hi geom.Vec }

// Overlaps tells whether two boxes share more than a side.
func (b *Bounds) Overlaps(c *Bounds) bool {
	return b.Lo.X < c.Hi.X && b.Hi.X > c.Lo.X && b.Lo.Y < c.Hi.Y && b.Hi.Y > c.Lo.Y && b.Lo.Z < c.Hi.Z && b.Hi.Z > c.Lo.Z
}

// Around is the box around two.
func (b *Bounds) Around(c *Bounds) Bounds {
	return Bounds{
		geom.Vec{X: min(b.Lo.X, c.Lo.X), Y: min(b.Lo.Y, c.Lo.Y), Z: min(b.Lo.Z, c.Lo.Z)},
		geom.Vec{X: max(b.Hi.X, c.Hi.X), Y: max(b.Hi.Y, c.Hi.Y), Z: max(b.Hi.Z, c.Hi.Z)},
	}
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
