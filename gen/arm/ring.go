package arm

import "gridferry/gen/geom"

// axis is a directed line: a unit vector and a point.
type axis struct{ along, point geom.Vec }

// moved is the axis in the parent of a pose.
func (a axis) moved(p geom.Pose) axis { return axis{p.R.Apply(a.along), p.Apply(a.point)} }

// turn is the motion of what turns about the axis.
func (a axis) turn(by direction) geom.Pose {
	r := turn(a.along, by)
	return geom.Pose{R: r, T: a.point.Sub(r.Apply(a.point))}
}

// ring is six axes whose turns, one after the other, make up a motion: E₁E₂E₃E₄E₅E₆ = end. With the flange held at a
// pose an arm is a closed chain: none of its joints is the first, and it may be gone round either way.
type ring struct {
	axes [6]axis
	end  geom.Pose
}

// view is a way to go round a ring: from which joint, and whether backwards.
type view struct {
	start     int
	backwards bool
}

// joint returns which joint stands at a place of the ring.
func (v view) joint(place int) int {
	k := (v.start + place) % 6
	if v.backwards {
		return 5 - k
	}
	return k
}

// seen returns the ring as it is gone round; the angles of its joints stay the same.
func (c *ring) seen(by view) ring {
	r := *c
	if by.backwards { // E₆⁻¹ … E₁⁻¹ = end⁻¹, and the inverse of a turn is that about the opposite axis
		r.end = c.end.Inverse()
		for i, a := range c.axes {
			r.axes[5-i] = axis{geom.Vec{}.Sub(a.along), a.point}
		}
	}
	back, axes := r.end.Inverse(), r.axes
	for i := range axes {
		k := by.start + i
		r.axes[i] = axes[k%6]
		if k >= 6 { // E₂ … E₆·(end⁻¹E₁end) = end
			r.axes[i] = r.axes[i].moved(back)
		}
	}
	return r
}
