package wordaddress

import "math"

// tolerance is how far start and end radius of an arc may differ (3.5.3),
// by units: millimetres in both cases.
func tolerance(scale float64) float64 {
	if scale == 25.4 {
		return float64(0.0002 * 25.4) // 0.0002 inch as printed
	}
	return 0.002
}

// An arc is what the end point alone does not say.
type arc struct {
	center axes
	length float64 // of the projection on the plane
	rise   float64 // along the plane's normal
}

// inPlane gives the indexes of the two axes of the plane, so ordered that the
// normal's positive end sees the first turn into the second anticlockwise.
func (m *machine) inPlane() (first, second, normal int) {
	switch m.plane {
	case 18:
		return 2, 0, 1
	case 19:
		return 1, 2, 0
	}
	return 0, 1, 2
}

// arc works out G2 or G3 in radius or centre form (3.5.3).
func (m *machine) arc(at Word, target axes, given [6]bool) (arc, *Error) {
	first, second, normal := m.inPlane()
	if !given[first] && !given[second] {
		return arc{}, m.fault(at, "3.5.3", "an arc wants at least one axis word of its plane G%d", m.plane)
	}
	if !m.known[first] || !m.known[second] {
		return arc{}, m.fault(at, "3.5.3", "an arc from a point that no block has given")
	}
	a := arc{center: m.at, rise: target[normal] - m.at[normal]}
	var err *Error
	if r, ok := m.take('R'); ok {
		err = m.radiusForm(&a, r, target)
	} else {
		err = m.centreForm(&a, at, target)
	}
	if err != nil {
		return a, err
	}
	a.length = m.sweep(a, target)
	return a, nil
}

// centreForm reads the centre as an increment from the start, whatever G90 or
// G91 says (3.5.3.2).
func (m *machine) centreForm(a *arc, at Word, target axes) *Error {
	first, second, _ := m.inPlane()
	found := false
	for _, i := range []int{first, second} {
		w, ok := m.take("IJK"[i])
		if !ok {
			continue
		}
		found = true
		shift, err := m.length(w)
		if err != nil {
			return err
		}
		a.center[i] += shift
	}
	if !found {
		return m.fault(at, "3.5.3.2", "an arc wants R, or the centre in two of I, J and K that lie in plane G%d", m.plane)
	}
	from := math.Hypot(m.at[first]-a.center[first], m.at[second]-a.center[second])
	to := math.Hypot(target[first]-a.center[first], target[second]-a.center[second])
	if from == 0 {
		return m.fault(at, "3.5.3.2", "the arc's centre is its start: the radius is zero")
	}
	if math.Abs(from-to) > tolerance(m.scale) {
		return m.fault(at, "3.5.3", "the arc starts at radius %.4f mm and ends at %.4f mm, at most %.4f apart is allowed", from, to, tolerance(m.scale))
	}
	return nil
}

// radiusForm finds the centre from R: positive turns at most half a circle,
// negative more (3.5.3.1).
func (m *machine) radiusForm(a *arc, r Word, target axes) *Error {
	first, second, _ := m.inPlane()
	radius, err := m.length(r)
	if err != nil {
		return err
	}
	dx, dy := target[first]-m.at[first], target[second]-m.at[second]
	chord := math.Hypot(dx, dy)
	if chord == 0 {
		return m.fault(r, "3.5.3.1", "an arc in radius form may not end where it starts")
	}
	inside := float64(radius*radius) - float64(chord*chord)/4
	if chord/2-math.Abs(radius) > tolerance(m.scale) {
		return m.fault(r, "3.5.3.1", "radius %.4f mm is too small for end points %.4f mm apart", radius, chord)
	}
	height := math.Sqrt(math.Max(inside, 0))
	if (m.motion == 20) == (radius > 0) {
		height = -height // the centre lies to the right of the chord
	}
	a.center[first] += dx/2 - float64(dy/chord*height)
	a.center[second] += dy/2 + float64(dx/chord*height)
	return nil
}

// sweep gives the length of the arc's projection on its plane; an arc that
// ends where it starts is a full circle.
func (m *machine) sweep(a arc, target axes) float64 {
	first, second, _ := m.inPlane()
	x, y := m.at[first]-a.center[first], m.at[second]-a.center[second]
	from := math.Atan2(y, x)
	to := math.Atan2(target[second]-a.center[second], target[first]-a.center[first])
	turn := to - from
	if m.motion == 20 {
		turn = -turn
	}
	for turn <= 1e-12 {
		turn += 2 * math.Pi
	}
	return turn * math.Hypot(x, y)
}
