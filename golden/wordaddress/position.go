package wordaddress

// A Position holds the six axes: X, Y, Z in millimetres, A, B, C in degrees,
// unwrapped (370 is not 10, 2.1.2.2).
type Position struct{ X, Y, Z, A, B, C float64 }

const axisLetters = "XYZABC"

type axes [6]float64

func (p Position) axes() axes { return axes{p.X, p.Y, p.Z, p.A, p.B, p.C} }

func (a axes) position() Position { return Position{a[0], a[1], a[2], a[3], a[4], a[5]} }

func (a axes) plus(b axes) axes {
	for i := range a {
		a[i] += b[i]
	}
	return a
}

func (a axes) minus(b axes) axes {
	for i := range a {
		a[i] -= b[i]
	}
	return a
}
