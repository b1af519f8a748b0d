package render

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/slot"
)

// randomMove is any move, also one with figures that no program can hold. Its
// values are few, so that the ones before come back.
func randomMove(random *rand.Rand, n int) move.Move {
	pick := func(values ...float64) float64 { return values[random.IntN(len(values))] }
	point := func() move.Point {
		return move.Point{
			Vec: geom.Vec{X: pick(0, 12.5, -3, math.Copysign(0, -1)), Y: pick(1, 2, 1e12), Z: pick(40, 50)},
			RPY: geom.RPY{Roll: pick(180, 0, math.NaN()), Pitch: pick(0, 0, 0, 90), Yaw: pick(0, math.Copysign(0, -1), 90, -180)},
		}
	}
	target := move.Target{
		Grid: []string{"tray", "rack", ""}[random.IntN(3)], Layered: random.IntN(4) == 0, Approach: random.IntN(2) == 0,
		Slot: slot.Slot{Row: int32(random.IntN(3)), Col: int32(random.IntN(40))},
	}
	if target.Grid == "" {
		target = move.Target{Pose: []string{"clear", "", "park"}[random.IntN(3)]}
	}
	return move.Move{
		N: n, Transfer: random.IntN(3), Leg: random.IntN(2), Kind: move.Kinds[random.IntN(len(move.Kinds))], Target: target,
		Frame: "base", FrameNumber: random.IntN(3), Tool: "jaw", ToolNumber: random.IntN(3), Load: pick(0.8, 0.82, math.NaN()),
		At: point(), Base: point(), Speed: pick(80, 500, 1e-9), FlyBy: pick(0, 15), Signal: random.IntN(3), Level: random.IntN(2) == 0,
		Seconds: pick(0, 0.3, 1e-9), GoOn: random.IntN(2) == 0, Text: []string{"a", "b\nc", ""}[random.IntN(3)], Pause: random.IntN(2) == 0,
	}
}

// shown is what a view holds, and the error.
func shown(view any, err error) string {
	return fmt.Sprintf("%+v, %v", reflect.ValueOf(view).Elem().Interface(), err)
}

// A view holds nothing of the moves before it: it is the one that a new viewer
// makes.
func TestViewsAreFilledAnew(t *testing.T) {
	moves := 400
	if testing.Short() {
		moves = 100
	}
	for name, f := range benchFamilies(t) {
		for _, form := range []rules.RotationForm{rules.FixedXYZ, rules.MovingZYX, rules.MovingZYZ, rules.Quaternion, rules.RotationVector, rules.Vertical} {
			f.Rotation = form
			random := rand.New(rand.NewPCG(6, uint64(form)))
			used, failures := benchViewer(f), 0
			for n := range moves {
				m, fresh := randomMove(random, n), benchViewer(f)
				fresh.before = used.before
				got, err := used.of(&m)
				again, errAgain := fresh.of(&m)
				if err != nil || errAgain != nil {
					if failures++; fmt.Sprint(err) != fmt.Sprint(errAgain) {
						t.Fatalf("%s, %s: %+v is refused with %v, want %v", name, form, m, err, errAgain)
					}
					continue
				}
				if got, want := shown(got, err), shown(again, errAgain); got != want {
					t.Fatalf("%s, %s: %+v\ngives %s\nwant  %s", name, form, m, got, want)
				}
			}
			if failures*20 < moves || failures*20 > moves*19 {
				t.Errorf("%s, %s: %d of %d moves are refused", name, form, failures, moves)
			}
		}
	}
}

// Both ends of a transfer are written, also where there is one place to remember both,
// and where they are missing.
func TestEndsOfATransfer(t *testing.T) {
	at := func(grid string, column int32) move.Target {
		return move.Target{Grid: grid, Slot: slot.Slot{Col: column}, Approach: true}
	}
	v := benchViewer(benchFamilies(t)["iso6983"])
	for _, c := range []struct {
		ends     ends
		from, to string
	}{
		{ends{from: at("tray", 0), to: at("rack", 0)}, "tray A1", "rack A1"},
		{ends{from: at("tray", 0), to: at("tray", 16)}, "tray A1", "tray A17"},
		{ends{from: at("rack", 3)}, "rack A4", ""},
		{ends{}, "", ""},
	} {
		view := v.transfer(move.Move{}, []ends{c.ends})
		if view.From != blocks.NewText(c.from) || view.To != blocks.NewText(c.to) {
			t.Errorf("from %v to %v, want from %q to %q", view.From, view.To, c.from, c.to)
		}
	}
}
