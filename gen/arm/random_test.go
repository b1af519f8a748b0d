package arm

import (
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"gridferry/gen/geom"
)

// arms is how many random arms a law is tried on: some thousands, a few under -short, or what the
// environment variable GRIDFERRY_ARMS says.
func arms(t testing.TB, usual int) int {
	if n, err := strconv.Atoi(os.Getenv("GRIDFERRY_ARMS")); err == nil {
		return n
	}
	if testing.Short() {
		return usual / 20
	}
	return usual
}

// dice makes arms, readings and poses.
type dice struct{ *rand.Rand }

func roll(seed uint64) dice { return dice{rand.New(rand.NewPCG(seed, 17))} }

func (d dice) angle() float64 { return 360*d.Float64() - 180 }

func (d dice) readings(a *Arm) (r Readings) {
	for i := range a.Joints {
		r[i] = d.angle()
		if a.Joints[i].Slides {
			r[i] *= 3
		}
	}
	return r
}

func (d dice) direction() geom.Vec {
	for {
		if v, ok := (geom.Vec{X: d.NormFloat64(), Y: d.NormFloat64(), Z: d.NormFloat64()}).Unit(); ok {
			return v
		}
	}
}

func (d dice) pose() geom.Pose {
	return geom.Pose{R: turn(d.direction(), toward(d.angle())), T: d.direction().Scale(800 * d.Float64())}
}

// of is one of the values, or a random one up to most, as often as each of them.
func (d dice) of(most float64, values ...float64) float64 {
	if i := d.IntN(len(values) + 1); i < len(values) {
		return values[i]
	}
	return most * (2*d.Float64() - 1)
}

// link is from one joint's axis to the next: shift and turn along the axis, then along what is square to both
// (Denavit and Hartenberg's four).
type link struct{ d, theta, a, alpha float64 }

// any is a link whose axes may be parallel, meet, or be square to each other.
func (d dice) any() link {
	return link{d.of(400, 0), d.of(180, 0, 90), d.of(400, 0, 25), d.of(180, 0, 90, -90)}
}

// chain makes an arm of links, somewhere in the room: link i is from joint i to the next, the last one to the flange.
func (d dice) chain(links ...link) ([]Joint, geom.Pose) {
	p := geom.Identity
	if d.IntN(2) == 0 {
		p = d.pose()
	}
	joints := make([]Joint, len(links))
	for i, l := range links {
		joints[i] = Joint{Axis: p.R.Column(2), Point: p.T, Lo: -180, Hi: 180}
		if d.IntN(4) == 0 {
			joints[i].Point = p.Apply(geom.Vec{Z: 100})
		}
		p = p.Mul(geom.Pose{R: geom.RotZ(l.theta), T: geom.Vec{Z: l.d}}).Mul(geom.Pose{R: geom.RotX(l.alpha), T: geom.Vec{X: l.a}})
	}
	return joints, p
}

// spherical makes an arm with a spherical wrist.
func (d dice) spherical(t testing.TB) *Arm {

	for {
		four := d.any()
		joints, flange := d.chain(d.any(), d.any(), d.any(), link{theta: four.theta, alpha: d.bend()}, link{theta: d.of(180, 0), alpha: d.bend()}, d.any())
		if a, err := New(joints, flange); err == nil {
			if _, is := a.solver.(*spherical); !is {
				t.Fatalf("an arm with a spherical wrist is %s", a.Class())
			}
			return a
		}
	}
}

// parallels makes an arm of which axes 2, 3 and 4 are parallel.
func (d dice) parallels(t testing.TB) *Arm {
	flat := func() link {
		l := d.any()
		l.a, l.alpha = 400*d.Float64(), d.of(0, 0, 180)
		return l
	}
	for {
		joints, flange := d.chain(d.any(), flat(), flat(), d.any(), d.any(), d.any())
		a, err := New(joints, flange)
		if err != nil {
			continue
		}
		if _, is := a.solver.(*parallels); is {
			return a
		}
	}
}

// bend is an angle that two axes of a wrist may have.
func (d dice) bend() float64 {
	if d.IntN(3) > 0 {
		return 90 - 180*float64(d.IntN(2))
	}
	return math.Copysign(30+120*d.Float64(), d.Float64()-0.5)
}

// found demands that readings are among the solutions of their pose, and what holds for all solutions; it gives
// how many there are.
func found(t *testing.T, a *Arm, q Readings, list []Solution) {
	t.Helper()
	flange := a.Pose(q)
	nearest, free := math.Inf(1), false
	singular := false
	for _, s := range list {
		way, turned := Off(a.Pose(s.Readings), flange)
		if way > 1.1e-10*a.length || turned > 1.1e-10*180/math.Pi {
			t.Errorf("%+v\n%v: solution %v is off by %g mm and %g degrees", a.Joints, q, s, way, turned)
		}
		nearest = min(nearest, size(a.way(s.Readings, q)))
		free = free || s.Free != 0
		singular = singular || s.Singular
	}
	var e equations
	a.equate(&q, flange, &e)
	_, least := e.eliminate()
	if nearest > 1e-7 && nearest*least > 1e-8 && !free {
		t.Errorf("%+v\n%+v\n%v is missing: the nearest of %d solutions is %g away, pivot %g", a.Joints, a.Flange, q, len(list), nearest, least)
	}
	if len(list)%2 != 0 && !singular {
		t.Errorf("%+v\n%v: %d solutions away from singular poses", a.Joints, q, len(list))
	}
}

// Random joints of random arms are found again among the solutions of their pose.
func TestSphericalFindsAll(t *testing.T) { findsAll(t, 1, 8, dice.spherical) }
func TestParallelsFindsAll(t *testing.T) { findsAll(t, 2, 8, dice.parallels) }

func findsAll(t *testing.T, seed uint64, most int, make func(dice, testing.TB) *Arm) {
	d := roll(seed)
	var list []Solution
	counts := map[int]int{}
	for range arms(t, 5000) {
		a := make(d, t)
		q := d.readings(a)
		list = a.Solve(a.Pose(q), q, list[:0])
		found(t, a, q, list)
		if counts[len(list)]++; len(list) > most {
			t.Errorf("%+v\n%+v\n%v: %d solutions, wanted at most %d", a.Joints, a.Flange, q, len(list), most)
		}
		if t.Failed() {
			return
		}
	}
	t.Log(counts)
}
