package nest_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/golden/corpus"
	"gridferry/golden/simulate"
	"gridferry/plan"
	"gridferry/templates"
)

// What the loops say and what the list of moves says is the same, action by
// action: where the arm goes, in which frame and to which figures, when the gripper
// works, what is waited for.

// program is the text of the family loops; it is "" where the plan has an error.
func program(t interface{ Fatal(...any) }, source plan.Source) (text string, job *gen.Job) {
	job = new(gen.Job)
	if !job.Read(source, nil, layout.Options{}) {
		return "", job
	}
	sub, err := fs.Sub(templates.FS, templates.Loops)
	if err != nil {
		t.Fatal(err)
	}
	f, ok := job.LoadFamily(sub, templates.Loops)
	if !ok {
		t.Fatal(job.Findings.Sorted())
	}
	var out bytes.Buffer
	if err := job.Write(&out, f); err != nil {
		t.Fatal(err)
	}
	if job.Findings.HasErrors() {
		t.Fatal(job.Findings.Sorted())
	}
	return out.String(), job
}

// same compares the actions of a text with the moves of its plan.
func same(text string, job *gen.Job) error {
	got, err := interpret(text)
	if err != nil {
		return fmt.Errorf("after %d actions: %w", len(got), err)
	}
	i := 0
	for m := range job.Moves() {
		want, any := wanted(m)
		if !any {
			continue
		}
		if i >= len(got) {
			return fmt.Errorf("the loops end after %d actions, before move %d", i, m.N)
		}
		if err := differ(got[i], want); err != nil {
			return fmt.Errorf("action %d, move %d: %w", i+1, m.N, err)
		}
		i++
	}
	if i < len(got) {
		return fmt.Errorf("the loops do %d actions more, first %+v", len(got)-i, got[i])
	}
	return nil
}

// wanted is a move as an action; false for one that loops do not have.
func wanted(m move.Move) (action, bool) {
	level := map[bool]string{true: "on", false: "off"}[m.Level]
	switch m.Kind {
	case move.Travel, move.Straight:
		return action{m.Kind.String(), target(m.Target), identifier(m.Frame), identifier(m.Tool), geom.Pose{T: m.At.Vec, R: m.At.Rot()}, m.Speed}, true
	case move.Select:
		return action{what: "person " + m.Text}, m.ByHand
	case move.Grip, move.Release, move.Set:
		return action{what: fmt.Sprintf("output %d %s", m.Signal, level)}, true
	case move.Dwell:
		return action{what: fmt.Sprint("wait ", m.Seconds)}, true
	case move.Await:
		text := fmt.Sprintf("input %d %s", m.Signal, level)
		if m.Seconds > 0 {
			text += fmt.Sprint(" ", m.Seconds, map[bool]string{true: " go on", false: " stop"}[m.GoOn])
		}
		return action{what: text}, true
	case move.Note:
		return action{what: "stop"}, m.Pause
	}
	return action{}, false
}

func target(t move.Target) string {
	if t.Grid == "" {
		return t.Pose
	}
	text := fmt.Sprint(identifier(t.Grid), " ", t.Slot.Row+1, " ", t.Slot.Col+1, " ", t.Slot.Layer+1)
	if t.Approach {
		text += " above"
	}
	return text
}

// identifier is what the family makes of the names that its own words leave no
// room for.
func identifier(name string) string {
	if name == "from" || name == "to" {
		return name + "_1"
	}
	return strings.NewReplacer("-", "_", " ", "_").Replace(name)
}

func differ(got, want action) error {
	if got.tool == "" {
		want.tool = "" // one takes every part
	}
	if got.what != want.what || got.to != want.to || got.frame != want.frame || got.tool != want.tool || got.speed != want.speed {
		return fmt.Errorf("the loops say %+v, the list says %+v", got, want)
	}
	if d := got.pose.T.Dist(want.pose.T); d > 0.05 {
		return fmt.Errorf("%s is at %v by the loops and at %v by the list, %g mm apart", got.to, got.pose.T, want.pose.T, math.Abs(d))
	}
	if a := got.pose.R.T().Mul(want.pose.R).Angle(); a > 0.05 {
		return fmt.Errorf("%s is turned by %g degrees", got.to, a)
	}
	return nil
}

func TestLoopsOfTheDemos(t *testing.T) {
	for _, file := range append(corpus.Plans(t, "../../testdata/demo"), "../../plan/starter/first.plan.yaml") {
		source, err := plan.Open(file, nil)
		if err != nil {
			t.Fatal(err)
		}
		text, job := program(t, source)
		if text == "" {
			t.Fatalf("%s: %v", file, job.Findings.Sorted())
		}
		if err := same(text, job); err != nil {
			t.Errorf("%s: %v\n%s", file, err, text)
		}
	}
}

// The comparison notices each of the slips that the head of the program warns of, and one in
// everything else that loops say.
func TestSlipsAreNoticed(t *testing.T) {
	for file, slips := range map[string][][2]string{
		"mortar-cubes": {
			{"WORK IN FRAME base\nTRAVEL TO clear AT (400, 0, 420), 80 mm/s", "WORK IN FRAME base\nTRAVEL TO clear AT (400, 0, 420), 500 mm/s"},
			{"EACH column 1 TO 6", "EACH column 1 TO 7"},
			{"EACH column 1 TO 6", "EACH column 1 TO 5"},
			{"EACH row 1 TO 4", "EACH row 2 TO 4"},
			{"  WORK IN FRAME OF grid", ""},
			{"  WORK IN FRAME base", ""},
			{"    SKIP WHERE row IS 2 AND column IS 3", ""},
			{"LEAVE THE LOOPS WHEN count IS 23", "LEAVE THE LOOPS WHEN count IS 22"},
			{"[0, 65, 130, 195, 260, 325]", "[0, 65, 130, 195, 260]"},
			{"count = 0\nEACH row 1 TO 4\n  EACH column 1 TO 6\n    SKIP", "EACH row 1 TO 4\n  EACH column 1 TO 6\n    SKIP"},
			{"place(balance, 1, 1)", "place(rack, 1, 1)"},
			{"WAIT 2 s", "WAIT 3 s"},
		},
		"whole-bench": {
			{"WORK WITH twin_left\n", ""},
			{"DO fetch_twin\n", ""},
			{"DO leave_jaw\n", ""},
			{"STRAIGHT TO jaw_stand", "TRAVEL TO jaw_stand"},
			{"  GO IN BY balance UNLESS THE ARM STANDS ABOVE slot\n", ""},
			{"  OVER over AT (40, 40, 90) IN FRAME pan\n", ""},
			{"HOW TO clear\n  GO OUT\n", "HOW TO clear\n"},
			{", WITH A PART 250 mm/s", ""},
			{"45 BACK ALONG THE TOOL FROM", "45 ABOVE"},
			{"(0, 11.494, 38.313) FROM", "40 ABOVE"},
			{"  slot[2, 3] OFF BY (0, 0, -0.5)\n", ""},
			{"STRAIGHT TO 10 ABOVE slot", "STRAIGHT TO slot"},
			{"come_to_pick(infeed, 1, 1)\n", ""},
			{"pick_with_twin_left_and_right(slides", "pick_with_twin(slides"},
			{"  OUTPUT 15 off\n", ""},
			{"  AWAIT INPUT 14 on, AT MOST 1 s, THEN STOP\n", ""},
			{"AWAIT INPUT 13 off, AT MOST 1 s, THEN STOP\n", ""},
			{"place_rack(rack", "place_chute(rack"},
		},
		"two-cartons": {
			{"  place_right(stack, to_row[count + 2], to_column[count + 2], to_layer[count + 2])", "  place_right(stack, to_row[count + 1], to_column[count + 1], to_layer[count + 1])"},
			{"  place_right(", "  place_left("},
			{"  WORK WITH twin_right\n", ""},
			{"  WORK WITH twin_left\n", ""},
			{"count = count + 2", "count = count + 1"},
			{"EACH group 1 TO 2", "EACH group 1 TO 3"},
			{"DO open twin_left TO twin_right UNLESS THEY ARE OPEN", "DO open twin_left UNLESS IT IS OPEN"},
		},
		"lids": {
			{"STOP FOR A PERSON # fit hook\n", ""},
			{"WORK WITH hook\n", ""},
			{"DO clear\nDO leave_cup", "DO leave_cup"},
		},
		"coating": {
			{"TOOL TURNED (170, 0, 0)", "TOOL TURNED (180, 0, 0)"},
			{"TRAVEL TO rinse AT (300, -120, 200), 400 mm/s", "TRAVEL TO rinse AT (300, -120, 200), 200 mm/s"},
			{"place_entry_2(shelf", "place(shelf"},
		},
	} {
		slipsIn(t, file, slips)
	}
}

func slipsIn(t *testing.T, file string, slips [][2]string) {
	source, err := plan.Open("../../testdata/demo/"+file+".plan.yaml", nil)
	if err != nil {
		t.Fatal(err)
	}
	text, job := program(t, source)
	for _, slip := range slips {
		wrong := strings.Replace(text, slip[0], slip[1], 1)
		if wrong == text {
			t.Fatalf("the text of %s has no %q:\n%s", file, slip[0], text)
		}
		if same(wrong, job) == nil {
			t.Errorf("%s: nobody notices %q in place of %q", file, slip[1], slip[0])
		}
	}
}

// What random plans never or hardly ever come to: a zone that nobody has opened yet while the
// arm is in a grid without a clear pose; steps between two zones that put parts down; corners
// that were touched, and layers on them; a worklist.
const rarePlan = `format: gridferry plan 1
cell:
  tools:
    comb:
      tcp: {at: [0, 0, 90]}
      mass: 1
      zones:
        a: {at: [-15, 0, 0], grip: {output: 21, level: on, settle: 0.4}, release: {output: 21, level: off, settle: 0.1}}
        b: {at: [15, 0, 0], grip: {output: 22, level: on, settle: 0.2}, release: {set: {22: off, 25: on}, pulse: {26: 0.2}, settle: 0.3}}
  frames:
    left: {at: [100, 200, 10]}
    right: {at: [-300, 50, 20], rpy: [0, 0, 30]}
  poses:
    high: {at: [300, 0, 500]}
    rest: {frame: left, at: [200, 0, 400]}
    door: {frame: right, at: [20, -30, 300], rpy: [170, 10, 0]}
    porch: {frame: right, at: [20, -130, 300]}
parts:
  block: {mass: 0.1}
grids:
  a: {frame: left, rows: 1, columns: 4, pitch: [30, 0], first: [0, 0, 0], part: block, filled: all}
  b: {frame: right, rows: 1, columns: 4, pitch: [45, 0], first: [0, 0, 0], part: block, motion: {entry: [porch, door]}}
  sheet: {frame: left, rows: 2, columns: 3, layers: 2, layer_pitch: 9, part: block, filled: "A1.1:B3.1, A1.2:A3.2",
    corners: {A1: [0, 0, 0], A3: [60, 1, 0], B3: [62, 30, 1], B1: [0, 29, 1]}}
motion: {tool: comb, approach: 50, speed: {travel: 400, near: 50, loaded: 300}, clear: none, start: high}
transfers:
  - {from: a, to: b, take: 1}
  - {chain: [a, {grid: b, then: [go: rest, dwell: 1]}], at_once: 2}
  - {from: "sheet A2.2, B3.1", to: "a A3, A1"}
  - {list: rare.csv}
`

const rareList = `from,to,note
sheet A1.2,b A4,look
sheet A1.1,a A2,
sheet B1.1,a A4,
b A4,sheet A1.1,
`

func TestRareLoops(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "rare.csv"), []byte(rareList), 0o600); err != nil {
		t.Fatal(err)
	}
	text, job := program(t, plan.Source{File: "rare.plan.yaml", Data: []byte(rarePlan), Dir: dir})
	if text == "" {
		t.Fatal(job.Findings.Sorted())
	}
	if err := same(text, job); err != nil {
		t.Errorf("%v\n%s", err, text)
	}
}

// armPlan has poses that are given by joints: with each tool its TCP goes elsewhere.
const armPlan = `format: gridferry plan 1
cell:
  tools:
    jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}HANDS}
    cup: {tcp: {at: [20, 0, 130], rpy: [0, 0, 40]}, mass: 0.5, grip: {output: 2, level: on}, release: {output: 2, level: off}STEPS}
    pin: {tcp: {at: [0, 0, 60]}, mass: 0.5, grip: {output: 3, level: on}, release: {output: 3, level: off}}
  arm:
    joints:
      - {axis: [0, 0, 1], point: [0, 0, 0], range: [-170, 170]}
      - {axis: [0, 1, 0], point: [40, 0, 300], range: [-100, 120]}
      - {axis: [0, 1, 0], point: [40, 0, 570], range: [-120, 120]}
      - {axis: [1, 0, 0], point: [0, 0, 600], range: [-180, 180]}
      - {axis: [0, 1, 0], point: [310, 0, 600], range: [-120, 120]}
      - {axis: [1, 0, 0], point: [0, 0, 600], range: [-360, 360]}
    flange: {at: [390, 0, 600], rpy: [0, 90, 0]}
  poses:
    clear: {joints: [0, -20, 25, 0, 85, 0]}
    gate: {joints: [30, 0, 10, 0, 80, 0]}
    stand: {joints: [-60, 10, 20, 0, 60, 15]}
    park: {at: [250, -100, 300]}
parts: {block: {mass: 0.2}}
grids:
  tray: {frame: base, rows: 1, columns: 4, pitch: [40, 40], first: [280, 0, 60], part: block, filled: all, motion: {entry: gate}}
  rack: {frame: base, rows: 1, columns: 4, pitch: [40, 40], first: [280, 160, 60]}
begin: [{go: stand}]
motion: {tool: jaw, approach: 50, speed: {travel: 300, near: 60}, fly_by: 5, clear: clear, START}
transfers:
  - {from: "tray A1:A2", to: "rack A1:A2"}
  - {from: rack A1, to: tray A1, motion: {tool: cup}}
  - {from: tray A1, to: rack A1, motion: {tool: pin, clear: gate}}
  - {from: "tray A3:A4", to: "rack A3:A4"}
end: [{go: park}, {go: stand}]
`

// TestLoopsOfPosesByJoints: the loops go where the list goes, and the list brings the flange to the same
// place with every tool.
func TestLoopsOfPosesByJoints(t *testing.T) {
	const steps = ", fetch: [{go: stand}, {line: gate}], leave: [{go: stand}]"
	for _, c := range []struct{ hands, steps, start string }{{"", "", "start: clear"}, {"", steps, "start: stand"}, {steps, steps, "start: gate"}} {
		plain := strings.NewReplacer("HANDS", c.hands, "STEPS", c.steps, "START", c.start).Replace(armPlan)
		text, job := program(t, plan.Source{File: "arm.plan.yaml", Data: []byte(plain), Dir: "."})
		if text == "" {
			t.Fatal(job.Findings.Sorted())
		}
		if err := same(text, job); err != nil {
			t.Errorf("%+v: %v\n%s", c, err, text)
		}
		went := map[string]int{}
		for m := range job.Moves() {
			for _, p := range job.Layout.Poses {
				if p.Joints == nil || m.Target.Pose != p.Name {
					continue
				}
				went[p.Name+" "+m.Tool]++
				flange := geom.At(m.Base.Vec, m.Base.RPY).Mul(job.Layout.Tools[m.ToolNumber-1].TCP.Inverse())
				if want := job.Layout.Arm.Pose(*p.Joints); flange.T.Dist(want.T) > 1e-9 || flange.R.T().Mul(want.R).Angle() > 1e-9 {
					t.Errorf("move %d: with %s the flange is at %v at %s, wanted %v", m.N, m.Tool, flange, p.Name, want)
				}
			}
		}
		for _, want := range []string{"clear jaw", "clear cup", "gate jaw", "gate cup", "gate pin", "stand jaw"} {
			if went[want] == 0 {
				t.Errorf("nothing went to %s: %v", want, went)
			}
		}
	}
}

// Random plans with every key that moves rest on; two fifths of them, since each is written as a
// program. GRIDFERRY_PLANS=10000 takes 4000, of which 2100 have no error.
func TestLoopsOfRandomPlans(t *testing.T) {
	sound := 0
	seen := map[string]int{}
	folder := t.TempDir()
	for seed := range simulate.Plans(t) * 2 / 5 {
		source := simulate.Draw(seed).Source(t, folder)
		text, job := program(t, source)
		if text == "" {
			continue // the plan has an error
		}
		sound++
		for _, said := range sayings {
			if strings.Contains(text, said) {
				seen[said]++
			}
		}
		if err := same(text, job); err != nil {
			t.Errorf("plan %d: %v\n%s\n%s", seed, err, source.Data, text)
			return
		}
	}
	t.Logf("%d plans without an error: %v", sound, seen)
	for _, said := range sayings {
		if seen[said] == 0 && !testing.Short() {
			t.Errorf("no random plan says %q", said)
		}
	}
}

// sayings are what loops say that is not in every plan.
var sayings = []string{
	"BACK ALONG THE TOOL", ") FROM slot", "GO IN BY", "AS THE ARM CAME OUT", "GO OUT AS FAR AS", "OR THE ARM IS IN grid", "WITH A PART",
	"OFF BY", "come_to_pick", "come_to_place", "come_back_to_pick", "come_back_to_place", "STRAIGHT TO porch", "1 ABOVE slot",
	"STOP FOR A PERSON", "DO fetch", "DO leave", "EACH group", "# Group ", "# Groups ", "z1 STANDS", "z1 UNLESS THEY ARE OPEN", "OPTIONAL STOP",
	"LEAVE THE LOOPS", "SKIP WHERE", "BACKWARDS",
}
