package fit_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
)

// rounds is how many random cases a law is tried on.
const rounds = 300

func random(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 2)) }

func vec(x, y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }

func randomVec(r *rand.Rand) geom.Vec {
	return vec(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Scale(200)
}

func randomPose(r *rand.Rand) geom.Pose {
	axis, _ := randomVec(r).Unit()
	return geom.Pose{R: geom.RotFromVector(axis.Scale(360 * r.Float64())), T: randomVec(r)}
}

// cloud returns n points that fill space, none close to another.
func cloud(r *rand.Rand, n int) []geom.Vec {
	points := make([]geom.Vec, 0, n)
	for len(points) < n {
		p := randomVec(r)
		for _, q := range points {
			if p.Dist(q) < 20 {
				p = q
			}
		}
		if len(points) == 0 || p != points[len(points)-1] && !contains(points, p) {
			points = append(points, p)
		}
	}
	return points
}

func contains(points []geom.Vec, p geom.Vec) bool {
	for _, q := range points {
		if p == q {
			return true
		}
	}
	return false
}

func moved(p geom.Pose, points []geom.Vec) []geom.Vec {
	to := make([]geom.Vec, len(points))
	for i, v := range points {
		to[i] = p.Apply(v)
	}
	return to
}

// shaken returns the points with noise of about size mm on every coordinate.
func shaken(r *rand.Rand, size float64, points []geom.Vec) []geom.Vec {
	to := make([]geom.Vec, len(points))
	for i, v := range points {
		to[i] = v.Add(vec(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()).Scale(size))
	}
	return to
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func nearVec(t *testing.T, what string, got, want geom.Vec, within float64) {
	t.Helper()
	near(t, what+" x", got.X, want.X, within)
	near(t, what+" y", got.Y, want.Y, within)
	near(t, what+" z", got.Z, want.Z, within)
}

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

func nearPose(t *testing.T, what string, got, want geom.Pose, turn, place float64) {
	t.Helper()
	nearRot(t, what, got.R, want.R, turn)
	nearVec(t, what, got.T, want.T, place)
}

func bestFit(t *testing.T, nominal, measured []geom.Vec) fit.Registration {
	t.Helper()
	f, err := fit.BestFit(nominal, measured)
	if err != nil {
		t.Fatalf("best fit: %v", err)
	}
	return f
}

// refused returns the refusal, which must be of kind k.
func refused(t *testing.T, err error, k fit.Kind) *fit.Error {
	t.Helper()
	var e *fit.Error
	if !errors.As(err, &e) {
		t.Fatalf("got %v, want a refusal of kind %d", err, k)
	}
	if e.Kind != k {
		t.Fatalf("got kind %d (%v), want kind %d", e.Kind, e, k)
	}
	return e
}

// says checks the plain sentence and hint of a refusal, which people read.
func says(t *testing.T, e *fit.Error, message, hint string) {
	t.Helper()
	if e.Error() != message {
		t.Errorf("message:\n got %s\nwant %s", e.Error(), message)
	}
	if e.Hint() != hint {
		t.Errorf("hint:\n got %s\nwant %s", e.Hint(), hint)
	}
}
