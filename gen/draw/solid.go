package draw

import "gridferry/gen/geom"

// boxCorners are the eight corners of a box in a frame, in the base. Bit 0 of
// a corner's number is X, bit 1 Y, bit 2 Z: set for the upper end.
func boxCorners(frame geom.Pose, lo, hi geom.Vec) []geom.Vec {
	corners := make([]geom.Vec, 8)
	for i := range corners {
		c := lo
		if i&1 != 0 {
			c.X = hi.X
		}
		if i&2 != 0 {
			c.Y = hi.Y
		}
		if i&4 != 0 {
			c.Z = hi.Z
		}
		corners[i] = frame.Apply(c)
	}
	return corners
}

// edge is one edge of a box on the paper.
type edge struct{ a, b pt }

// boxEdges are the edges of a box that are seen, and those that the box itself
// hides. A hidden edge that lies under a seen one, or on the outline, is left out.
func (v *view) boxEdges(frame geom.Pose, lo, hi geom.Vec) (seen, hidden []edge) {
	corners := v.all(boxCorners(frame, lo, hi))
	var away []edge
	for axis := range 3 {
		for i := range 8 {
			if i&(1<<axis) != 0 {
				continue
			}
			e := edge{corners[i], corners[i|1<<axis]}
			if e.a.near(e.b, hair) {
				continue
			}
			if v.facesReader(frame, i, (axis+1)%3) || v.facesReader(frame, i, (axis+2)%3) {
				seen = append(seen, e)
			} else {
				away = append(away, e)
			}
		}
	}
	outline := hull(corners)
	for _, e := range away {
		if !e.under(seen) && !e.alongside(outline) {
			hidden = append(hidden, e)
		}
	}
	return seen, hidden
}

// facesReader reports whether the box's face at right angles to an axis, on the
// side of a corner, is turned to the reader.
func (v *view) facesReader(frame geom.Pose, corner, axis int) bool {
	const level = 1e-6
	cos := frame.R.Column(axis).Dot(v.toward)
	if corner&(1<<axis) == 0 {
		cos = -cos
	}
	return cos > level
}

// alongside reports whether the edge lies on one side of a polygon.
func (e edge) alongside(outline []pt) bool {
	for i, a := range outline {
		side := []pt{a, outline[(i+1)%len(outline)]}
		if nearestOn(side, e.a).near(e.a, 0.05) && nearestOn(side, e.b).near(e.b, 0.05) {
			return true
		}
	}
	return false
}

// under reports whether the edge lies on one of the others.
func (e edge) under(others []edge) bool {
	for _, o := range others {
		if e.a.near(o.a, 0.05) && e.b.near(o.b, 0.05) || e.a.near(o.b, 0.05) && e.b.near(o.a, 0.05) {
			return true
		}
	}
	return false
}
