package golden

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/proveout"
	"gridferry/gen/resume"
	"gridferry/gen/scene"
	"gridferry/golden/corpus"
	"gridferry/golden/outside"
	"gridferry/golden/simulate"
	"gridferry/plan"
)

var stateScript = outside.Script{Folder: "states", File: "states.js"}

type statesAsked struct {
	Script string          `json:"script"`
	Scene  json.RawMessage `json:"scene"`
	Every  int             `json:"every"` // so many-th of the transfers is looked at
}

// statesSeen is what the viewer's scripts make of a scene.
type statesSeen struct {
	States []struct {
		N     int
		Parts []string // the slots that are full, each with its part's id, where it has one
		Tip   *[3]float64
		Turn  [4]float64
		Tool  string
		Holds []string
		Open  float64
	}
	Astray  int               // slots that are wrong after changes from state to state
	Ends    map[int][2]string // by transfer: from where to where
	Puts    int               // parts that were put down
	Off     float64           // mm, the farthest that one of them hung from its slot right before
	Leap    float64           // mm, the most that a motion goes ahead of itself
	Gap     float64           // mm, the most between the tool and where the joints take it
	Seconds float64
	Spent   float64 // seconds, by what they go to
	Unknown int
	Clock   string
}

// statesOf asks the scripts about a job.
func statesOf(t *testing.T, job *gen.Job, every int) statesSeen {
	t.Helper()
	var text bytes.Buffer
	if err := job.Scene(&text, nil, scene.Options{Moves: 60_000, Slots: 150_000, Joints: true}); err != nil {
		t.Fatal(err)
	}
	var seen statesSeen
	stateScript.Ask(t, statesAsked{scene.Script(), text.Bytes(), every}, &seen)
	return seen
}

func jobOf(t *testing.T, file string, run gen.Run) *gen.Job {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	job := new(gen.Job)
	if !job.Read(plan.Source{File: filepath.Base(file), Data: data, Dir: filepath.Dir(file)}, nil, layout.Options{}) || !job.Prepare(run) {
		t.Fatal(job.Findings.Sorted())
	}
	return job
}

// state is what the list says of a job: what stands where after so many moves.
type state struct {
	parts map[string]string // the slots that are full, with the part and its id, or "" for one without
	tip   *listed           // the last motion
	tool  string            // whose tip that is; "" where another tool or zone was selected since
	holds int
	open  bool
}

// statesListed follows the command's list from what "check" and the contents say of the start.
func statesListed(t *testing.T, job *gen.Job, plan string, args ...string) []state {
	t.Helper()
	return follow(job, partsBefore(t, append([]string{plan}, args...)...), listMoves(t, plan, args...))
}

// follow goes by a list from what slots are full before it.
func follow(job *gen.Job, before map[string]bool, moves []listed) []state {
	now := state{parts: map[string]string{}, open: job.Layout.Held == nil}
	if job.Layout.Held != nil {
		now.holds = 1
	}
	for slot := range before {
		now.parts[slot] = ""
	}
	feeds := map[string]bool{}
	for _, g := range job.Layout.Grids {
		feeds[g.Name] = g.Feeder()
		for i := range g.Size() {
			slot := labelOf(g, i)
			if _, full := now.parts[slot]; full && job.Layout.HasIDs() {
				if id := job.Layout.ID(job.Layout.IDs().At(g, i)); id != nil {
					now.parts[slot] = partOf(job, id)
				}
			}
		}
	}
	all := []state{now}
	for i := range moves {
		m := moves[i]
		grid, _, _ := strings.Cut(m.Target, " ")
		if m.ID != "" {
			m.ID = partOf(job, &m.ID)
		}
		now = now.after(&m, feeds[grid])
		all = append(all, now)
	}
	return all
}

// partOf is a part that has an id, with that.
func partOf(job *gen.Job, id *string) string {
	if part := job.Layout.Named(*id).Part; part != nil {
		return part.Name + " " + *id
	}
	return "part " + *id
}

func labelOf(g *layout.Grid, i int) string { return g.Name + " " + g.Slot(i).Label(g.Layers > 1) }

func (s state) after(m *listed, feeds bool) state {
	switch {
	case m.Action == "select" && m.Tool != s.tool:
		s.tool = ""
	case m.moves():
		s.tip, s.tool = m, m.Tool
	case m.Action == "grip", m.Action == "release":
		if s.open = m.Action == "release"; m.Target == "" {
			break
		}
		if s.holds++; s.open {
			s.holds = max(0, s.holds-2)
		}
		if feeds {
			break
		}
		if s.parts = maps.Clone(s.parts); s.open {
			s.parts[m.Target] = m.ID
		} else {
			delete(s.parts, m.Target)
		}
	}
	return s
}

// full are the slots of a state as the scripts name them.
func (s *state) full() []string {
	all := []string{}
	for slot, id := range s.parts {
		if id != "" {
			slot += ": " + id
		}
		all = append(all, slot)
	}
	slices.Sort(all)
	return all
}

// releaseAbove is how far above a slot some demos let parts go, mm, at the most.
var releaseAbove = map[string]float64{"caps": 10, "whole-bench": 10, "coating": 1}

// TestStatesAreWhatTheListSays: after every transfer, of whole jobs, resumed ones and prove-outs, the viewer's
// scripts have parts, ids, tip and gripper where the list and "check" have them, in whichever order they are
// asked. No motion leaps, parts hang where they are put down, and the times are those of "time".
func TestStatesAreWhatTheListSays(t *testing.T) {
	outside.Short(t)
	type asked struct {
		name, file string
		run        gen.Run
		args       []string
	}
	var all []asked
	for _, file := range corpus.Plans(t, demoFolder) {
		all = append(all, asked{strings.TrimSuffix(filepath.Base(file), ".plan.yaml"), file, gen.Run{}, nil})
	}
	scale, pallet := demoFolder+"/mortar-cubes-scale.plan.yaml", demoFolder+"/pallet-layers.plan.yaml"
	all = append(all,
		asked{"a resumed job", scale, gen.Run{Resume: &resume.Request{Transfer: 4}}, []string{"--from", "4"}},
		asked{"a resumed job that holds a part", scale, gen.Run{Resume: &resume.Request{Transfer: 4, Holding: true}}, []string{"--from", "4", "--holding"}},
		asked{"a resumed job with groups", pallet, gen.Run{Resume: &resume.Request{Transfer: 7}}, []string{"--from", "7"}},
		asked{"a prove-out", cubes, gen.Run{ProveOut: &proveout.Options{Speed: 250, Lift: 50}}, []string{"--prove-out"}},
		asked{"a prove-out with parts", cubes, gen.Run{ProveOut: &proveout.Options{Speed: 250, Grips: true, Steps: true}}, []string{"--prove-out", "--gripper", "work", "--steps", "work", "--lift", "0"}},
	)
	for _, a := range all {
		t.Run(a.name, func(t *testing.T) {
			every := 1
			if corpus.Long(a.file) {
				every = 97
			}
			job := jobOf(t, a.file, a.run)
			seen := statesOf(t, job, every)
			compareStates(t, statesListed(t, job, a.file, a.args...), &seen)
			if above := releaseAbove[a.name]; math.Abs(seen.Off-above) > 0.01 {
				t.Errorf("parts hang up to %.3f mm off their slots, wanted %g", seen.Off, above)
			}
			if a.run.ProveOut == nil { // whose times are its own, and whose gripper may be still
				compareEnds(t, job, &seen, append([]string{a.file}, a.args...)...)
				compareSeconds(t, &seen, append([]string{a.file}, a.args...)...)
			}
		})
	}
}

// TestStatesOfRandomPlans is the same for plans in which everything comes together: zones, changes of tool, feeders, ids, stacks,
// rings, odd places.
func TestStatesOfRandomPlans(t *testing.T) {
	outside.Short(t)
	held := 0
	for seed := range simulate.Plans(t) / 5 {
		drawn, job := simulate.Draw(seed), new(gen.Job)
		if !job.Read(drawn.Source(t, t.TempDir()), nil, layout.Options{}) || !job.Prepare(gen.Run{}) {
			continue
		}
		before, moves := map[string]bool{}, []listed{}
		for _, g := range job.Layout.Grids {
			for i := range g.Size() {
				if g.Full.Has(i) {
					before[labelOf(g, i)] = true
				}
			}
		}
		for m := range job.Moves() {
			l := listed{Action: m.Kind.String(), Target: m.Target.String(), Tool: m.Tool}
			l.BaseX, l.BaseY, l.BaseZ, l.BaseRoll, l.BasePitch, l.BaseYaw = m.Base.X, m.Base.Y, m.Base.Z, m.Base.Roll, m.Base.Pitch, m.Base.Yaw
			if m.ID != nil {
				l.ID = *m.ID
			}
			moves = append(moves, l)
		}
		seen := statesOf(t, job, 1)
		compareStates(t, follow(job, before, moves), &seen)
		if held++; t.Failed() {
			t.Fatalf("plan %d:\n%s", seed, drawn.Text)
		}
	}
	if held < 100 {
		t.Errorf("only %d random plans make moves", held)
	}
}

func compareStates(t *testing.T, want []state, seen *statesSeen) {
	t.Helper()
	if n := len(seen.States); n < 2 || seen.States[n-1].N != len(want)-1 {
		t.Fatalf("%d states, wanted more than one and the last after %d moves", n, len(want)-1)
	}
	for _, got := range seen.States {
		w := &want[got.N]
		if full := w.full(); !slices.Equal(got.Parts, full) {
			t.Fatalf("state %d: parts at\n%q\nwanted\n%q", got.N, got.Parts, full)
		}
		if len(got.Holds) != w.holds || (got.Open == 1) != w.open {
			t.Errorf("state %d: holds the parts of %q, open %g, wanted %d, open %v", got.N, got.Holds, got.Open, w.holds, w.open)
		}
		if w.tip == nil || w.tool == "" {
			continue
		}
		if got.Tip == nil || got.Tool != w.tool {
			t.Errorf("state %d: the tip of %s is at %v, wanted that of %s", got.N, got.Tool, got.Tip, w.tool)
			continue
		}
		there, base := pose{*got.Tip, ofQuaternion(got.Turn)}, w.tip.base()
		for i := range 3 {
			for k := range 3 {
				if math.Abs(there.at[i]-base.at[i]) > 0.002 || math.Abs(there.turn[i][k]-base.turn[i][k]) > 1e-5 {
					t.Fatalf("state %d: the tip is at %v, wanted %v", got.N, there, base)
				}
			}
		}
	}
	if seen.Astray != 0 || seen.Leap > 1e-6 || seen.Gap > 0.01 {
		t.Errorf("%d slots astray, motions leap by up to %.3f mm, the arm is up to %.3f mm off its tool", seen.Astray, seen.Leap, seen.Gap)
	}
}

// ofQuaternion is the matrix of a unit quaternion w, x, y, z (Shoemake, Animating rotation with quaternion
// curves, 1985; from memory).
func ofQuaternion(q [4]float64) [3][3]float64 {
	w, x, y, z := q[0], q[1], q[2], q[3]
	return [3][3]float64{
		{1 - 2*(y*y+z*z), 2 * (x*y - w*z), 2 * (x*z + w*y)},
		{2 * (x*y + w*z), 1 - 2*(x*x+z*z), 2 * (y*z - w*x)},
		{2 * (x*z - w*y), 2 * (y*z + w*x), 1 - 2*(x*x+y*y)},
	}
}

// compareEnds holds the ways of the transfers to those of the list, and what stands where in the end, with how often that
// changed, to what "check" says.
func compareEnds(t *testing.T, job *gen.Job, seen *statesSeen, args ...string) {
	t.Helper()
	ends, changes := map[int][2]string{}, map[string]int{}
	for m := range job.Moves() {
		if m.Target.Grid == "" || !m.Takes() && !m.Puts() {
			continue
		}
		e := ends[m.Carries()]
		if m.Takes() {
			e[0] = m.Target.String()
		} else {
			e[1] = m.Target.String()
		}
		ends[m.Carries()] = e
	}
	if !maps.Equal(seen.Ends, ends) {
		t.Errorf("the transfers lead %v, wanted %v", seen.Ends, ends)
	}
	puts := 0
	for _, e := range seen.Ends {
		if e[1] != "" {
			puts++
		}
		changes[e[0]]++
		changes[e[1]]++
	}
	if seen.Puts != puts {
		t.Errorf("of %d parts it was looked where they hang, wanted %d", seen.Puts, puts)
	}
	var data struct {
		Grids []struct {
			Name  string
			Slots []struct {
				Slot  string
				After bool
				Times int
			}
		}
	}
	if err := json.Unmarshal([]byte(mustRun(t, append([]string{"check", "--slots", "--format", "json"}, args...)...)), &data); err != nil {
		t.Fatal(err)
	}
	end := map[string]bool{}
	for _, full := range seen.States[len(seen.States)-1].Parts {
		slot, _, _ := strings.Cut(full, ":")
		end[slot] = true
	}
	for _, g := range data.Grids {
		for _, s := range g.Slots {
			if slot := g.Name + " " + s.Slot; end[slot] != s.After || changes[slot] != s.Times {
				t.Errorf("%s is full in the end: %v, after %d changes, wanted %v and %d", slot, end[slot], changes[slot], s.After, s.Times)
			}
		}
	}
}

func compareSeconds(t *testing.T, seen *statesSeen, args ...string) {
	t.Helper()
	if len(args) > 1 { // "time" is of whole jobs alone
		return
	}
	var data struct {
		Seconds float64
		Waits   struct{ Count int }
		LeftOut []string `json:"left_out"`
	}
	if err := json.Unmarshal([]byte(mustRun(t, append([]string{"time", "--format", "json"}, args...)...)), &data); err != nil {
		t.Fatal(err)
	}
	hands := 0
	for _, words := range data.LeftOut {
		if strings.Contains(words, "of tool by hand") {
			_, _ = fmt.Sscan(words, &hands)
		}
	}
	off := 0.0005 * float64(seen.States[len(seen.States)-1].N+1) // seconds are written to a thousandth
	if math.Abs(seen.Seconds-data.Seconds) > off || math.Abs(seen.Spent-seen.Seconds) > 1e-6 || seen.Unknown != data.Waits.Count+hands {
		t.Errorf("%.3f s, %.3f by what they go to, and %d waits, wanted %.3f and %d", seen.Seconds, seen.Spent, seen.Unknown, data.Seconds, data.Waits.Count+hands)
	}
}
