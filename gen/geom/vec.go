package geom

import "math"

// Vec is a point or a displacement, in mm.
type Vec struct{ X, Y, Z float64 }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub returns v - w, the displacement from w to v.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Min returns the lesser of each coordinate, and Max the greater.
func (v Vec) Min(w Vec) Vec { return Vec{min(v.X, w.X), min(v.Y, w.Y), min(v.Z, w.Z)} }
func (v Vec) Max(w Vec) Vec { return Vec{max(v.X, w.X), max(v.Y, w.Y), max(v.Z, w.Z)} }

// Scale returns v with every coordinate multiplied by k.
//
// The conversions matter when the call is inlined into a sum.
func (v Vec) Scale(k float64) Vec {
	return Vec{float64(v.X * k), float64(v.Y * k), float64(v.Z * k)}
}

// Dot returns the scalar product, in mm².
func (v Vec) Dot(w Vec) float64 {
	return float64(v.X*w.X) + float64(v.Y*w.Y) + float64(v.Z*w.Z)
}

// Cross returns the vector product, right-handed.
func (v Vec) Cross(w Vec) Vec {
	return Vec{
		float64(v.Y*w.Z) - float64(v.Z*w.Y),
		float64(v.Z*w.X) - float64(v.X*w.Z),
		float64(v.X*w.Y) - float64(v.Y*w.X),
	}
}

// Norm returns the length, in mm.
func (v Vec) Norm() float64 { return math.Sqrt(v.Dot(v)) }

// Dist returns the distance from v to w, in mm.
func (v Vec) Dist(w Vec) float64 { return v.Sub(w).Norm() }

// Unit returns v at length 1, and false (with the zero vector) where v has no
// direction: length zero or not finite.
func (v Vec) Unit() (Vec, bool) {
	n := v.Norm()
	if n == 0 || !Finite(n) {
		return Vec{}, false
	}
	return Vec{v.X / n, v.Y / n, v.Z / n}, true
}

// AngleTo returns the angle between v and w, in [0, 180] degrees; 0 where one of
// them has no direction. It stays accurate for nearly parallel vectors, where an
// arc cosine would not.
func (v Vec) AngleTo(w Vec) float64 { return Atan2(v.Cross(w).Norm(), v.Dot(w)) }

// Finite reports whether no coordinate is NaN or infinite.
func (v Vec) Finite() bool { return Finite(v.X, v.Y, v.Z) }

// Finite reports whether none of the values is NaN or infinite.
func Finite(values ...float64) bool {
	for _, x := range values {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
