package move

import (
	"bytes"
	"io"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
)

var ids = []*string{nil, new("S-1"), new("=1+1"), new("é \"x\"")}

// anyMove is a move of few different values, so that each often comes again, with
// fields filled that do not apply to its kind.
func anyMove(r *rand.Rand) Move {
	texts := []string{"", "a", "b,c", "d \"e\"", "f\ng", "\xff\u00e9"}
	numbers := []float64{0, math.Copysign(0, -1), 1, 100.125, 2.0 / 3, -1e300, 1e9}
	text := func() string { return texts[r.IntN(len(texts))] }
	number := func() float64 { return numbers[r.IntN(len(numbers))] }
	point := func() Point {
		return Point{geom.Vec{X: number(), Y: number(), Z: number()}, geom.RPY{Roll: number(), Pitch: number(), Yaw: number()}}
	}
	flag := func() bool { return r.IntN(2) == 0 }
	var joints *arm.Readings
	if flag() {
		joints = &arm.Readings{number(), number(), number(), number(), number(), number()}
	}
	return Move{
		Joints: joints, Configuration: arm.Configuration(r.IntN(64)),
		N: r.IntN(20), Transfer: r.IntN(3), Leg: r.IntN(3), Kind: Kinds[r.IntN(len(Kinds))], Role: Role(r.IntN(NumRoles)),
		Target: Target{Pose: text(), Grid: text(), Slot: slot.Slot{Row: int32(r.IntN(30)), Layer: 1}, Layered: flag(), Approach: flag()},
		Frame:  text(), Tool: text(), Load: number(), At: point(), Base: point(), Speed: number(), FlyBy: number(),
		Signal: r.IntN(2), Level: flag(), GoOn: flag(), Seconds: number(), Text: text(), Place: diag.Place{Line: r.IntN(2)}, ID: ids[r.IntN(len(ids))],
	}
}

// What a line remembers of those before it does not show: a list is its moves, each
// written by itself.
func TestLinesRememberNothingWrong(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	moves := make([]Move, 4_000)
	for i := range moves {
		moves[i] = anyMove(r)
		if i > 0 && r.IntN(2) == 0 { // one field of the last one changed, or none
			next := moves[i]
			moves[i] = moves[i-1]
			switch r.IntN(9) {
			case 0:
				moves[i].Kind = next.Kind
			case 1:
				moves[i].Leg = next.Leg
			case 2:
				moves[i].Frame, moves[i].Tool = next.Frame, next.Tool
			case 3:
				moves[i].At.X, moves[i].FlyBy = next.At.X, next.FlyBy
			case 4:
				moves[i].Level, moves[i].Seconds = next.Level, next.Seconds
			case 5:
				moves[i].GoOn, moves[i].Load = next.GoOn, next.Load
			case 7:
				moves[i].ID = next.ID
			case 6:
				moves[i].Text, moves[i].Signal, moves[i].Place = next.Text, next.Signal, next.Place
			}
		}
	}
	for name, write := range map[string]func(io.Writer, int, Batches) error{"csv": WriteCSV, "jsonl": WriteJSONL} {
		var whole, single bytes.Buffer
		if err := write(&whole, 6, Batched(slices.Values(moves))); err != nil {
			t.Fatal(err)
		}
		for i := range moves {
			var one bytes.Buffer
			if err := write(&one, 6, Batched(slices.Values(moves[i:i+1]))); err != nil {
				t.Fatal(err)
			}
			text := one.String()
			if name == "csv" && i > 0 {
				_, text, _ = strings.Cut(text, "\n") // the header
			}
			single.WriteString(text)
		}
		if whole.String() != single.String() {
			t.Errorf("%s: a list is not its moves, each written by itself", name)
		}
	}
}

// A line costs no memory of its own.
func TestLinesAllocateNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 2))
	var moves []Move
	for range 200 {
		m := anyMove(r)
		m.Target.Pose, m.Target.Grid, m.Frame, m.Tool, m.Text = "w", "g", "f", "t", "n"
		moves = append(moves, m)
	}
	few := 20
	if testing.Short() {
		few = 5
	}
	for name, write := range map[string]func(io.Writer, int, Batches) error{"csv": WriteCSV, "jsonl": WriteJSONL} {
		list := func(times int) float64 {
			return testing.AllocsPerRun(3, func() {
				_ = write(io.Discard, 6, func(yield func([]Move) bool) {
					for range times {
						if !yield(moves) {
							return
						}
					}
				})
			})
		}
		if once, thrice := list(few), list(3*few); thrice > once+8 { // the garbage collector makes some of its own
			t.Errorf("%s: %g allocations for %d moves and %g for three times as many", name, once, few*len(moves), thrice)
		}
	}
}
