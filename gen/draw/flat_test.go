package draw

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"gridferry/gen/geom"
)

func somePoint(far float64) *rapid.Generator[pt] {
	return rapid.Custom(func(t *rapid.T) pt {
		return pt{rapid.Float64Range(-far, far).Draw(t, "x"), rapid.Float64Range(-far, far).Draw(t, "y")}
	})
}

var window = rect{-10, -5, 10, 5}

// What is cut lies inside and on the line; what was inside stays.
func TestClipLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := somePoint(40).Draw(t, "a"), somePoint(40).Draw(t, "b")
		p, q, ok := clipLine(a, b, window)
		if !ok {
			for i := range 101 {
				if at := a.to(b, float64(i)/100); window.grown(-1e-6).has(at) {
					t.Fatalf("%v is inside, but nothing was kept", at)
				}
			}
			return
		}
		for _, end := range []pt{p, q} {
			if !window.grown(1e-9).has(end) || math.Abs(turn(a, b, end)) > 1e-9*(1+a.minus(b).length()*80) {
				t.Fatalf("%v is outside the window or off the line", end)
			}
		}
		if window.has(a) && p != a {
			t.Fatalf("the end %v was inside and moved to %v", a, p)
		}
	})
}

// A circle's pieces inside the window add up to the share of its points that
// are inside.
func TestClipCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, r := somePoint(20).Draw(t, "c"), rapid.Float64Range(0.1, 40).Draw(t, "r")
		const points = 3600
		inside := 0
		for i := range points {
			if window.has(onCircle(c, r, float64(i)*360/points)) {
				inside++
			}
		}
		degrees := 0.0
		for _, a := range clipCircle(c, r, window) {
			switch {
			case a.whole:
				degrees += 360
			default:
				d := math.Mod(geom.Atan2(a.to.y-c.y, a.to.x-c.x)-geom.Atan2(a.from.y-c.y, a.from.x-c.x)+720, 360)
				if a.large != (d > 180) {
					t.Fatalf("the piece of %v degrees is marked large %v", d, a.large)
				}
				degrees += d
			}
		}
		const slack = 3.0 // a grazing piece may count or not
		if math.Abs(degrees-float64(inside)*360/points) > slack+2/math.Sqrt(r) {
			t.Fatalf("the pieces have %.2f degrees, the points say %.2f", degrees, float64(inside)*360/points)
		}
	})
}

// The hull holds every point and has no corner that is not one of them.
func TestHull(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := rapid.SliceOfN(somePoint(10), 3, 12).Draw(t, "points")
		corners := hull(points)
		if len(corners) < 3 {
			return
		}
		for i, a := range corners {
			b := corners[(i+1)%len(corners)]
			for _, p := range points {
				if turn(a, b, p) < -2*hair*(1+a.minus(b).length()) {
					t.Fatalf("%v is outside the hull %v", p, corners)
				}
			}
		}
	})
}

// From above, a box that stands upright has four edges that are seen and none
// that are hidden apart from those under them; one that is turned askew shows
// nine of its twelve and hides three.
func TestBoxEdges(t *testing.T) {
	v := newView("top", xAxis, yAxis)
	v.lo, v.hi, v.scale = pt{-50, -50}, pt{50, 50}, 1
	v.put(0, 0)
	lo, hi := geom.Vec{X: -10, Y: -10, Z: -10}, geom.Vec{X: 10, Y: 10, Z: 10}
	for _, c := range []struct {
		turn         geom.RPY
		seen, hidden int
	}{{geom.RPY{}, 4, 0}, {geom.RPY{Yaw: 30}, 4, 0}, {geom.RPY{Roll: 180, Yaw: 12}, 4, 0}, {geom.RPY{Roll: 20}, 7, 1}, {geom.RPY{Roll: 20, Pitch: 30, Yaw: 40}, 9, 3}} {
		seen, hidden := v.boxEdges(geom.Pose{R: c.turn.Rot()}, lo, hi)
		if len(seen) != c.seen || len(hidden) != c.hidden {
			t.Errorf("%+v: %d edges seen and %d hidden, wanted %d and %d", c.turn, len(seen), len(hidden), c.seen, c.hidden)
		}
	}
}

func TestNum(t *testing.T) {
	for x, want := range map[float64]string{0: "0.000", -0.0001: "0.000", 1.0005: "1.001", -2.5: "-2.500", 1e9: "1000000000.000"} {
		if got := num(x); got != want {
			t.Errorf("%v is written %s, wanted %s", x, got, want)
		}
	}
}
