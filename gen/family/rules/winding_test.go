package rules_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridferry/gen/family/rules"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// wound follows a list of tools that point down, turned by these angles.
func wound(turns [2]float64, angles ...float64) (at []float64, how []rules.Wound) {
	r := rules.Default()
	r.Rotation, r.BaseCoordinates, r.Decimals.Angle = rules.Vertical, true, 3
	w := r.NewWinding(turns)
	for _, a := range angles {
		m := move.Move{Kind: move.Travel, Base: move.Point{RPY: geom.RPY{Roll: 180, Yaw: a}}}
		how = append(how, w.Follow(&m))
		at = append(at, m.Turn)
	}
	return at, how
}

func TestAxisTakesTheShortWay(t *testing.T) {
	for _, tt := range []struct {
		turns        [2]float64
		angles, want []float64
		last         rules.Wound
	}{
		{[2]float64{-360, 360}, []float64{180, -179.943}, []float64{180, 180.057}, rules.Shortest},
		{[2]float64{}, []float64{180, -179.943}, []float64{180, -179.943}, rules.Back},
		{[2]float64{}, []float64{-180, 179.9999, -179.9999}, []float64{180, 179.9999, 180.0001}, rules.Shortest},
		{[2]float64{}, []float64{-90, 180}, []float64{-90, -180}, rules.Shortest},
		{[2]float64{-360, 360}, []float64{90, -150, -30, 90, 90}, []float64{90, 210, 330, 90, 90}, rules.Shortest},
		{[2]float64{-360, 360}, []float64{90, -150, -30, 80}, []float64{90, 210, 330, 80}, rules.Back},
		{[2]float64{-90, 90}, []float64{0, 180}, []float64{0, 180}, rules.Nowhere},
		{[2]float64{90, 450}, []float64{0, 180}, []float64{360, 180}, rules.Shortest},
	} {
		got, how := wound(tt.turns, tt.angles...)
		for i := range got {
			if math.Abs(got[i]-tt.want[i]) > 1e-9 {
				t.Errorf("%v in %v: %v, wanted %v", tt.angles, tt.turns, got, tt.want)
				break
			}
		}
		if last := how[len(how)-1]; last != tt.last {
			t.Errorf("%v in %v: %v at last, wanted %v", tt.angles, tt.turns, last, tt.last)
		}
	}
}

// TestAxisStaysInItsRange: wherever it turns, it stands where the tool has to, inside
// the range, and no whole turn more would have been nearer.
func TestAxisStaysInItsRange(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 6))
	for range 300 {
		turns := [2]float64{-360 + 200*r.Float64(), 200 + 300*r.Float64()}
		angles := make([]float64, 40)
		for i := range angles {
			angles[i] = float64(r.IntN(3600)-1800) / 10
		}
		got, _ := wound(turns, angles...)
		for i := range got {
			if off := math.Abs(math.Remainder(got[i]-angles[i], 360)); off > 1e-9 || got[i] < turns[0]-0.001 || got[i] > turns[1]+0.001 {
				t.Fatalf("%v: at %g, wanted %g in %v", angles, got[i], angles[i], turns)
			}
			for _, other := range []float64{got[i] - 720, got[i] - 360, got[i] + 360, got[i] + 720} {
				if i > 0 && turns[0] <= other && other <= turns[1] && math.Abs(other-got[i-1]) < math.Abs(got[i]-got[i-1])-0.001 {
					t.Fatalf("from %g to %g, and %g was nearer", got[i-1], got[i], other)
				}
			}
		}
	}
}

// TestNeighbouringQuaternionsPointTheSameWay: q and -q are one rotation, and a controller
// that turns along the great circle between them takes the short one where their
// dot product is not negative (Shoemake, SIGGRAPH 1985, from memory).
func TestNeighbouringQuaternionsPointTheSameWay(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 7))
	r := rules.Default()
	r.Rotation = rules.Quaternion
	w := r.NewWinding([2]float64{})
	var before [4]float64
	negated := 0
	for i := range 2000 {
		turn := func() float64 { return 360*random.Float64() - 180 }
		m := move.Move{Kind: move.Straight, At: move.Point{RPY: geom.RPY{Roll: turn(), Pitch: turn() / 2, Yaw: turn()}}}
		w.Follow(&m)
		var q [4]float64
		q[0], q[1], q[2], q[3] = m.At.Rot().Quaternion()
		dot := 0.0
		for k := range q {
			if m.Negated {
				q[k] = -q[k]
			}
			dot += q[k] * before[k]
		}
		if dot < 0 || i == 0 && m.Negated {
			t.Fatalf("motion %d: %v behind %v", i, q, before)
		}
		if before = q; m.Negated {
			negated++
		}
	}
	if negated < 200 || negated > 1800 {
		t.Errorf("%d of 2000 are negated: the test proves little", negated)
	}
}
