package arm

import "gridferry/gen/geom"

// wrist is the last three of six turning joints where their axes meet in one point.
type wrist struct {
	centre geom.Vec
	axis   [3]geom.Vec
	swing  swing    // of axis 6 about axis 5, as axis 4 sees it
	side   geom.Vec // square to axis 6
}

// spherical reports whether the axes of the last three joints meet in one point, and which one.
func sphericalWrist(a *Arm) (centre geom.Vec, is bool) {
	four, five, six := &a.Joints[3], &a.Joints[4], &a.Joints[5]
	if parallel(four, five) || parallel(five, six) {
		return centre, false
	}
	on4, on5 := feet(four, five)
	also5, on6 := feet(five, six)
	centre = on5
	return centre, on4.Dist(on5) <= touch && on6.Dist(on5) <= touch && also5.Dist(on5) <= touch
}

func newWrist(a *Arm) wrist {
	w := wrist{}
	w.centre, _ = sphericalWrist(a)
	for i := range w.axis {
		w.axis[i] = a.Joints[3+i].Axis
	}
	w.swing = newSwing(w.axis[1], w.axis[0], w.axis[2])
	w.side = sideOf(w.axis[2])
	return w
}

// sideOf returns a unit vector square to one.
func sideOf(k geom.Vec) geom.Vec {
	side := k.Cross(geom.Vec{X: 1})
	if along := k.Cross(geom.Vec{Y: 1}); square(along) > square(side) {
		side = along
	}
	side, _ = side.Unit()
	return side
}

// inLine is the sine below which axes 4 and 6 count as in line, so that only the sum of what they turn can
// be told.
const inLine = 3e-11

// solve adds the solutions in which the wrist's joints together make a turn, from the readings of the joints before it.
func (w *wrist) solve(all geom.Rot, r, near Readings, found solutions) solutions {
	to := all.Apply(w.axis[2]) // axis 6
	fifths, ok := w.swing.turns(to)
	if !ok {
		return found
	}
	for _, fifth := range fifths {
		bend := turn(w.axis[1], fifth)
		fourth, apart := between(w.axis[0], bend.Apply(w.axis[2]), to, inLine)
		if !apart {
			fourth = toward(near[3])
		}
		after := bend.T().Apply(turn(w.axis[0], fourth).T().Apply(all.Apply(w.side)))
		sixth, _ := between(w.axis[2], w.side, after, 0)
		r[3], r[4], r[5] = fourth.degrees(), fifth.degrees(), sixth.degrees()
		if !apart {
			same := 1.0
			if to.Dot(w.axis[0]) < 0 {
				same = -1
			}
			half := turned(near[5]-r[5]) / 2
			r[3] -= float64(same * half)
			r[5] += half
		}
		found.add(r, near)
	}
	return found
}
