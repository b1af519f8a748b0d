package render

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
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

// TestEndsOfAGroup: where parts are carried at once, each is known by its own grip and release, whichever transfer
// these belong to: of one descent all belong to the first. What is not gripped, as in a prove-out, is not known, but
// how many they are.
func TestEndsOfAGroup(t *testing.T) {
	at := func(grid string, column int32) move.Target {
		return move.Target{Grid: grid, Slot: slot.Slot{Col: column}}
	}
	row := func(transfer int, id, from, to string) blocks.Carried {
		return blocks.Carried{Transfer: transfer, PartID: blocks.NewText(id), HasPartID: id != "", From: blocks.NewText(from), To: blocks.NewText(to)}
	}
	first, second := "S-1", "S-2"
	opens := []move.Move{{Kind: move.Release, Transfer: 5, ID: &first}, {Kind: move.Release, Transfer: 5, ID: &first}}
	atOnce := append(opens,
		move.Move{Kind: move.Straight, Role: move.DownSource, Transfer: 5, Zones: 2, Target: at("tray", 0)},
		move.Move{Kind: move.Grip, Transfer: 5, Target: at("tray", 0), ID: &first},
		move.Move{Kind: move.Grip, Transfer: 5, Behind: 1, Target: at("tray", 1), ID: &second})
	oneByOne := []move.Move{
		{Kind: move.Release, Transfer: 5, Target: at("rack", 3), ID: &first},
		{Kind: move.Travel, Transfer: 6, Target: at("rack", 7)},
		{Kind: move.Release, Transfer: 6, Target: at("rack", 7), ID: &second},
		{Kind: move.Grip, Transfer: 7, Target: at("tray", 2)}, // of the next group
	}
	f := benchFamilies(t)["iso6983"]
	for _, c := range []struct {
		name  string
		moves []move.Move
		last  int
		want  []blocks.Carried
	}{
		{"picked in one descent, put down one by one", slices.Concat(atOnce, oneByOne), 6, []blocks.Carried{row(5, first, "tray A1", "rack A4"), row(6, second, "tray A2", "rack A8")}},
		{"in a prove-out", []move.Move{atOnce[2], {Kind: move.Straight, Role: move.DownDestination, Transfer: 5, Target: at("rack", 3)}}, 6, nil},
		{"put down in one descent", []move.Move{{Kind: move.Grip, Transfer: 5, Target: at("tray", 0)}, {Kind: move.Grip, Transfer: 6, Target: at("tray", 5)},
			{Kind: move.Release, Transfer: 5, Target: at("rack", 0)}, {Kind: move.Release, Transfer: 5, Behind: 1, Target: at("rack", 1)}}, 6, []blocks.Carried{row(5, "", "tray A1", "rack A1"), row(6, "", "tray A6", "rack A2")}},
		{"too far away to look", slices.Concat(atOnce, slices.Repeat([]move.Move{{Kind: move.Dwell, Transfer: 5}}, mostAhead), oneByOne), 6, nil},
	} {
		for i := range c.moves {
			if c.moves[i].Group = 5; c.moves[i].Transfer > 6 {
				c.moves[i].Group = 7
			}
		}
		v, all := benchViewer(f), endsOf(nil, c.moves)
		view := v.transfer(c.moves[0], all)
		if view.Last != c.last || !slices.Equal(view.Group, c.want) {
			t.Errorf("%s: to transfer %d, %v; wanted %d, %v", c.name, view.Last, view.Group, c.last, c.want)
		}
		view = v.transfer(move.Move{Transfer: 6, Group: 5}, all)
		if view.Last != 6 || len(view.Group) != 0 || view.HasEnds != (c.want != nil) {
			t.Errorf("%s: the second one's own heading has %+v", c.name, view)
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
