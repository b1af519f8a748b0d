package arm

import (
	"math"
	"testing"

	"gridferry/gen/geom"
)

// line is a line from where an arm stands, such as plans have.
func (d dice) line(from geom.Pose) Line {
	l := Line{From: from, Way: d.direction().Scale(200 * d.Float64())}
	if d.IntN(2) == 0 {
		l.Turn = d.direction().Scale(60 * d.Float64())
	}
	return l
}

// Whatever the readings are between two samples, they lie inside of what was said of the stretch, and so does their pace: by
// going along each stretch in small steps, at each of which the readings are solved and the pace is worked out anew.
func TestReadingsLieInsideTheirStretches(t *testing.T) {
	for _, kind := range []struct {
		name string
		arm  func(d dice) *Arm
	}{
		{"spherical wrist", func(d dice) *Arm { return d.spherical(t) }},
		{"parallel axes", func(d dice) *Arm { return d.parallels(t) }},
		{"offset wrist", func(dice) *Arm { return offsetArm(t) }},
	} {
		t.Run(kind.name, func(t *testing.T) {
			t.Parallel()
			whole, stretches, longer := 0, 0, 0
			for seed := range max(20, arms(t, 60)) { // of fewer none may come to its end
				d := roll(uint64(seed))
				a := kind.arm(d)
				r, tcp := d.readings(a), d.pose()
				tcp.T = tcp.T.Scale(0.3)
				l := d.line(a.Pose(r).Mul(tcp))
				came, n := follows(t, a, tcp, &l, r, (*Follower).Follow)
				strides, fewer := follows(t, a, tcp, &l, r, (*Follower).Stride)
				if stretches, longer = stretches+n, longer+fewer; came == 1 {
					whole++
				}
				if strides == 1 && came < 1 {
					t.Errorf("in strides the line is followed to its end, and else to %g of it", came)
				}
				if t.Failed() {
					t.Fatalf("seed %d, %s", seed, a.Class())
				}
			}
			t.Logf("%d lines to their ends, %d stretches, %d in strides", whole, stretches, longer)
			if whole == 0 {
				t.Error("no line was followed to its end")
			}
		})
	}
}

// follows follows a line and holds what is said to readings on the way.
func follows(t *testing.T, a *Arm, tcp geom.Pose, l *Line, r Readings, follow func(*Follower, *Line, Readings, Readings, func(*Stretch) bool) (Readings, float64)) (came float64, stretches int) {
	t.Helper()
	f := a.Follower(tcp)
	at := 0.0
	end, came := follow(f, l, r, r, func(s *Stretch) bool {
		if s.From != at && s.From >= at {
			t.Errorf("a stretch begins at %g, the last ended at %g", s.From, at)
		}
		at = s.To
		stretches++
		f.inside(t, l, s)
		return true
	})
	if way, turn := Off(a.Pose(end).Mul(tcp), l.At(came)); came > 0 && (way > 1e-6 || turn > 1e-6) {
		t.Errorf("at %g of the line the TCP is %g mm and %g° off", came, way, turn)
	}
	return came, stretches
}

func (f *Follower) inside(t *testing.T, l *Line, s *Stretch) {
	t.Helper()
	const steps, rounding = 12, 1e-6
	r := s.At
	for k := range steps + 1 {
		share := s.From + (s.To-s.From)*float64(k)/steps
		var ok bool
		if r, ok = f.onto(r, l.At(share)); !ok {
			return // the step from there is refused, too
		}
		var here sense
		f.sense(&here, &r, l)
		for i := range f.arm.Joints {
			unit := 180 / math.Pi
			if f.arm.Joints[i].Slides {
				unit = f.arm.length
			}
			if lo, hi := s.Bounds(i); r[i] < lo-rounding || r[i] > hi+rounding {
				t.Errorf("joint %d reads %.9f at %g, said to be %.9f to %.9f from %g to %g", i+1, r[i], share, lo, hi, s.From, s.To)
			}
			if pace := here.rate[i] * unit; math.Abs(pace-s.Rate[i]) > s.Off[i]+rounding*(1+math.Abs(pace)) {
				t.Errorf("joint %d changes by %.9f at %g, said to be %.9f, up to %.9f off", i+1, pace, share, s.Rate[i], s.Off[i])
			}
		}
	}
}

// BenchmarkFollow is what an approach of 60 mm costs, closely and in strides.
func BenchmarkFollow(b *testing.B) {
	a := upright(b)
	tcp := geom.Pose{R: geom.IdentityRot(), T: geom.Vec{Z: 90}}
	f := a.Follower(tcp)
	from := Readings{20, 10, -5, 3, 80, 40}
	l := Line{From: a.Pose(from).Mul(tcp), Way: geom.Vec{Z: -60}}
	for name, follow := range map[string]func(*Line, Readings, Readings, func(*Stretch) bool) (Readings, float64){"closely": f.Follow, "strides": f.Stride} {
		b.Run(name, func(b *testing.B) {
			stretches := 0
			b.ReportAllocs()
			for b.Loop() {
				stretches = 0
				follow(&l, from, from, func(*Stretch) bool { stretches++; return true })
			}
			b.ReportMetric(float64(stretches), "stretches")
		})
	}
}
