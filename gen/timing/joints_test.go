package timing

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// jointsOf is an arm of joints that turn about parallel axes, with limits; a 0 is none.
func jointsOf(limits ...[2]float64) *Joints {
	j := &Joints{Arm: &arm.Arm{Flange: geom.Pose{R: geom.IdentityRot(), T: geom.Vec{X: 100 * float64(len(limits))}}}, Lead: true}
	for i, l := range limits {
		j.Arm.Joints = append(j.Arm.Joints, arm.Joint{Name: "J" + string(rune('1'+i)), Axis: geom.Vec{Z: 1}, Point: geom.Vec{X: 100 * float64(i)}})
		j.Speeds[i], j.Accelerations[i] = l[0], l[1]
	}
	return j
}

// reading is a motion to where the arm is with some readings.
func (j *Joints) reading(kind move.Kind, speed, flyBy float64, r arm.Readings) move.Move {
	p := j.Arm.Pose(r)
	return move.Move{Kind: kind, Base: move.Point{Vec: p.T, RPY: p.R.RPY()}, Speed: speed, FlyBy: flyBy, Joints: &r}
}

// swift is a speed of the TCP that limits nothing here.
const swift = 1e9

// timed is the last of some motions.
func (j *Joints) timed(m Machine, moves ...move.Move) (last Timed) {
	m.Joints = j
	for t := range Times(pieces(moves), m) {
		last = t
	}
	return last
}

// Joints from rest to rest, one at a time and two on one time law. The trapezoids are those of Biagiotti & Melchiorri 2008,
// ch. 3, and Siciliano et al., 4.2.1 (from memory); the rest is constructed. NISTIR 6556, 2.1.2.4 (read), has all axes
// at the same share of their ways at all times, so that the one that needs longest rules.
func TestSynchronisedJoints(t *testing.T) {
	for _, c := range []struct {
		source  string
		ways    arm.Readings
		limits  [][2]float64
		seconds float64
		slowest int
	}{
		{"Biagiotti & Melchiorri ch. 3", arm.Readings{30}, [][2]float64{{10, 10}}, 4, 1},
		{"Siciliano et al. 4.2.1", arm.Readings{180}, [][2]float64{{3.9833799 * 180 / math.Pi, 6 * 180}}, 1, 1},
		{"a triangle", arm.Readings{20}, [][2]float64{{50, 100}}, 0.8944272, 1},
		{"the first rules", arm.Readings{100, 20}, [][2]float64{{50, 100}, {50, 100}}, 2.5, 1},
		{"the second rules, the other way round", arm.Readings{20, -100}, [][2]float64{{50, 100}, {50, 100}}, 2.5, 2},
		{"one limits the speed, the other the acceleration", arm.Readings{100, 100}, [][2]float64{{50, 1000}, {500, 100}}, 2.5, 1},
		{"no acceleration is known", arm.Readings{100, 20}, [][2]float64{{50, 0}, {50, 0}}, 2, 1},
		{"no speed is known", arm.Readings{5, 20}, [][2]float64{{0, 100}, {0, 100}}, 0.8944272, 2},
		{"one speed is known", arm.Readings{100, 20}, [][2]float64{{0, 0}, {10, 0}}, 2, 2},
		{"a joint stands still", arm.Readings{0, 20}, [][2]float64{{1, 1}, {10, 0}}, 2, 2},
	} {
		j := jointsOf(c.limits...)
		for _, kind := range []move.Kind{move.Travel, move.Straight} {
			got := j.timed(Machine{}, j.reading(kind, swift, 0, arm.Readings{}), j.reading(kind, swift, 0, c.ways))
			near(t, c.source, got.Seconds, c.seconds, 1e-6)
			if got.Limit != c.slowest {
				t.Errorf("%s: J%d limits it, wanted J%d", c.source, got.Limit, c.slowest)
			}
		}
	}
}

// With one joint and the TCP a motion takes as long as whichever needs longer. The TCP is 100 mm from the axis: a quarter
// turn is π/2·100 mm of a travel, and √2·100 mm of a line.
func TestJointOrTCP(t *testing.T) {
	j := jointsOf([2]float64{45, 0})
	for kind, way := range map[move.Kind]float64{move.Travel: math.Pi / 2 * 100, move.Straight: math.Sqrt2 * 100} {
		for speed, want := range map[float64]float64{20: way / 20, 50: way / 50, 100: 2, 1000: 2} {
			got := j.timed(Machine{}, j.reading(kind, speed, 0, arm.Readings{}), j.reading(kind, speed, 0, arm.Readings{90}))
			near(t, kind.String(), got.Seconds, want, want*1e-3)
			if near(t, kind.String(), got.Length, way, way*1e-3); (got.Limit == 1) != (speed > 90) {
				t.Errorf("%v at %g mm/s: limit %d", kind, speed, got.Limit)
			}
		}
	}
}

// randomArm has random axes, speeds and accelerations, some of them not known.
func randomArm(r *rand.Rand) *Joints {
	j := &Joints{Arm: &arm.Arm{Flange: geom.Pose{R: geom.IdentityRot(), T: geom.Vec{X: 300, Z: 400}}}, Lead: r.IntN(2) == 0}
	for i := range 1 + r.IntN(arm.MaxJoints) {
		axis, _ := geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Unit()
		j.Arm.Joints = append(j.Arm.Joints, arm.Joint{Name: "J" + string(rune('1'+i)), Axis: axis, Slides: r.IntN(5) == 0,
			Point: geom.Vec{X: 300 * r.Float64(), Y: 100 * r.Float64(), Z: 400 * r.Float64()}})
		if r.IntN(6) > 0 {
			j.Speeds[i] = 20 + 300*r.Float64()
		}
		if r.IntN(6) > 0 {
			j.Accelerations[i] = 100 + 1500*r.Float64()
		}
	}
	return j
}

func (j *Joints) random(r *rand.Rand) (a arm.Readings) {
	for i := range j.Arm.Joints {
		if r.IntN(4) > 0 {
			a[i] = 240*r.Float64() - 120
		}
	}
	return a
}

// alone is the closed form of one joint from rest to rest, in the symbols of Lynch & Park, Modern Robotics, 9.2.2.2 (from memory).
func alone(h, v, a float64) float64 {
	switch h = math.Abs(h); {
	case v == 0 && a == 0:
		return 0
	case a == 0:
		return h / v
	case v == 0 || h < v*v/a:
		return 2 * math.Sqrt(h/a)
	}
	return h/v + v/a
}

// A motion is never quicker than one of its joints alone, nor than the TCP alone; there and back take as long; all joints
// go within their limits on the one time law; and k times the speeds with k² times the accelerations make 1/k of the time.
func TestMotionsOfRandomArms(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	ruled := 0
	for range 3000 {
		j, m := randomArm(r), Machine{Acceleration: 500 + 4000*r.Float64()}
		kind, speed := []move.Kind{move.Travel, move.Straight}[r.IntN(2)], 50+2000*r.Float64()
		a, b := j.random(r), j.random(r)
		there := j.timed(m, j.reading(kind, speed, 0, a), j.reading(kind, speed, 0, b))
		back := j.timed(m, j.reading(kind, speed, 0, b), j.reading(kind, speed, 0, a))
		near(t, "there and back", back.Seconds, there.Seconds, 1e-9*(1+there.Seconds))
		longest := alone(there.Length, speed, m.Acceleration)
		for i := range j.Arm.Joints {
			longest = max(longest, alone(b[i]-a[i], j.Speeds[i], j.Accelerations[i]))
		}
		if there.Seconds < longest*(1-1e-9) {
			t.Fatalf("%g s, and alone one needs %g s\n%+v %v %v", there.Seconds, longest, j, a, b)
		}
		m.Joints = j
		from, to := j.reading(kind, speed, 0, a), j.reading(kind, speed, 0, b)
		l := m.legOf(&Stand{TCP: from.Base, Reads: from.Joints}, &to)
		p := Between(l.way(), 0, 0, l.limits)
		for i := range j.Arm.Joints {
			share := math.Abs(l.joints[i]) / l.way()
			if most := j.Speeds[i]; most > 0 && p.Peak*share > most*(1+1e-9) {
				t.Fatalf("J%d goes at %g, and can go at %g", i+1, p.Peak*share, most)
			}
			if most := j.Accelerations[i]; most > 0 && p.Up > 0 && p.Peak/p.Up*share > most*(1+1e-9) {
				t.Fatalf("J%d speeds up by %g, and can by %g", i+1, p.Peak/p.Up*share, most)
			}
		}
		if there.Limit > 0 {
			ruled++
		}
		k := 0.2 + 4*r.Float64()
		for i := range j.Speeds {
			j.Speeds[i], j.Accelerations[i] = k*j.Speeds[i], k*k*j.Accelerations[i]
		}
		scaled := j.timed(Machine{Acceleration: k * k * m.Acceleration}, j.reading(kind, k*speed, 0, a), j.reading(kind, k*speed, 0, b))
		near(t, "scaled", scaled.Seconds*k, there.Seconds, 1e-9*(1+there.Seconds))
	}
	if ruled < 500 {
		t.Errorf("joints limited %d motions of 3000: too few to say anything", ruled)
	}
}

// A fly-by keeps every joint within its acceleration, and is never slower than stopping.
func TestFlyBysOfRandomArms(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 12))
	flown := 0
	for range 1500 {
		j, m := randomArm(r), Machine{Acceleration: 500 + 4000*r.Float64()}
		m.Joints = j
		speed, flyBy := 50+2000*r.Float64(), 1+60*r.Float64()
		at := [4]arm.Readings{j.random(r), j.random(r), j.random(r), j.random(r)}
		var legs, stops []leg
		for i := range 3 {
			from, to := j.reading(move.Travel, speed, flyBy, at[i]), j.reading(move.Travel, speed, flyBy, at[i+1])
			legs = append(legs, m.legOf(&Stand{TCP: from.Base, Reads: from.Joints}, &to))
		}
		stops = append(stops, legs...)
		for i := range stops {
			stops[i].flyBy = 0
		}
		if flying, stopping := total(m, legs), total(m, stops); flying > stopping*(1+1e-9) {
			t.Fatalf("%g s flying by, %g s stopping\n%+v", flying, stopping, legs)
		}
		run := run{machine: m, legs: legs}
		run.meet()
		for i := range 2 {
			p := run.corners[i+1].passage()
			if p.seconds == 0 {
				continue
			}
			flown++
			for k := range j.Arm.Joints {
				pace := legs[i+1].joints[k]/legs[i+1].length*p.out - legs[i].joints[k]/legs[i].length*p.in
				if most := j.Accelerations[k]; most > 0 && math.Abs(pace)/p.seconds > most*(1+1e-9) {
					t.Fatalf("J%d changes its pace by %g in a second, and can by %g", k+1, math.Abs(pace)/p.seconds, most)
				}
			}
		}
	}
	if flown < 500 {
		t.Errorf("%d corners were flown by: too few to say anything", flown)
	}
}

// The arc by three points against the way in a thousand steps: never shorter than the line and, of joints that go 40° at the
// most, within a twentieth of it.
func TestArc(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 13))
	worst := 0.0
	for range 500 {
		j := randomArm(r)
		j.Lead = true
		a := j.random(r)
		b := a
		for i := range j.Arm.Joints {
			b[i] += 80*r.Float64() - 40
		}
		got := j.timed(Machine{}, j.reading(move.Travel, 1, 0, a), j.reading(move.Travel, 1, 0, b)).Length
		way, last := 0.0, j.Arm.Pose(a).T
		line := last.Dist(j.Arm.Pose(b).T)
		for k := range 1000 {
			now := a
			for i := range now {
				now[i] += (b[i] - a[i]) * float64(k+1) / 1000
			}
			here := j.Arm.Pose(now).T
			way, last = way+here.Dist(last), here
		}
		if got < line*(1-1e-9) {
			t.Fatalf("%g mm, and the line is %g mm", got, line)
		}
		worst = max(worst, math.Abs(got-way)/way)
	}
	if worst > 0.05 {
		t.Errorf("off by %.3f of the way", worst)
	}
}

// What limits the motions is said of the whole, of each leg and of the slowest, and only where a joint does.
func TestLimitsInTheReport(t *testing.T) {
	j := jointsOf([2]float64{90, 0}, [2]float64{20, 0})
	moves := []move.Move{
		j.reading(move.Travel, swift, 0, arm.Readings{}), j.reading(move.Travel, swift, 0, arm.Readings{90}), // 1 s of J1
		j.reading(move.Travel, swift, 0, arm.Readings{0, 60}), j.reading(move.Straight, swift, 0, arm.Readings{0, 20}), // 3 s and 2 s of J2
		j.reading(move.Straight, 1, 0, arm.Readings{0, 21}), // 1.7 mm of the TCP
	}
	r := Measure(pieces(moves), Machine{Joints: j})
	if got, want := r.Limiting(), "J1 limits 1 of 2 travels, J2 1; J2 limits 1 of 2 straights"; got != want {
		t.Errorf("%q, wanted %q", got, want)
	}
	var table, data, none bytes.Buffer
	if err := r.WriteTable(&table, "p"); err != nil || !strings.Contains(table.String(), "J2           1          1      5.0") {
		t.Errorf("%v\n%s", err, &table)
	}
	if err := r.WriteJSON(&data, "p"); err != nil || !strings.Contains(data.String(), `"joint": "J2",
      "travels": 1,
      "straights": 1,
      "seconds": 5`) {
		t.Errorf("%v\n%s", err, &data)
	}
	slow := jointsOf([2]float64{1e9, 0}, [2]float64{1e9, 0})
	calm := Measure(pieces(moves[4:]), Machine{Joints: slow})
	if err := calm.WriteTable(&none, "p"); err != nil || calm.Limiting() != "no joint slows a motion down" || strings.Contains(none.String(), "limit ") {
		t.Errorf("%v, %q\n%s", err, calm.Limiting(), &none)
	}
	if said := strings.Join(r.Assumed(), "\n"); !strings.Contains(said, "the acceleration of J1 and J2, which is not limited") || strings.Contains(said, "the speed of") {
		t.Errorf("assumed: %s", said)
	}
	if said := Measure(pieces(moves), Machine{}).Limiting(); said != "" {
		t.Errorf("%q, and nothing is known of joints", said)
	}
}
