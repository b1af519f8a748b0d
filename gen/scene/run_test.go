package scene_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/proveout"
	"gridferry/gen/resume"
	"gridferry/gen/scene"
)

// TestBounds: of a long job whole transfers are shown, of large grids the slots that these work at, and the scene says so.
func TestBounds(t *testing.T) {
	j := demos(t)["dense-plate"]
	s := shown(t, j, scene.Options{Moves: 100, Slots: 500})
	m := &s.Moves
	holds(t, s)
	if m.Whole || m.N < 100 || m.N > 120 || m.Of != j.Counts().Moves || m.OfTransfers != 1536 || m.Transfers != int(m.Transfer[m.N-1]) {
		t.Errorf("whole %t, %d of %d moves, %d of %d transfers, and the last one is of transfer %d", m.Whole, m.N, m.Of, m.Transfers, m.OfTransfers, m.Transfer[m.N-1])
	}
	for one := range j.Moves() {
		if one.N == m.N+1 && one.Transfer == m.Transfers {
			t.Errorf("move %d is of transfer %d, too, and is not shown", one.N, one.Transfer)
		}
	}
	for _, g := range s.Grids {
		if g.Whole || g.Count != 1536 || len(g.Index) == 0 || len(g.Index) > m.Transfers || len(g.Full) > len(g.Index) {
			t.Errorf("%s: whole %t, %d slots of %d, %d of them full", g.Name, g.Whole, len(g.Index), g.Count, len(g.Full))
		}
	}
	if none := shown(t, j, scene.Options{}); none.Moves.Whole || none.Moves.N > 0 || none.Grids[0].Index == nil || none.Grids[0].Turns == nil {
		t.Errorf("under the least bounds %d moves are shown, and of the first grid %+v", none.Moves.N, none.Grids[0])
	}
	if whole := shown(t, j, large); !whole.Moves.Whole || whole.Moves.N != j.Counts().Moves || !whole.Grids[0].Whole || len(whole.Grids[0].At) != 3*1536 {
		t.Errorf("under larger bounds %d of %d moves are shown", whole.Moves.N, whole.Moves.Of)
	}
}

// TestResumed: what stands where, and what the gripper holds, is what the job before the stop left.
func TestResumed(t *testing.T) {
	before := shown(t, demos(t)["mortar-cubes"], large)
	j := demos(t)["mortar-cubes"]
	if !j.Prepare(gen.Run{Resume: &resume.Request{Transfer: 3, Holding: true}}) {
		t.Fatal(j.Findings.Sorted())
	}
	s := shown(t, j, large)
	holds(t, s)
	if s.Held == nil || s.Grids[s.Held.Grid].Name != "tray" || s.Held.Slot != 1 || s.Held.Zone != 0 || s.Moves.Transfer[0] != 0 && s.Moves.Transfer[0] != 3 {
		t.Errorf("held is %+v, and the first move of transfer %d", s.Held, s.Moves.Transfer[0])
	}
	if full, was := len(s.Grids[0].Full), len(before.Grids[0].Full); full != was-2 || len(s.Grids[2].Full) != 1 {
		t.Errorf("%d cubes are in the bath and %d in the rack; at the start of the whole job %d were in the bath", full, len(s.Grids[2].Full), was)
	}
	if !strings.HasSuffix(s.Title, "from 3 holding") {
		t.Errorf("the title is %q", s.Title)
	}
}

// TestProveOut: without parts no slot is full, and the tool stays as far above the slots as asked.
func TestProveOut(t *testing.T) {
	j := demos(t)["mortar-cubes"]
	if !j.Prepare(gen.Run{ProveOut: &proveout.Options{Speed: 250, Lift: 50}}) {
		t.Fatal(j.Findings.Sorted())
	}
	s := shown(t, j, large)
	holds(t, s)
	where := places(s)
	for i := range s.Moves.N {
		if g := s.Moves.Slot[2*i]; g >= 0 && isMotion(&s.Moves, i) {
			if above := vec(s.Moves.At, i).Z - where[g][s.Moves.Slot[2*i+1]].Z; above < 49.999 {
				t.Fatalf("after move %d (%s) the tool is %g mm above its slot", i+1, s.Moves.Words[i], above)
			}
		}
	}
	for _, g := range s.Grids {
		if len(g.Full) > 0 {
			t.Errorf("%d slots of %s are full", len(g.Full), g.Name)
		}
	}
}

// TestStands: a tool hangs where the arm lets go of it.
func TestStands(t *testing.T) {
	s := shown(t, demos(t)["lids"], large)
	stands := map[string]scene.Pose{}
	for _, n := range s.Poses {
		stands[n.Name] = n.Pose
	}
	for _, tool := range s.Tools {
		want, some := stands[tool.Name+"_stand"]
		if some != (tool.Stand != nil) || some && *tool.Stand != want {
			t.Errorf("%s stands at %v, wanted %v (%t)", tool.Name, tool.Stand, want, some)
		}
	}
}

// TestProgramLines: the lines of a move are those of the program that is written.
func TestProgramLines(t *testing.T) {
	j := demos(t)["mortar-cubes"]
	f, err := j.OpenFamily("listing")
	if err != nil {
		t.Fatal(err)
	}
	var program, text bytes.Buffer
	if err := j.Write(&program, f); err != nil {
		t.Fatal(err)
	}
	if err := j.Scene(&text, f, scene.Options{Moves: 200, Slots: 100, Lines: 100_000, Texts: true}); err != nil {
		t.Fatal(err)
	}
	s := new(scene.Scene)
	if err := json.Unmarshal(text.Bytes(), s); err != nil {
		t.Fatal(err)
	}
	written := strings.Split(program.String(), "\n")
	for _, l := range s.Program.Lines {
		if l.N < 1 || l.N > len(written) || written[l.N-1] != l.Text {
			t.Fatalf("line %d is %q, and in the program %q", l.N, l.Text, written[l.N-1])
		}
	}
	m, last := &s.Moves, 0
	for i := range m.N {
		from, to := int(m.Lines[2*i]), int(m.Lines[2*i+1])
		if from == 0 && to == 0 {
			continue
		}
		if from <= last || to < from {
			t.Errorf("move %d made lines %d to %d, behind line %d", i+1, from, to, last)
		}
		last = to
	}
	if last == 0 || len(s.Plan) != len(s.Files) {
		t.Errorf("the last line is %d, there are texts of %d files of %d", last, len(s.Plan), len(s.Files))
	}
	for _, file := range s.Plan {
		for _, l := range file.Lines {
			if want, _ := j.Sources.Line(file.Name, l.N); want != l.Text {
				t.Errorf("%s:%d is %q, wanted %q", file.Name, l.N, l.Text, want)
			}
		}
	}
}

// TestPath: what lies between the ends of a travel is what the family says; in a prove-out of one whose travels become
// straight lines, lines.
func TestPath(t *testing.T) {
	path := func(name string, run gen.Run) string {
		j := demos(t)["tube-rack"]
		f, err := j.OpenFamily(name)
		if err != nil || !j.Prepare(run) {
			t.Fatal(err, j.Findings.Sorted())
		}
		var text bytes.Buffer
		s := new(scene.Scene)
		if err := j.Scene(&text, f, scene.Options{Moves: 20}); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(text.Bytes(), s); err != nil {
			t.Fatal(err)
		}
		return s.Moves.Path
	}
	slow := gen.Run{ProveOut: &proveout.Options{Speed: 250, Lift: 50}}
	for _, c := range []struct {
		family string
		run    gen.Run
		want   string
	}{{"listing", gen.Run{}, ""}, {"iso6983", gen.Run{}, "axes"}, {"iso6983", slow, "line"}} {
		if got := path(c.family, c.run); got != c.want {
			t.Errorf("the path of travels by %q is %q, wanted %q", c.family, got, c.want)
		}
	}
}
