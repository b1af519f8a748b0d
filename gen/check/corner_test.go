package check

import (
	"math/rand/v2"
	"testing"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// TestCornersBeginAndEndWhereTheFlyBySays: on ways of the joints and on lines, the TCP is as far from the corner as the fly-by
// radius, by the arm's forward kinematics, which another library confirms in package arm; on a way the readings are a mean of those at its
// ends, and on a line the TCP is on it. A way that ends nearer is left at its beginning.
func TestCornersBeginAndEndWhereTheFlyBySays(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: of hundreds of corners")
	}
	t.Parallel()
	q := question{a: benchArm(), r: rand.New(rand.NewPCG(3, 1))}
	l := q.among(0, geom.Vec{}, 0)
	tool := geom.At(geom.Vec{X: 20, Z: 120}, geom.RPY{})
	l.Tools = []*layout.Tool{{TCP: tool}}
	w := newArmWatcher(lookAt(l).w.c)
	stands := func(r *arm.Readings) Station {
		p := q.a.Pose(*r).Mul(tool)
		return Station{Known: true, At: p.T, Turn: p.R, Joints: r}
	}
	lines, ways := 0, 0
	for range 300 {
		at, to := q.readings(100), q.readings(100)
		corner, end, radius := stands(&at), stands(&to), q.between(1, 60)
		got := w.away(&arc{corner: corner, end: end, between: move.JointPath, tool: 1, radius: radius})
		far := corner.At.Dist(stands(&got).At)
		if end.At.Dist(corner.At) <= radius {
			if got != to {
				t.Errorf("a way of %g mm is not left at its other end", end.At.Dist(corner.At))
			}
			continue
		}
		ways++
		if far < radius || far > radius*1.0021 {
			t.Errorf("the TCP is %g mm away, wanted %g", far, radius)
		}
		share := (got[0] - at[0]) / (to[0] - at[0])
		if want := mean(&at, &to, share); !near(&got, &want) {
			t.Errorf("the readings %v are not on the way from %v to %v", got, at, to)
		}

		line := Station{Known: true, At: corner.At.Add(q.vec(150)), Turn: corner.Turn, Joints: &to}
		if long := line.At.Dist(corner.At); long <= radius {
			continue
		}
		got = w.away(&arc{corner: corner, end: line, between: move.LinePath, tool: 1, radius: radius})
		here := stands(&got).At
		if far := here.Dist(corner.At); far < radius-1e-6 { // the arm does not get there
			continue
		}
		lines++
		if want := corner.At.Add(line.At.Sub(corner.At).Scale(radius / line.At.Dist(corner.At))); here.Dist(want) > 1e-6 {
			t.Errorf("on a line the TCP is at %v, wanted %v", here, want)
		}
	}
	if ways < 200 || lines < 100 {
		t.Errorf("%d ways and %d lines: the test proves little", ways, lines)
	}
}

func near(a, b *arm.Readings) bool {
	for i := range a {
		if d := a[i] - b[i]; d < -1e-9 || d > 1e-9 {
			return false
		}
	}
	return true
}
