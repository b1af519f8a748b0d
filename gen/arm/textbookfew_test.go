package arm

import (
	"math"
	"strings"
	"testing"

	"gridferry/gen/geom"
)

// Planar arm with lengths 4, 3, 2 (Craig, Introduction to Robotics, MATLAB exercise 3A: the inputs from memory; the
// poses are sums of sines).
func TestPlanarArm(t *testing.T) {
	up := geom.Vec{Z: 1}
	a, err := New([]Joint{{Axis: up}, {Axis: up, Point: geom.Vec{X: 4}}, {Axis: up, Point: geom.Vec{X: 7}}}, geom.At(geom.Vec{X: 9}, geom.RPY{}))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		r           Readings
		x, y, angle float64
	}{{Readings{10, 20, 30}, 7.5373072, 3.9266435, 60}, {Readings{}, 9, 0, 0}, {Readings{90, 90, 90}, -3, 2, 270}} {
		if way, turn := Off(a.Pose(c.r), geom.At(geom.Vec{X: c.x, Y: c.y}, geom.RPY{Yaw: c.angle})); way > 1e-7 || turn > 1e-12 {
			t.Errorf("%v: off by %v, %v°", c.r, way, turn)
		}
		if list := a.Solve(a.Pose(c.r), Readings{}, nil); !isAmong(a, list, c.r) {
			t.Errorf("%v is not among %v", c.r, list)
		}
	}
	// the other elbow of the first row: the triangle over the third joint, mirrored
	third := geom.Vec{X: 4*cosOf(10) + 3*cosOf(30), Y: 4*sinOf(10) + 3*sinOf(30)}
	to := math.Atan2(third.Y, third.X) * 180 / math.Pi
	other := Readings{2*to - 10, -20, 60 - (2*to - 10) + 20}
	if list := a.Solve(a.Pose(Readings{10, 20, 30}), Readings{}, nil); len(list) != 2 || !isAmong(a, list, other) {
		t.Errorf("%v is not among %v", other, list)
	}
}

func cosOf(degrees float64) float64 { return math.Cos(degrees * math.Pi / 180) }
func sinOf(degrees float64) float64 { return math.Sin(degrees * math.Pi / 180) }

// A gantry reads what its flange has moved by.
func TestGantryReadsItsPlace(t *testing.T) {
	home := geom.At(geom.Vec{X: 10, Y: 20, Z: 30}, geom.RPY{Roll: 180})
	a, err := New([]Joint{{Slides: true, Axis: geom.Vec{Y: 1}}, {Slides: true, Axis: geom.Vec{X: 1}}, {Slides: true, Axis: geom.Vec{Z: -1}}}, home)
	if err != nil {
		t.Fatal(err)
	}
	list := a.Solve(geom.Pose{R: home.R, T: geom.Vec{X: 110, Y: 220, Z: 330}}, Readings{}, nil)
	if len(list) != 1 || size(a.way(list[0].Readings, Readings{200, 100, -300})) > 1e-9 {
		t.Errorf("got %v, wanted 200, 100, -300", list)
	}
}

// The four-axis arm by the cosine law, as any textbook has it: cos θ₂ = (x² + y² − a² − b²) / 2ab, θ₁ = φ − atan2(b sin θ₂, a + b cos θ₂), and what is left of the
// turn for the last joint.
func TestFourAxesByTheCosineLaw(t *testing.T) {
	const a, b = 325, 275
	arm, d := fourAxes(t), roll(9)
	for range arms(t, 2000) {
		x, y, z, yaw := 1200*d.Float64()-600, 1200*d.Float64()-600, 400*d.Float64(), d.angle()
		list := arm.Solve(geom.Pose{R: geom.RotZ(yaw).Mul(geom.RotX(180)), T: geom.Vec{X: x, Y: y, Z: z}}, Readings{}, nil)
		cos := (x*x + y*y - a*a - b*b) / (2 * a * b)
		if math.Abs(cos) > 1 {
			if len(list) > 0 {
				t.Errorf("%v, %v: %v, wanted none", x, y, list)
			}
			continue
		}
		for _, elbow := range []float64{1, -1} {
			two := elbow * math.Acos(cos)
			one := math.Atan2(y, x) - math.Atan2(b*math.Sin(two), a+b*math.Cos(two))
			want := Readings{one * 180 / math.Pi, two * 180 / math.Pi, z - 180}
			want[3] = yaw - want[0] - want[1]
			if !isAmong(arm, list, want) || len(list) != 2 {
				t.Errorf("%v is not among %v", want, list)
			}
		}
	}
}

// Stretched, a four-axis arm has one solution and no joint is free; with the elbow folded so that the flange is over the first axis, of equal lengths,
// joint 1 is free against joint 4; and a gantry's head whose first and last axis are in line is free there.
func TestFewJointsSingular(t *testing.T) {
	up := geom.Vec{Z: 1}
	equal, err := New([]Joint{{Axis: up}, {Axis: up, Point: geom.Vec{X: 300}}, {Slides: true, Axis: up}, {Axis: up, Point: geom.Vec{X: 600}}}, geom.At(geom.Vec{X: 600}, geom.RPY{}))
	if err != nil {
		t.Fatal(err)
	}
	head, err := New([]Joint{{Slides: true, Axis: geom.Vec{X: 1}}, {Slides: true, Axis: geom.Vec{Y: 1}}, {Slides: true, Axis: up},
		{Axis: up}, {Axis: geom.Vec{Y: 1}}, {Axis: up}}, geom.At(geom.Vec{Z: -120}, geom.RPY{}))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what    string
		arm     *Arm
		r, near Readings
		free    uint8
		want    Readings
	}{
		{"stretched", equal, Readings{30, 0, -50, 10}, Readings{}, 0, Readings{30, 0, -50, 10}},
		{"folded", equal, Readings{30, 180, -50, 10}, Readings{0, 180, 0, 0}, 1<<0 | 1<<3, Readings{20, 180, -50, 20}},
		{"head in line", head, Readings{100, 200, 300, 40, 0, 30}, Readings{0, 0, 0, 20, 0, 10}, 1<<3 | 1<<5, Readings{100, 200, 300, 40, 0, 30}},
		{"upright over the base", fiveAxesUp(t), Readings{30, -40, 80, -40, 20}, Readings{0, -40, 80, -40, 30}, 0, Readings{30, -40, 80, -40, 20}},
	} {
		list := c.arm.Solve(c.arm.Pose(c.r), c.near, nil)
		ok := false
		for _, one := range list {
			if size(c.arm.way(one.Readings, c.want)) < 2e-5 && one.Free == c.free {
				ok = true
			}
		}
		if !ok {
			t.Errorf("%s: got %v, wanted %v with %b free", c.what, list, c.want, c.free)
		}
	}
}

// fiveAxesUp is fiveAxes with the roll upright: the pose in which the flange looks up or down is the usual one.
func fiveAxesUp(t testing.TB) *Arm {
	a := fiveAxes(t)
	joints := append([]Joint(nil), a.Joints...)
	joints[4].Axis = geom.Vec{Z: 1}
	a, err := New(joints, a.Flange)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Looking straight down, where the base and the roll are parallel, the place tells what the base reads: thousands of poses as a five-axis arm
// mostly has them.
func TestFiveAxesLookingDown(t *testing.T) {
	a, d := fiveAxesUp(t), roll(5)
	for range arms(t, 2000) {
		q := Readings{d.angle(), d.angle(), d.angle(), 0, d.angle()}
		q[3] = -q[1] - q[2] + 180*float64(d.IntN(2)) + d.of(1e-4, 0, 1e-3, 1e-6, 1e-8, 1e-10)
		if list := a.Solve(a.Pose(q), Readings{}, nil); !isAmong(a, list, q) {
			t.Fatalf("%v is not among %v", q, list)
		}
	}
}

// What cannot be solved is refused in words.
func TestFewJointsRefused(t *testing.T) {
	slide := func(x, y, z float64) Joint { return Joint{Slides: true, Axis: geom.Vec{X: x, Y: y, Z: z}} }
	for _, c := range []struct {
		joints []Joint
		words  string
	}{
		{[]Joint{{Name: "a", Slides: true, Axis: geom.Vec{X: 1}}, slide(0, 1, 0), {Name: "c", Slides: true, Axis: geom.Vec{X: 1}}}, `"a" and "c" can be moved against each other`},
		{[]Joint{{Name: "a", Axis: geom.Vec{Z: 1}}, slide(0, 0, 1), {Name: "c", Axis: geom.Vec{Z: 1}}}, `"a" and "c" can be moved against each other`},
		{[]Joint{slide(0, 1, 0), slide(1, 0, 0), slide(0, 0, 1), slide(1, 1, 0), {Axis: geom.Vec{Z: 1}}}, "can be moved against each other"},
		{[]Joint{{Axis: geom.Vec{Z: 1}}, slide(1, 0, 0), slide(0, 1, 0), slide(0, 0, 1), {Axis: geom.Vec{X: 1}}, {Axis: geom.Vec{Y: 1}}, {Axis: geom.Vec{Z: 1}}}, "seven joints"},
	} {
		_, err := New(c.joints, geom.At(geom.Vec{X: 100}, geom.RPY{}))
		if err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("got %v, wanted %q", err, c.words)
		}
	}
}

// Solving leaves no garbage.
func TestFewJointsLeaveNoGarbage(t *testing.T) {
	for _, a := range []*Arm{fourAxes(t), fiveAxes(t), onX(t, fourAxes(t)), ofKind(t, "wrist first")} {
		var room [64]Solution
		flange := a.Pose(bent)
		if n := testing.AllocsPerRun(20, func() { a.Solve(flange, bent, room[:0]) }); n > 0 {
			t.Errorf("%s: %v pieces of garbage", a.Class(), n)
		}
	}
}

// BenchmarkFew measures what all solutions of arms of few joints cost, in forward passes.
func BenchmarkFew(b *testing.B) {
	for _, c := range []struct {
		name string
		arm  *Arm
	}{{"four", fourAxes(b)}, {"five", fiveAxes(b)}, {"rail-six", onX(b, upright(b))}, {"polar", ofKind(b, "polar with a wrist")}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			flange := c.arm.Pose(bent)
			var list []Solution
			for b.Loop() {
				list = c.arm.Solve(flange, bent, list[:0])
			}
			b.ReportMetric(float64(len(list)), "solutions")
			b.ReportMetric(passes(c.arm, 3, func() { list = c.arm.Solve(flange, bent, list[:0]) }), "passes")
		})
	}
}
