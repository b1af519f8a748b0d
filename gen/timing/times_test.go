package timing

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/geom"
	"gridferry/gen/move"
)

func to(kind move.Kind, x, y, z, speed, flyBy float64) move.Move {
	return move.Move{Kind: kind, Base: move.Point{Vec: geom.Vec{X: x, Y: y, Z: z}, RPY: geom.RPY{Roll: 180}}, Speed: speed, FlyBy: flyBy}
}

// up 25, across 300, down 25: the cycle that arms are compared by.
func cycle(flyBy float64) []move.Move {
	return []move.Move{
		to(move.Straight, 0, 0, 0, 1000, 0), to(move.Straight, 0, 0, 25, 1000, flyBy),
		to(move.Travel, 300, 0, 25, 1000, flyBy), to(move.Straight, 300, 0, 0, 1000, 0),
	}
}

func pieces(moves []move.Move) move.Batches { return move.Batched(slices.Values(moves)) }

func secondsOf(moves []move.Move, m Machine) []float64 {
	var out []float64
	for t := range Times(pieces(moves), m) {
		out = append(out, t.Seconds)
	}
	return out
}

// The 25 / 300 / 25 mm cycle takes 0.6 s one way at 1 m/s and 10 m/s² with a stop
// at each corner: 0.1 + 0.4 + 0.1 (common practice, no source; the figures are
// trapezoids and triangles).
func TestComparisonCycle(t *testing.T) {
	m := Machine{Acceleration: 10000}
	got := secondsOf(cycle(0), m)
	for i, want := range []float64{0, 0.1, 0.4, 0.1} {
		near(t, "motion", got[i], want, 1e-12)
	}
	there := Measure(pieces(cycle(0)), m)
	near(t, "one way", there.Seconds, 0.6, 1e-12)
	back := append(cycle(0), to(move.Straight, 300, 0, 25, 1000, 0), to(move.Travel, 0, 0, 25, 1000, 0), to(move.Straight, 0, 0, 0, 1000, 0))
	near(t, "there and back", Measure(pieces(back), m).Seconds, 1.2, 1e-12)
	near(t, "way", there.Distance, 350, 1e-9)
	if there.Starts != 1 {
		t.Errorf("%d motions from nowhere, wanted 1", there.Starts)
	}
}

// A fly-by of radius d round a right angle at equal speeds takes 2·d/v with
// v² = a·d/sin 45° (the parabola's closed form, recomputed). Here: d = 10 mm at
// 10 m/s²: 376.06 mm/s and 53.18 ms.
func TestFlyByShortensTheCycle(t *testing.T) {
	m := Machine{Acceleration: 10000}
	v := math.Sqrt(10000 * 10 / math.Sin(math.Pi/4))
	near(t, "speed", v, 376.06, 0.005)
	flownBy := secondsOf(cycle(10), m)
	up := Between(25-10, 0, v, Limits{Speed: 1000, Acceleration: 10000}).Seconds() + 10/v
	near(t, "up", flownBy[1], up, 1e-9)
	near(t, "down", flownBy[3], up, 1e-9)
	across := Between(300-20, v, v, Limits{Speed: 1000, Acceleration: 10000}).Seconds() + 20/v
	near(t, "across", flownBy[2], across, 1e-9)
	if sum := flownBy[1] + flownBy[2] + flownBy[3]; sum >= 0.6 || sum < 0.45 {
		t.Errorf("the fly-by cycle takes %g s, wanted well below 0.6", sum)
	}
}

// What is no motion stops the arm, but for a select and a note.
func TestWhatStopsTheArm(t *testing.T) {
	m := Machine{Acceleration: 10000}
	flownBy := secondsOf(cycle(10), m)
	for kind, stops := range map[move.Kind]bool{move.Select: false, move.Note: false, move.Set: true, move.Grip: true, move.Await: true, move.Dwell: true} {
		moves := slices.Insert(cycle(10), 2, move.Move{Kind: kind})
		got := secondsOf(moves, m)
		if stopped := got[1] > flownBy[1]+1e-6; stopped != stops {
			t.Errorf("%s: stopped is %t, wanted %t", kind, stopped, stops)
		}
	}
}

func TestUnknownIsTold(t *testing.T) {
	turn := to(move.Travel, 0, 0, 0, 100, 0)
	turn.Base.Yaw = 90
	r := Measure(pieces([]move.Move{
		to(move.Travel, 0, 0, 0, 100, 0), turn,
		{Kind: move.Await, Seconds: 4}, {Kind: move.Await}, {Kind: move.Dwell, Seconds: 1.5},
	}), Machine{Acceleration: 1000})
	near(t, "whole", r.Seconds, 1.5, 0)
	if r.Turning != 1 || r.Starts != 1 || r.Waits != (Waits{Count: 2, Endless: 1, TimeOuts: 4}) {
		t.Errorf("unknown: %d turns, %d starts, %+v", r.Turning, r.Starts, r.Waits)
	}
	said := strings.Join(r.LeftOut(), "\n")
	for _, words := range []string{"the first point", "2 waits for an input", "1 without a time-out", "1 turn on the spot", "joints"} {
		if !strings.Contains(said, words) {
			t.Errorf("%q is not among what is left out:\n%s", words, said)
		}
	}
	r = Measure(pieces([]move.Move{to(move.Travel, 0, 0, 0, 100, 0), turn}), Machine{TurnSpeed: 45})
	near(t, "90 degrees at 45 deg/s", r.Seconds, 2, 1e-9)
	if said := strings.Join(r.Assumed(), "\n"); !strings.Contains(said, "does not say \"machine.acceleration\"") {
		t.Errorf("constant speed is not said:\n%s", said)
	}
}

// A list that never stops is cut, so that memory stays bounded.
func TestEndlessFlyByIsCut(t *testing.T) {
	n, most := 0, 0
	moves := func(yield func(move.Move) bool) {
		for i := range 3 * longestRun {
			n++
			if !yield(to(move.Travel, float64(i), 0, 0, 100, 1)) {
				return
			}
		}
	}
	seen := 0
	for range Times(move.Batched(moves), Machine{Acceleration: 1000}) {
		seen++
		most = max(most, n-seen)
	}
	if seen != 3*longestRun || most > longestRun {
		t.Errorf("%d moves seen, %d held back at most", seen, most)
	}
}

// TestStopwatchIsTheSum: to the last bit, although each move is gone when the next comes.
func TestStopwatchIsTheSum(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	m := Machine{Acceleration: 3000, Jerk: 20000}
	var moves []move.Move
	for range 2 * longestRun {
		flyBy := float64(r.IntN(3) * r.IntN(20))
		one := to(move.Kinds[r.IntN(len(move.Kinds))], 100*r.Float64(), 100*r.Float64(), 100*r.Float64(), 200, flyBy)
		one.Seconds, one.Shifts = r.Float64(), r.IntN(9) == 0
		moves = append(moves, one)
	}
	want := 0.0
	for _, seconds := range secondsOf(moves, m) {
		want += seconds
	}
	watch := NewStopwatch(m)
	var gone move.Move
	for _, gone = range moves {
		watch.See(&gone)
	}
	if watch.Done(); watch.Seconds != want || want == 0 {
		t.Errorf("%g s, wanted %g", watch.Seconds, want)
	}
}

func BenchmarkTimes(b *testing.B) {
	one := cycle(10)
	for _, m := range []struct {
		name string
		Machine
	}{{"trapezoid", Machine{Acceleration: 10000}}, {"jerk", Machine{Acceleration: 10000, Jerk: 1e5}}} {
		b.Run(m.name, func(b *testing.B) {
			moves := func(yield func(move.Move) bool) {
				for i := range b.N {
					if !yield(one[i%len(one)]) {
						return
					}
				}
			}
			for range Times(move.Batched(moves), m.Machine) {
			}
		})
	}
}

// TestSignedIsFair writes a change and its opposite with the same figure, also where
// half a tenth is off by the last bits of the sums that it comes from.
func TestSignedIsFair(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{
		{0.45, "0.5"}, {0.45 + 1e-12, "0.5"}, {0.45 - 1e-12, "0.5"}, {0.05, "0.1"}, {0.25, "0.3"}, {1.35, "1.4"},
		{0.449, "0.4"}, {0.0494, "0.0"}, {0, "0.0"}, {1e-15, "0.0"}, {14.94, "14.9"}, {192.05, "192.1"},
	} {
		more, less := c.want, c.want
		if c.want != "0.0" {
			more, less = "+"+c.want, "-"+c.want
		}
		if got := signed(c.v); got != more {
			t.Errorf("%v more is %s, wanted %s", c.v, got, more)
		}
		if got := signed(-c.v); got != less {
			t.Errorf("%v less is %s, wanted %s", c.v, got, less)
		}
	}
}

// TestRateSaysWhatItDoesNotHold: where people or waits take a time that nobody knows, the parts
// per hour are a bound, and the words say why.
func TestRateSaysWhatItDoesNotHold(t *testing.T) {
	for _, c := range []struct {
		hands, waits int
		want         string
	}{
		{0, 0, "180 parts per hour"},
		{0, 1, "at most 180 parts per hour, since nobody knows how long the waits take"},
		{1, 0, "at most 180 parts per hour, since nobody knows how long people take"},
		{1, 1, "at most 180 parts per hour, since nobody knows how long people and waits take"},
	} {
		r := Report{Parts: 2, Seconds: 40, Hands: c.hands, Waits: Waits{Count: c.waits}}
		if got := r.Rate(); got != c.want || r.AtMost() != strings.HasPrefix(c.want, "at most") {
			t.Errorf("%d changes by hand, %d waits: %q (%t), wanted %q", c.hands, c.waits, got, r.AtMost(), c.want)
		}
	}
}
