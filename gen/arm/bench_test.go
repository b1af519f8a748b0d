package arm

import (
	"math"
	"testing"
	"time"

	"gridferry/gen/geom"
)

// bent are readings away from any singular pose.
var bent = Readings{20, -35, 25, 40, 55, -60}

// threeLevel is an arm of invented dimensions of which axes 2, 3 and 4 are parallel.
func threeLevel(t testing.TB) *Arm {
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	a, err := New([]Joint{
		{Axis: z}, {Axis: y, Point: geom.Vec{Z: 150}}, {Axis: y, Point: geom.Vec{X: 430, Z: 150}}, {Axis: y, Point: geom.Vec{X: 800, Y: 90, Z: 150}},
		{Axis: geom.Vec{}.Sub(z), Point: geom.Vec{X: 800, Y: 110, Z: 150}}, {Axis: y, Point: geom.Vec{X: 800, Y: 110, Z: 60}},
	}, geom.Pose{R: geom.FromColumns(x, geom.Vec{}.Sub(z), y), T: geom.Vec{X: 800, Y: 190, Z: 60}})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// skewed is upright with axis 2 neither square to axis 1 nor parallel to axis 3, so that joint 3 takes a series.
func skewed(t testing.TB) *Arm {
	a := upright(t)
	joints := append([]Joint(nil), a.Joints...)
	joints[1].Axis = geom.RPY{Roll: 20, Yaw: 10}.Rot().Apply(joints[1].Axis)
	a, err := New(joints, a.Flange)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// offsetArm is an arm of invented dimensions whose axes 4 and 6 do not meet.
func offsetArm(t testing.TB) *Arm {
	a := upright(t)
	joints := append([]Joint(nil), a.Joints...)
	joints[5].Point.Y += 60
	a, err := New(joints, a.Flange)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// BenchmarkArm measures what all solutions of a pose cost, in forward passes, and what it costs to find one by
// going there step by step.
func BenchmarkArm(b *testing.B) {
	usual := upright(b)
	sixteen, most := manseurDoty(b)
	at := func(a *Arm) geom.Pose { return a.Pose(bent) }
	skewed, threeLevel, offsetArm := skewed(b), threeLevel(b), offsetArm(b)
	b.Run("forward", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			sink = usual.Pose(bent)
		}
	})
	for _, c := range []struct {
		name   string
		arm    *Arm
		flange geom.Pose
	}{
		{"spherical", usual, at(usual)}, {"spherical-skew", skewed, at(skewed)}, {"parallels", threeLevel, at(threeLevel)},
		{"searched", offsetArm, at(offsetArm)}, {"searched-most", sixteen, most},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			list := c.arm.Solve(c.flange, bent, nil)
			for b.Loop() {
				list = c.arm.Solve(c.flange, bent, list[:0])
			}
			b.ReportMetric(float64(len(list)), "solutions")
			b.ReportMetric(passes(usual, 3, func() { list = c.arm.Solve(c.flange, bent, list[:0]) }), "passes")
		})
	}
	// The same over random poses, beside an iterative solver that begins from all joints at 0, and anew from random readings where it
	// is stuck.
	d := roll(8)
	var poses []geom.Pose
	for range 50 {
		poses = append(poses, usual.Pose(d.readings(usual)))
	}
	over := func(name string, solve func(geom.Pose)) {
		b.Run(name, func(b *testing.B) {
			i := 0
			next := func() {
				solve(poses[i%len(poses)])
				i++
			}
			for b.Loop() {
				next()
			}
			b.ReportMetric(passes(usual, len(poses), next), "passes")
		})
	}
	var list []Solution
	over("all-of-random", func(flange geom.Pose) { list = usual.Solve(flange, Readings{}, list[:0]) })
	over("one-iterative", func(flange geom.Pose) {
		from := Readings{}
		for !iterate(usual, flange, from) {
			from = d.readings(usual)
		}
	})
}

var sink geom.Pose

// passes returns what an operation takes in forward passes, each timed where it was least disturbed.
func passes(a *Arm, times int, operation func()) float64 {
	least := func(times int, what func()) float64 {
		best := time.Duration(math.MaxInt64)
		for range 200 {
			began := time.Now()
			for range times {
				what()
			}
			best = min(best, time.Since(began))
		}
		return float64(best) / float64(times)
	}
	return least(times, operation) / least(50, func() { sink = a.Pose(bent) })
}

// iterate looks for one solution as textbooks do: steps towards the pose, damped by a constant (Wampler 1986, Nakamura &
// Hanafusa 1986; from memory).
func iterate(a *Arm, flange geom.Pose, from Readings) bool {
	var q equations
	for range 100 {
		if a.equate(&from, flange, &q); q.off < met {
			return true
		}
		step := q.damped(1e-4)
		from = a.moved(from, step, min(1, 0.5/max(size(step), 1e-12)))
	}
	return false
}
