package arm

import "gridferry/gen/geom"

// mark is a directed line, by its unit direction and a point on it, with those of their products that a
// motion changes linearly: 14 numbers, and the 1 that shifts need. (They are the 14 equations of
// Raghavan & Roth, J. Mech. Design 115, 1993; from memory. Together they are a null vector of conformal
// geometry, and a line through it, which is why turns and shifts stay linear.)
type mark struct {
	line, at, moment, bent geom.Vec // l, p, p×l, (p·p)l - 2(p·l)p
	along, square, one     float64  // p·l, p·p, 1
}

// marked returns the mark of a line.
func marked(a axis) mark {
	l, p := a.along, a.point
	along, square := p.Dot(l), p.Dot(p)
	return mark{
		line: l, at: p, moment: p.Cross(l), bent: l.Scale(square).Sub(p.Scale(2 * along)),
		along: along, square: square, one: 1,
	}
}

// shifted is the mark after a shift by a.
func (m *mark) shifted(a geom.Vec) mark {
	al, aa := a.Dot(m.line), a.Dot(a)
	return mark{
		line:   m.line,
		at:     m.at.Add(a.Scale(m.one)),
		moment: m.moment.Add(a.Cross(m.line)),
		bent: m.bent.Sub(a.Cross(m.moment).Scale(2)).Add(m.line.Scale(aa)).
			Sub(a.Scale(2 * (m.along + al))),
		along:  m.along + al,
		square: m.square + float64(2*a.Dot(m.at)) + float64(aa*m.one),
		one:    m.one,
	}
}

// split gives what a turn about a direction through the origin makes of a mark: still + cos θ · cosine +
// sin θ · sine.
func (m *mark) split(d geom.Vec) (parts [3]mark) {
	still, cosine, sine := &parts[0], &parts[1], &parts[2]
	still.along, still.square, still.one = m.along, m.square, m.one
	still.line, cosine.line, sine.line = splitVec(d, m.line)
	still.at, cosine.at, sine.at = splitVec(d, m.at)
	still.moment, cosine.moment, sine.moment = splitVec(d, m.moment)
	still.bent, cosine.bent, sine.bent = splitVec(d, m.bent)
	return parts
}

func splitVec(d, v geom.Vec) (still, cosine, sine geom.Vec) {
	still = d.Scale(d.Dot(v))
	return still, v.Sub(still), d.Cross(v)
}

// numbers writes the 14 numbers.
func (m *mark) numbers() [14]float64 {
	return [14]float64{
		m.line.X, m.line.Y, m.line.Z, m.at.X, m.at.Y, m.at.Z,
		m.moment.X, m.moment.Y, m.moment.Z, m.bent.X, m.bent.Y, m.bent.Z, m.along, m.square,
	}
}

// kept writes the six numbers that no turn about d changes.
func (m *mark) kept(d geom.Vec) [6]float64 {
	return [6]float64{d.Dot(m.line), d.Dot(m.at), d.Dot(m.moment), d.Dot(m.bent), m.along, m.square}
}
