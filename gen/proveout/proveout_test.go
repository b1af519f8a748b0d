package proveout_test

import (
	"slices"
	"strings"
	"testing"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/proveout"
	"gridferry/plan"
	"gridferry/plan/diag"
)

var frames = []move.Frame{{Number: 1, Name: "base"}, {Number: 2, Name: "side", Base: move.Point{Vec: geom.Vec{X: 100}, RPY: geom.RPY{Roll: 90}}}}
var tools = []move.Tool{{Number: 1, Name: "jaw", Mass: 0.5}}

// oneTransfer is a transfer in a frame that lies on its side: its +Z is the base's -Y.
var oneTransfer = []move.Move{
	{Kind: move.Await, Role: move.AskFirst, Signal: 5, Seconds: 1},
	{Kind: move.Select, FrameNumber: 2, ToolNumber: 1, Load: 0.5},
	{Kind: move.Travel, FrameNumber: 2, ToolNumber: 1, Load: 0.5, Speed: 600, Target: move.Target{Pose: "clear"}, Base: move.Point{Vec: geom.Vec{X: 1, Y: 2, Z: 3}}},
	{Kind: move.Release, Role: move.OpenFirst, Signal: 1},
	{Kind: move.Dwell, Role: move.OpenSettle, Seconds: 0.3},
	{Kind: move.Travel, FrameNumber: 2, ToolNumber: 1, Load: 0.5, Speed: 600, Target: move.Target{Grid: "tray", Approach: true}, At: move.Point{Vec: geom.Vec{Z: 60}}, Base: move.Point{Vec: geom.Vec{X: 100, Y: -60}}},
	{Kind: move.Straight, FrameNumber: 2, ToolNumber: 1, Load: 0.5, Speed: 60, Target: move.Target{Grid: "tray"}, Base: move.Point{Vec: geom.Vec{X: 100}}},
	{Kind: move.Grip, Role: move.TakeHold, Signal: 1, Level: true, Target: move.Target{Grid: "tray"}},
	{Kind: move.Set, Role: move.HoldMore, Signal: 2},
	{Kind: move.Dwell, Role: move.HoldSettle, Seconds: 0.4},
	{Kind: move.Await, Role: move.AskHeld, Signal: 5, Level: true, Seconds: 1},
	{Kind: move.Select, FrameNumber: 2, ToolNumber: 1, Load: 0.7},
	{Kind: move.Straight, FrameNumber: 2, ToolNumber: 1, Load: 0.7, Speed: 60, Target: move.Target{Grid: "tray", Approach: true}, At: move.Point{Vec: geom.Vec{Z: 60}}, Base: move.Point{Vec: geom.Vec{X: 100, Y: -60}}},
	{Kind: move.Set, Role: move.Asked, Signal: 3, Level: true},
	{Kind: move.Await, Role: move.Asked, Signal: 4, Level: true, Seconds: 5},
	{Kind: move.Set, Role: move.Asked, Signal: 6, Level: true},
	{Kind: move.Dwell, Role: move.Asked, Seconds: 0.2, Pulse: true},
	{Kind: move.Set, Role: move.Asked, Signal: 6},
	{Kind: move.Dwell, Role: move.Asked, Seconds: 2},
	{Kind: move.Note, Role: move.Asked, Text: "look"},
}

func up(*move.Move) geom.Vec { return geom.Vec{Z: 1} }

func run(o proveout.Options) []move.Move {
	return slices.Collect(proveout.Moves(slices.Values(oneTransfer), o, frames, tools, up))
}

func kinds(moves []move.Move) string {
	var words []string
	for _, m := range moves {
		words = append(words, m.Kind.String())
	}
	return strings.Join(words, " ")
}

func TestWhatIsLeftOut(t *testing.T) {
	tests := []struct {
		o    proveout.Options
		want string
	}{
		{proveout.Options{Speed: 250, Lift: 50}, "select travel travel straight straight dwell note"},
		{proveout.Options{Speed: 250, Lift: 50, Steps: true}, "select travel travel straight straight set await set dwell set dwell note"},
		{proveout.Options{Speed: 250, Lift: 50, Grips: true}, "await select travel release dwell travel straight grip set dwell straight dwell note"},
		{proveout.Options{Speed: 250, Lift: 50, Grips: true, Steps: true}, "await select travel release dwell travel straight grip set dwell straight set await set dwell set dwell note"},
		{proveout.Options{Speed: 250, Grips: true}, "await select travel release dwell travel straight grip set dwell await select straight dwell note"},
		{proveout.Options{Speed: 250, Grips: true, Steps: true}, "await select travel release dwell travel straight grip set dwell await select straight set await set dwell set dwell note"},
	}
	for _, tt := range tests {
		moves := run(tt.o)
		if got := kinds(moves); got != tt.want {
			t.Errorf("%+v: %s, wanted %s", tt.o, got, tt.want)
		}
		for i, m := range moves {
			if m.N != i+1 {
				t.Errorf("%+v: move %d is numbered %d", tt.o, i+1, m.N)
			}
		}
	}
}

// TestAir: a gripper that closes above its slot takes nothing, so that no rule about
// slots has anything to say, and the flange carries the tool alone.
func TestAir(t *testing.T) {
	for _, m := range run(proveout.Options{Speed: 250, Lift: 50, Grips: true}) {
		switch {
		case m.Kind == move.Grip && !m.Target.IsZero():
			t.Errorf("the gripper closes on %q", m.Target)
		case (m.Kind.IsMotion() || m.Kind == move.Select) && m.Load != 0.5:
			t.Errorf("%s carries %g kg", m.Kind, m.Load)
		}
	}
	loads := 0
	for _, m := range run(proveout.Options{Speed: 250, Grips: true}) {
		if m.Kind == move.Grip && m.Target.Grid != "tray" {
			t.Error("at its slot the gripper closes on nothing")
		}
		if m.Load == 0.7 {
			loads++
		}
	}
	if loads != 2 {
		t.Errorf("the part hangs on the flange in %d moves, wanted 2", loads)
	}
}

func TestSlowAndLifted(t *testing.T) {
	for _, m := range run(proveout.Options{Speed: 40, Lift: 50}) {
		if !m.Kind.IsMotion() {
			continue
		}
		if want := map[move.Kind]float64{move.Travel: 40, move.Straight: 15}[m.Kind]; m.Speed != want {
			t.Errorf("%s goes at %g mm/s, wanted %g: a quarter of the plan's speed and at most 40", m.Target, m.Speed, want)
		}
		switch {
		case m.Target.Pose != "" && (m.Base.Vec != geom.Vec{X: 1, Y: 2, Z: 3}):
			t.Errorf("the pose moved to %v", m.Base.Vec)
		case m.Target.Approach && (m.At.Z != 110 || m.Base.Dist(geom.Vec{X: 100, Y: -110}) > 1e-9):
			t.Errorf("%s is at %v in the frame, %v in the base", m.Target, m.At.Vec, m.Base.Vec)
		case m.Target.Grid != "" && !m.Target.Approach && (m.At.Z != 50 || m.Base.Dist(geom.Vec{X: 100, Y: -50}) > 1e-9):
			t.Errorf("%s is at %v in the frame, %v in the base", m.Target, m.At.Vec, m.Base.Vec)
		}
	}
	for _, m := range run(proveout.Options{Speed: 250, Lift: 1}) {
		if want := map[move.Kind]float64{move.Travel: 150, move.Straight: 15}[m.Kind]; m.Kind.IsMotion() && m.Speed != want {
			t.Errorf("a %s goes at %g mm/s, wanted a quarter of the plan's speed, %g", m.Kind, m.Speed, want)
		}
	}
}

func TestLinesEarlyEnd(t *testing.T) {
	if got := kinds(slices.Collect(proveout.Lines(slices.Values(oneTransfer)))); strings.Contains(got, "travel") || strings.Count(got, "straight") != 4 {
		t.Error(got)
	}
	seen := 0
	for range proveout.Lines(proveout.Moves(slices.Values(oneTransfer), proveout.Options{Speed: 9}, frames, tools, up)) {
		if seen++; seen == 2 {
			break
		}
	}
	if seen != 2 {
		t.Error("the list does not end when nobody wants more")
	}
}

const stacks = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: bench
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
parts:
  block: {mass: 0.2, size: [20, 20, 30]}
grids:
  flat: {frame: base, rows: 1, columns: 2, pitch: [40, 40], first: [200, 0, 20], part: block, filled: all}
  pile: {frame: base, rows: 1, columns: 1, layers: 3, layer_pitch: 30, first: [200, 200, 20]}
motion: {tool: jaw, approach: 150, speed: {travel: 300, near: 60}}
transfers:
  - {from: flat, to: pile}
`

// warnings is what a plan's first run is warned of.
func warnings(t *testing.T, text string, o proveout.Options) []string {
	t.Helper()
	var list diag.List
	l := layout.Resolve(plan.Read(plan.Source{File: "p", Data: []byte(text), Dir: "."}, nil, &list, new(diag.Sources)), layout.Options{}, &list)
	if list.HasErrors() {
		t.Fatal(list.Sorted())
	}
	var found diag.List
	proveout.Warn(l, o, &found)
	var got []string
	for _, f := range found.Sorted() {
		got = append(got, f.Message+" | "+f.Hint)
	}
	return got
}

// TestWarn: held in the middle, a block of 30 mm stands 15 mm above the tool centre
// point. The job puts two into the pile, one on the other: the upper one's top is 45 mm
// above the lowest slot, and nothing ever stands in the third layer.
func TestWarn(t *testing.T) {
	full := strings.Replace(stacks, "first: [200, 200, 20]", "first: [200, 200, 20], part: block, filled: all", 1)
	part := strings.Replace(stacks, "first: [200, 200, 20]", "first: [200, 200, 20], part: block, filled: A1.1", 1)
	const back = "{from: pile, to: flat}"
	along := func(direction string) string {
		return strings.Replace(stacks, "first: [200, 200, 20]", "first: [200, 200, 20], motion: {along: "+direction+"}", 1)
	}
	only := strings.Replace(stacks, "from: flat, to: pile", "from: flat A1, to: pile A1.1", 1)
	tests := []struct {
		text string
		o    proveout.Options
		want []string
	}{
		{stacks, proveout.Options{Lift: 46}, nil},
		{stacks, proveout.Options{Lift: 45}, nil},
		{stacks, proveout.Options{Lift: 44}, []string{`1.0 mm below the top of parts in "pile" if it is as full as the job makes it | take them out before the prove-out, or lift by 45 mm or more`}},
		{stacks, proveout.Options{Lift: 10, Grips: true}, []string{`5.0 mm below the top of parts that stand in "flat"`, `35.0 mm below the top of parts in "pile" if`}},
		{stacks, proveout.Options{Grips: true}, nil}, // the real job: every rule holds
		// One that stands there at the start, below the two that the job puts on it.
		{part, proveout.Options{Lift: 44}, []string{`1.0 mm below the top of parts in "pile" if`}},
		{part, proveout.Options{Lift: 45}, nil},
		// Full at the start, and taken from: all three layers stand.
		{strings.NewReplacer("{from: flat, to: pile}", back, "part: block, filled: all}\n  pile", "part: block}\n  pile").Replace(full), proveout.Options{Lift: 20},
			[]string{`25.0 mm below the top of parts that stand in "pile" | take them out before the prove-out, or lift by 45 mm or more`}},
		// One slot written out: the rest of the grid stays empty.
		{only, proveout.Options{Lift: 15}, nil},
		// A slanted approach: four fifths of the lift lead up, so 56.25 mm lead up by 45.
		{along("[3, 0, 4]"), proveout.Options{Lift: 45}, []string{`lifted by 45 mm, the tool comes 9.0 mm below the top of parts in "pile" if it is as full as the job makes it | take them out before the prove-out, or lift by 57 mm or more`}},
		{along("[3, 0, 4]"), proveout.Options{Lift: 57}, nil},
		{along("[1, 0, 0]"), proveout.Options{Lift: 100}, []string{`lifted by 100 mm, the tool comes 45.0 mm below the top of parts in "pile" if it is as full as the job makes it | take them out before the prove-out: no lift leads above them`}},
		{only, proveout.Options{Lift: 14}, []string{`1.0 mm below the top of parts that stand in "flat"`, `1.0 mm below the top of parts in "pile" if`}},
	}
	for _, tt := range tests {
		got := warnings(t, tt.text, tt.o)
		if len(got) != len(tt.want) {
			t.Errorf("%+v: %q, wanted %q", tt.o, got, tt.want)
			continue
		}
		for i := range got {
			if !strings.Contains(got[i], tt.want[i]) {
				t.Errorf("%+v: %q, wanted %q", tt.o, got[i], tt.want[i])
			}
		}
	}
}

func TestNotice(t *testing.T) {
	for _, tt := range []struct {
		o    proveout.Options
		want []string
	}{
		{proveout.Options{Speed: 250, Lift: 50}, []string{"PROVE-OUT: a quarter of the speeds in the plan, at most 250 mm/s as written", "lifted by 50 mm", "gripper is left alone", "no other output", "Take every part out"}},
		{proveout.Options{Speed: 12.5, Grips: true, Steps: true}, []string{"at most 12.5 mm/s", "NOT lifted", "the gripper works", "outputs are set", "It carries parts"}},
	} {
		for _, want := range tt.want {
			if got := tt.o.Notice(false); !strings.Contains(got, want) {
				t.Errorf("%q is missing in %q", want, got)
			}
		}
	}
}

// TestZoneStandsLifted: where another zone of the tool is selected, its TCP stands as much higher
// as the motion before led.
func TestZoneStandsLifted(t *testing.T) {
	over := move.Move{Kind: move.Straight, FrameNumber: 2, ToolNumber: 1, Speed: 60, Target: move.Target{Grid: "tray", Approach: true}, Base: move.Point{Vec: geom.Vec{X: 100, Y: -60}}}
	clear := move.Move{Kind: move.Travel, FrameNumber: 2, ToolNumber: 1, Speed: 60, Target: move.Target{Pose: "clear"}, Base: move.Point{Vec: geom.Vec{X: 100, Y: -60}}}
	shift := move.Move{Kind: move.Select, FrameNumber: 2, ToolNumber: 1, Load: 1, Shifts: true, Base: move.Point{Vec: geom.Vec{X: 130, Y: -60}}}
	for _, tt := range []struct {
		after move.Move
		want  geom.Vec
	}{{over, geom.Vec{X: 130, Y: -110}}, {clear, shift.Base.Vec}} {
		got := slices.Collect(proveout.Moves(slices.Values([]move.Move{tt.after, shift}), proveout.Options{Speed: 40, Lift: 50}, frames, tools, up))
		if len(got) != 2 || got[1].Base.Dist(tt.want) > 1e-9 {
			t.Errorf("after %s: %+v, wanted the TCP at %v", tt.after.Target, got, tt.want)
		}
	}
}
