package joints

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridferry/gen/arm"
)

// Against every sequence of turns that there is: none goes a shorter way, and the departures that
// were kept give the sequence back.
func TestLeastWindingAgainstAllSequences(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	departed := 0
	for range 3_000 {
		half := 180 + float64(r.IntN(400))
		j := arm.Joint{Name: "J6", Lo: -half + float64(r.IntN(80)), Hi: half}
		n := 2 + r.IntN(6)
		readings, straight := make([]float64, n), make([]bool, n)
		for i := range readings {
			readings[i] = r.Float64()*360 - 180
			if i > 0 && r.IntN(3) == 0 {
				straight[i], readings[i] = true, readings[i-1]+r.Float64()*100-50
			}
		}
		p := paths{joint: &j, now: []path{{}}}
		for i := range readings {
			p.add(readings[i], i+1, straight[i], false)
		}
		turns := p.shortest()
		departed += len(turns)
		got, ok := replayed(&j, readings, straight, turns)
		if want := shortestOfAll(&j, readings, straight, 0, nil); math.IsInf(want, 1) {
			continue // along a straight the joint would have to jump, whatever it does
		} else if !ok || math.Abs(got-want) > 1e-6 {
			t.Fatalf("%v %v in %g to %g: %g (%v), wanted %g", readings, straight, j.Lo, j.Hi, got, ok, want)
		}
	}
	if departed < 100 {
		t.Errorf("in %d motions a joint did not go to the nearest reading: the test has lost its point", departed)
	}
}

// replayed goes the way that a walk goes: how far it is, and whether it keeps to the lines.
func replayed(j *arm.Joint, readings []float64, straight []bool, turns []turn) (way float64, ok bool) {
	at := 0.0
	for i, reading := range readings {
		to, in := j.Nearest(reading, at)
		if len(turns) > 0 && turns[0].motion == i+1 {
			to, turns = onTurn(j, reading, turns[0].turn), turns[1:]
		}
		if !in || i > 0 && straight[i] && math.Abs(to-at) > StraightMost {
			return way, false
		}
		way += weight(i) * math.Abs(to-at)
		at = to
	}
	return way, true
}

func weight(i int) float64 {
	if i == 0 {
		return firstWeight
	}
	return 1
}

// shortestOfAll tries every turn of every motion.
func shortestOfAll(j *arm.Joint, readings []float64, straight []bool, at float64, i *int) float64 {
	k := 0
	if i != nil {
		k = *i
	}
	if k == len(readings) {
		return 0
	}
	best := math.Inf(1)
	for turns := -3.0; turns <= 3; turns++ {
		to := math.Remainder(readings[k], 360) + 360*turns
		if to < j.Lo || to > j.Hi || k > 0 && straight[k] && math.Abs(to-at) > StraightMost {
			continue
		}
		next := k + 1
		best = min(best, weight(k)*math.Abs(to-at)+shortestOfAll(j, readings, straight, to, &next))
	}
	return best
}
