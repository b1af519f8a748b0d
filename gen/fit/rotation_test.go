package fit

import (
	"math"
	"testing"

	"gridferry/gen/geom"
)

func nearRot(t *testing.T, what string, got, want geom.Rot, within float64) {
	t.Helper()
	for i := range got {
		for j := range got[i] {
			if !(math.Abs(got[i][j]-want[i][j]) <= within) {
				t.Errorf("%s: row %d column %d: got %v, want %v", what, i+1, j+1, got[i][j], want[i][j])
			}
		}
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// Lynch & Park, Modern Robotics code library, documented example of ProjectToSO3:
// read in the source.
func TestNearestRotationPublished(t *testing.T) {
	r, _, gain := nearestRotation(geom.Rot{{0.675, 0.150, 0.720}, {0.370, 0.771, -0.511}, {-0.630, 0.619, 0.472}})
	nearRot(t, "turn", r, geom.Rot{
		{0.67901136, 0.14894516, 0.71885945},
		{0.37320708, 0.77319584, -0.51272279},
		{-0.63218672, 0.61642804, 0.46942137},
	}, 5e-9)
	if gain != 0 {
		t.Error("a reflection is nearer to a matrix close to a rotation")
	}
}

// SciPy, documentation example of Rotation.align_vectors (Kabsch): read in the
// source. Rotation only, no shift; two of the vectors are the same.
func TestAlignedVectorsPublished(t *testing.T) {
	to := []geom.Vec{{Y: 1}, {Y: 1, Z: 1}, {Y: 1, Z: 1}}
	from := []geom.Vec{{X: 1}, {X: 1, Y: 1.1}, {X: 1, Y: 0.9}}
	r, _, _ := nearestRotation(products(to, from))
	nearRot(t, "turn", r, geom.Rot{{0, 0, 1}, {1, 0, 0}, {0, 1, 0}}, 1e-12)
	sum := 0.0
	for i := range to {
		d := to[i].Dist(r.Apply(from[i]))
		sum += float64(d * d)
	}
	near(t, "root of the sum of squares", math.Sqrt(sum), 0.141421356237308, 1e-12)
}

// S. Umeyama, IEEE PAMI 13(4), 1991, 376-380, numerical example: inputs read in a
// copy; outputs recomputed, to three figures as the paper is remembered. In the
// plane the data are mirror images, so that a fit that forgets the determinant
// returns a reflection. A heavy third direction holds the turn in the plane.
func TestMirroredInThePlane(t *testing.T) {
	from := []geom.Vec{{}, {X: 1}, {Y: 2}}
	to := []geom.Vec{{}, {X: -1}, {Y: 2}}
	a, b := about(centroid(from), from), about(centroid(to), to)
	h := products(b, a)
	const heavy = 1000
	h[2][2] = heavy
	r, trace, gain := nearestRotation(h)
	if gain <= 0 {
		t.Error("a reflection is no nearer to mirrored data")
	}
	root := math.Sqrt(13)
	nearRot(t, "turn", r, geom.Rot{{3 / root, 2 / root, 0}, {-2 / root, 3 / root, 0}, {0, 0, 1}}, 1e-12)
	near(t, "scale", (trace-heavy)/(3*10.0/9), 0.7211103, 5e-8)

	shift := centroid(to).Sub(r.Apply(centroid(from)))
	near(t, "shift x", shift.X, -0.9804836, 5e-8)
	near(t, "shift y", shift.Y, 0.2968665, 5e-8)
	off := make([]geom.Vec, len(a))
	for i := range a {
		off[i] = b[i].Sub(r.Apply(a[i]))
	}
	rms := summarise(off).RMS
	near(t, "rms", rms, 0.7872452, 5e-8)
	near(t, "mean squared error", rms*rms, 0.6197550, 5e-8)
}

// The residual definition of the scikit-surgerycalibration project's tests, read
// in the source: one pose (110, 0, 0) not turned, tip (-100, 0, 0), post 0, has
// rms √(100/3) over the coordinates; (110, 10, -10) has 10. Ours is over points.
func TestRMSOverPointsAndCoordinates(t *testing.T) {
	for _, c := range []struct {
		places []geom.Vec
		want   float64
	}{
		{[]geom.Vec{{X: 110}}, 5.7735},
		{[]geom.Vec{{X: 110}, {X: 90}}, 5.7735},
		{[]geom.Vec{{X: 110, Y: 10, Z: -10}}, 10},
	} {
		off := make([]geom.Vec, len(c.places))
		for i, p := range c.places {
			off[i] = p.Add(geom.Vec{X: -100})
		}
		near(t, "rms", summarise(off).RMS/math.Sqrt(3), c.want, 5e-5)
	}
}

func TestRatioIsMinAngle(t *testing.T) {
	sin, _ := geom.SinCos(MinAngle)
	near(t, "sine", minRatio, sin, 1e-17)
}
