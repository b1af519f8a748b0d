package simulate

// hanging is what hangs on the flange, tool and parts together: its mass, its centre of gravity where
// the tool's is known, and its moments of inertia where the tool's and the sizes of all parts are known.
// A part is a solid box; without a size its mass is at the TCP. Moments of inertia about parallel
// axes: I + m·d² (the theorem of parallel axes).
func (a *arm) hanging() (kg float64, centre, inertia Vec) {
	t := a.fitted
	kg = t.Mass.V
	moment := Vec{}.add(Vec(t.CentreOfGravity.V), kg)
	type body struct {
		kg  float64
		at  Vec
		own Vec
	}
	bodies := []body{{kg, Vec(t.CentreOfGravity.V), Vec(t.Inertia.V)}}
	sized := true
	for _, h := range t.hands {
		if h.part == nil {
			continue
		}
		b := body{kg: h.part.kind.Mass.V, at: h.tcp.At}
		if sized = sized && h.part.kind.Size.IsSet(); h.part.kind.Size.IsSet() {
			b.at, b.own = h.part.middle.At, h.part.box()
		}
		kg += b.kg
		moment = moment.add(b.at, b.kg)
		bodies = append(bodies, b)
	}
	if !t.CentreOfGravity.IsSet() {
		return kg, Vec{}, Vec{}
	}
	centre = Vec{}.add(moment, 1/kg)
	if !t.Inertia.IsSet() || !sized {
		return kg, centre, Vec{}
	}
	for _, b := range bodies {
		d := b.at.add(centre, -1)
		for i := range inertia {
			off := d.dot(d) - d[i]*d[i]
			inertia[i] += b.own[i] + b.kg*off*1e-6 // mm² to m²
		}
	}
	return kg, centre, inertia
}

// box is the moments of inertia of a solid box about axes through its middle along the flange's:
// m/12·(b²+c²) along its own, and of a turned one the diagonal of R·I·Rᵀ.
func (h *held) box() (own Vec) {
	size := Vec(h.kind.Size.V)
	for i := range own {
		for k := range own {
			r := h.middle.R[i][k]
			own[i] += r * r * h.kind.Mass.V / 12 * (size.dot(size) - size[k]*size[k]) * 1e-6
		}
	}
	return own
}
