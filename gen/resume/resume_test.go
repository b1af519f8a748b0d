package resume_test

import (
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/joints"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/pattern"
	"gridferry/gen/resume"
	"gridferry/golden/corpus"
	"gridferry/plan"
	"gridferry/plan/diag"
)

const demos = "../../testdata/demo"

func resolve(t testing.TB, source plan.Source) *layout.Layout {
	t.Helper()
	var list diag.List
	var sources diag.Sources
	p := plan.Read(source, nil, &list, &sources)
	if p == nil {
		t.Fatalf("%s: nothing to read: %s", source.File, inLines(&list))
	}
	l := layout.Resolve(p, layout.Options{}, &list)
	if list.HasErrors() {
		t.Fatalf("%s:\n%s", source.File, inLines(&list))
	}
	return l
}

func open(t testing.TB, file string) plan.Source {
	t.Helper()
	source, err := plan.Open(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	return source
}

// inLines is a list of findings as one text, a line each.
func inLines(list *diag.List) string {
	var b strings.Builder
	for _, f := range list.Sorted() {
		fmt.Fprintf(&b, "%s:%d: %s %s [%s] hint: %s\n", filepath.Base(f.Place.File), f.Place.Line, f.Severity, f.Message, f.Rule, f.Hint)
	}
	return b.String()
}

// bench is a table with trays, a gripper and an arm: what a person beside the machine
// could see of a job.
type bench struct {
	full map[string]bool
	fed  map[string]bool // slots that fill or empty by themselves
	jaws map[int]string  // by tool, or zone of a tool: where its part came from
	at   string          // where the arm is
	out  map[int]bool
}

func newBench(l *layout.Layout) *bench {
	b := &bench{full: map[string]bool{}, fed: map[string]bool{}, jaws: map[int]string{}, out: map[int]bool{}}
	for _, g := range l.Grids {
		for i := range g.Size() {
			at := g.Name + " " + g.Label(g.Slot(i))
			if b.fed[at] = g.Feeder(); g.Full.Has(i) {
				b.full[at] = true
			}
		}
	}
	return b
}

func (b *bench) do(m *move.Move) error {
	at := m.Target.String()
	switch m.Kind {
	case move.Travel, move.Straight:
		b.at = at
	case move.Set:
		b.out[m.Signal] = m.Level
	case move.Grip:
		if b.jaws[m.ToolNumber] != "" || !b.full[at] || b.at != at && m.Behind == 0 {
			return fmt.Errorf("move %d grips at %q: jaws %v, full %v, arm at %q", m.N, at, b.jaws, b.full[at], b.at)
		}
		if b.jaws[m.ToolNumber] = at; !b.fed[at] {
			delete(b.full, at)
		}
	case move.Release:
		jaw := b.jaws[m.ToolNumber]
		if at == "" && jaw == "" {
			return nil
		}
		if jaw == "" || b.full[at] || b.at != at && m.Behind == 0 {
			return fmt.Errorf("move %d lets go at %q: jaws %v, full %v, arm at %q", m.N, at, b.jaws, b.full[at], b.at)
		}
		if delete(b.jaws, m.ToolNumber); !b.fed[at] {
			b.full[at] = true
		}
	}
	return nil
}

func (b *bench) String() string {
	var slots []string
	for s := range b.full {
		slots = append(slots, s)
	}
	slices.Sort(slots)
	return fmt.Sprintf("jaws %v, %v", b.jaws, slots)
}

// TestRestsOfTheDemos stops every demo before every transfer (of long jobs, before
// some), with and without the part in the gripper: the first part and the rest end like
// the whole job, and all later transfers are move for move those of the whole.
func TestRestsOfTheDemos(t *testing.T) {
	for _, file := range corpus.Plans(t, demos) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			source := open(t, file)
			whole := resolve(t, source)
			var moves []move.Move
			for m := range expand.Moves(whole) {
				moves = append(moves, m)
			}
			end := newBench(whole)
			for i := range moves {
				if err := end.do(&moves[i]); err != nil {
					t.Fatal(err)
				}
			}
			total := whole.Transfers()
			step := 1
			if total > 100 || testing.Short() {
				step = max(1, total/5) // each rest of a long job takes as long as the job
			}
			for n := 1; n <= total; n += step {
				if e, _ := whole.EntryOf(n); e.AtOnce > 1 { // only what begins with a group is possible
					holdGroup(t, source, n, e)
					if first, _ := e.Group(n); first == n {
						holdDemo(t, source, moves, resume.Request{Transfer: n}, end)
					}
					continue
				}
				for _, holding := range []bool{false, true} {
					holdDemo(t, source, moves, resume.Request{Transfer: n, Holding: holding}, end)
				}
			}
		})
	}
}

// holdGroup holds a resumed job to the first transfer of those whose parts are carried at
// once, counted from the entry's first: an entry of one leg carries them in turn.
func holdGroup(t *testing.T, source plan.Source, n int, e *layout.Entry) {
	start, last := e.Span()
	inGroup := (n - start) % e.AtOnce
	alone := n == last && inGroup == 0
	for _, q := range []resume.Request{{Transfer: n}, {Transfer: n, Holding: true}} {
		var list diag.List
		resume.Prepare(resolve(t, source), q, &list)
		if got, want := strings.Contains(inLines(&list), "[resume-in-group]"), inGroup > 0 || q.Holding && !alone; got != want {
			t.Errorf("%+v: refused is %v, wanted %v:\n%s", q, got, want, inLines(&list))
		}
		followHints(t, source, q, list.Sorted())
	}
}

// followHints does what findings advise: each "--from N" of a hint is a resumed job that is
// possible, with empty hands, and "without --holding" is the same one so.
func followHints(t *testing.T, source plan.Source, q resume.Request, findings []diag.Finding) {
	for _, f := range findings {
		if f.Rule != "resume-in-group" {
			continue
		}
		advised := []string{fmt.Sprint("--from ", q.Transfer)}
		if !strings.Contains(f.Hint, "without --holding") {
			if advised = fromN.FindAllString(f.Hint, -1); len(advised) == 0 {
				t.Errorf("%+v: the hint %q says nothing to do", q, f.Hint)
			}
		}
		for _, from := range advised {
			var n int
			var list diag.List
			fmt.Sscanf(from, "--from %d", &n)
			if resume.Prepare(resolve(t, source), resume.Request{Transfer: n}, &list); list.HasErrors() {
				t.Errorf("%+v: the hint %q leads to %s", q, f.Hint, inLines(&list))
			}
		}
	}
}

var fromN = regexp.MustCompile(`--from [0-9]+`)

func holdDemo(t *testing.T, source plan.Source, moves []move.Move, q resume.Request, end *bench) {
	b := newBench(resolve(t, source))
	run := func(m *move.Move) {
		if err := b.do(m); err != nil {
			t.Fatalf("%+v: %v", q, err)
		}
	}
	for i := range moves {
		m := &moves[i]
		if m.Transfer == q.Transfer && (!q.Holding || m.Role == move.ClearLoaded || m.Role == move.OverDestination) {
			break
		}
		run(m)
	}
	for i := range moves { // a change of tool is done by then
		if m := &moves[i]; m.Transfer == q.Transfer && m.Role.Changing() && !q.Holding {
			run(m)
		}
	}
	l := resolve(t, source)
	var list diag.List
	s, start := resume.Prepare(l, q, &list)
	check.Run(l, withJoints(l, start), &list)
	if list.HasErrors() {
		t.Fatalf("%+v:\n%s", q, inLines(&list))
	}
	if now := newBench(l); fmt.Sprint(now.full) != fmt.Sprint(b.full) || s.Holding != (len(b.jaws) > 0) || s.Holding && s.From.String() != b.jaws[l.ToolAt(q.Transfer).Number] {
		t.Fatalf("%+v begins with %v and %v, but the first part leaves %v", q, now, s.From, b)
	}
	for _, o := range s.Outputs {
		if level, set := b.out[o.Number]; !set || level != o.Level {
			t.Fatalf("%+v: output %d is said to be %v", q, o.Number, o.Level)
		}
	}
	sameLoads(t, q, moves, expand.Rest(l, start))
	tail := slices.IndexFunc(moves, func(m move.Move) bool { return m.Unit() > q.Transfer })
	for m := range expand.Rest(l, start) {
		run(&m)
		if m.Role == move.AskFirst && m.Transfer == 0 { // asked anew
			on := slices.DeleteFunc(slices.Clone(l.UsedTools()), func(t *layout.Tool) bool { return !t.Beside(l.ToolAt(q.Transfer)) })
			at := slices.IndexFunc(on, func(t *layout.Tool) bool { return t.Grip.Holds.Input == m.Signal })
			holds := q.Holding && on[at] == l.ToolAt(q.Transfer) // the zones beside it never do
			if h := on[at].Grip.Holds; m.N != at+1 || m.Level != (h.Level == holds) {
				t.Fatalf("%+v: move %d asks whether input %d is %v", q, m.N, m.Signal, m.Level)
			}
			continue
		}
		if tail >= 0 && (m.Unit() > q.Transfer || m.Transfer == 0) {
			want := moves[tail]
			tail++
			want.N = m.N
			if want.ID != nil && m.ID != nil && *want.ID == *m.ID {
				m.ID = want.ID // that of another layout
			}
			if want.Spread != nil && m.Spread != nil && *want.Spread == *m.Spread {
				m.Spread = want.Spread // that of another pass
			}
			if want != m {
				t.Fatalf("%+v: move %+v of the rest is %+v in the whole job", q, m, want)
			}
		}
	}
	if tail >= 0 && tail != len(moves) {
		t.Fatalf("%+v: %d moves of the whole job are left", q, len(moves)-tail)
	}
	if b.String() != end.String() {
		t.Fatalf("%+v ends with %v, wanted %v", q, b, end)
	}
}

// withJoints is the list of a resumed job, with the readings of the arm's joints where there is one.
func withJoints(l *layout.Layout, from expand.Start) move.Batches {
	moves := expand.Batches(l, from)
	if l.Arm == nil {
		return moves
	}
	return joints.Choose(l, moves).Fill(moves)
}

// sameLoads holds what hangs on the flange in the first transfer of a rest to the
// whole job's.
func sameLoads(t *testing.T, q resume.Request, whole []move.Move, rest move.Seq) {
	loads := map[move.Role]float64{}
	for _, m := range whole {
		if m.Transfer == q.Transfer && m.Kind.IsMotion() && !m.First {
			loads[m.Role] = m.Load
		}
	}
	for m := range rest {
		if m.Transfer > q.Transfer {
			return
		}
		if want, known := loads[m.Role]; known && m.Kind.IsMotion() && m.Load != want {
			t.Fatalf("%+v: %s goes with %g kg, in the whole job with %g kg", q, m.Role, m.Load, want)
		}
	}
}

const lesson = `format: gridferry plan 1
title: six blocks
cell:
  format: gridferry cell 1
  name: bench
  tools:
    jaw:
      tcp: {at: [0, 0, 100]}
      mass: 0.5
      grip: {output: 1, level: on, settle: 0.2}
      release: {output: 1, level: off, settle: 0.2}
  frames: {}
  poses: {clear: {at: [300, 0, 300]}}
parts:
  block: {mass: 0.2, size: [20, 20, 20]}
grids:
  tray: {frame: base, rows: 2, columns: 3, pitch: [40, 40], first: [200, 0, 20], part: block, filled: all}
  rack: {frame: base, rows: 2, columns: 3, pitch: [40, 40], first: [200, 200, 20]}
  side: {frame: base, rows: 1, columns: 1, first: [400, 0, 20], part: block}
motion: {tool: jaw, approach: 50, speed: {travel: 300, near: 60}, clear: clear}
begin:
  - note: lid open
  - set: {output: 4, level: on}
transfers:
  - chain:
      - {grid: tray, then: [{dwell: 1}]}
      - {grid: rack, then: [{set: {output: 5, level: on}}]}
`

func prepare(t *testing.T, q resume.Request, found string) (*layout.Layout, *resume.State, *diag.List) {
	t.Helper()
	l := resolve(t, plan.Source{File: "six.plan.yaml", Data: []byte(lesson), Dir: "."})
	var list diag.List
	var sources diag.Sources
	if found != "" {
		q.Found = plan.ReadFound(plan.Source{File: "found.yaml", Data: []byte(found)}, &list, &sources)
	}
	s, _ := resume.Prepare(l, q, &list)
	return l, s, &list
}

// TestWhatIsFound holds what people find after a stop to what transfer 3 of the
// lesson needs: its part in tray A3, and rack A3 free.
func TestWhatIsFound(t *testing.T) {
	const head = "format: gridferry slots 1\n"
	tests := []struct {
		name, found string
		holding     bool
		want        string // rule of the first error, "" for none
		hint        string // in its hint, or in that of slots-differ
	}{
		{"as the plan leaves it", "filled: {tray: 'A3, B1:B3', rack: 'A1:A2'}", false, "", ""},
		{"grids that nobody looked at", "filled: {side: none}", false, "", ""},
		{"in the gripper, and said", "filled: {tray: B1:B3, rack: 'A1:A2'}", true, "", ""},
		{"in the gripper, and not said", "filled: {tray: B1:B3, rack: 'A1:A2'}", false, "part-unaccounted", "say --holding"},
		{"said, but in its slot", "filled: {tray: 'A3, B1:B3', rack: 'A1:A2'}", true, "part-unaccounted", "without --holding"},
		{"one is gone", "filled: {tray: 'A3, B1:B2', rack: 'A1:A2'}", false, "part-unaccounted", "look again, or say \"removed: 1\""},
		{"one is gone, and said", "filled: {tray: 'A3, B1:B2', rack: 'A1:A2'}\nremoved: 1", false, "", "as many parts as \"removed\""},
		{"two are gone, and one was said", "filled: {tray: 'A3, B1', rack: 'A1:A2'}\nremoved: 1", false, "part-unaccounted", "say \"removed: 2\""},
		{"none is gone, though said", "filled: {tray: 'A3, B1:B3', rack: 'A1:A2'}\nremoved: 1", false, "part-unaccounted", "as many parts as the plan leaves there: see whether \"removed\" and \"added\" are meant so"},
		{"one put elsewhere, and one said to be gone", "filled: {tray: 'A1, B1:B3', rack: 'A1:A2'}\nremoved: 1", false, "part-unaccounted", "as many parts as the plan leaves there"},
		{"one is gone, though two were said", "filled: {tray: 'A3, B1:B2', rack: 'A1:A2'}\nremoved: 2", false, "part-unaccounted", "hold 1 fewer than the plan leaves there"},
		{"one too many, though two were said", "filled: {tray: 'A3, B1:B3', rack: 'A1:A2', side: all}\nadded: 2", false, "part-unaccounted", "hold 1 more than the plan leaves there"},
		{"one too many", "filled: {tray: 'A3, B1:B3', rack: 'A1:A2', side: all}", false, "part-unaccounted", "look again, or say \"added: 1\""},
		{"one too many, and said", "filled: {tray: 'A3, B1:B3', rack: 'A1:A2', side: all}\nadded: 1", false, "", ""},
		{"done already", "filled: {tray: 'B1:B3', rack: 'A1:A3'}", false, "slots-differ", "--from 4"},
		{"done already, jaw said to hold", "filled: {tray: 'B1:B3', rack: 'A1:A3'}", true, "part-unaccounted", "--from 4"},
		{"put elsewhere", "filled: {tray: 'A3, B1:B3', rack: 'A1', side: all}", false, "", "one stands in \"side A1\" instead of \"rack A2\""},
		{"its part put elsewhere", "filled: {tray: 'A1, B1:B3', rack: 'A1:A2'}", false, "slots-differ", "one stands in \"tray A1\" instead of \"tray A3\": put it back by hand"},
		{"two put elsewhere", "filled: {tray: 'A1, A2, B2:B3', rack: 'A1:A2'}", false, "slots-differ", "but in other slots: put them back by hand"},
		{"its part and another put elsewhere, jaw said to hold", "filled: {tray: 'A3, B1:B2', rack: 'A1:A2'}", true, "", "one stands in \"tray A3\" instead of \"tray B3\""},
		{"a part in its goal, one too many", "filled: {tray: 'A3, B1:B3', rack: 'A1:A3'}", false, "part-unaccounted", "\"rack A3\" has to be free for transfer 3"},
		{"a part in its goal instead of another, one too few", "filled: {tray: 'A3, B1', rack: 'A1:A3'}", false, "part-unaccounted", "say \"removed: 1\""},
		{"done already, and one too many", "filled: {tray: 'B1:B3', rack: 'A1:A3', side: all}", false, "part-unaccounted", "--from 4"},
		{"done already, and the next in the gripper", "filled: {tray: 'B2:B3', rack: 'A1:A3'}", false, "part-unaccounted", "--from 4"},
		{"no such grid", "filled: {trey: none}", false, "unknown-name", "tray"},
		{"no such slot", "filled: {tray: C1}", false, "slot-outside-grid", ""},
		{"no such key", "filled: {}\nlost: 1", false, "unknown-key", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, _, list := prepare(t, resume.Request{Transfer: 3, Holding: tt.holding}, head+tt.found+"\n")
			got, hints := "", ""
			for _, f := range list.Sorted() {
				if f.Severity == diag.Error && got == "" {
					got = f.Rule
				}
				if f.Severity == diag.Error || f.Rule == "slots-differ" {
					hints += f.Hint
				}
				if f.Severity == diag.Error && f.Place.File != "found.yaml" {
					t.Errorf("the place is %s, wanted one in the file of slots", f.Place)
				}
			}
			if got != tt.want || !strings.Contains(hints, tt.hint) {
				t.Errorf("got %q with the hint %q, wanted %q with %q\n%s", got, hints, tt.want, tt.hint, inLines(list))
			}
		})
	}
}

// TestWhereItDiffers puts the caret on the line of the grid that differs. Where the next transfer cannot be
// made so, one error says that, and what the plan has otherwise at its slots, and nothing else is said.
func TestWhereItDiffers(t *testing.T) {
	const head = "format: gridferry slots 1\nfilled:\n"
	for _, tt := range []struct {
		found   string
		holding bool
		line    int    // of the first finding
		message string // in it
		all     int    // findings
	}{
		{"  side: none\n  tray: A3, B1:B3\n  rack: A1:A3\n", false, 5, `account for 6: "rack A3" is full`, 1},
		{"  side: none\n  tray: B1:B3\n  rack: A1:A2\n", false, 4, `account for 6: "tray A3" is empty`, 1},
		{"  side: none\n  tray: A1, B1:B3\n  rack: A1:A2\n", false, 4, `transfer 3 cannot be next: by the plan its part, a "block", stands in "tray A3", the gripper is empty, and "rack A3" is free, but "tray A3" is empty`, 1},
		{"  side: none\n  tray: B1:B3\n  rack: A1:A3\n", false, 4, `is free, but "tray A3" is empty and "rack A3" is full`, 1},
		{"  side: none\n  tray: B1:B3\n  rack: A1:A3\n", true, 5, `account for 5: "rack A3" is full`, 1},
		{"  side: none\n  tray: B1:B2\n  rack: A1:A3\n", true, 5, `by the plan its part, a "block", is in the gripper, taken from "tray A3", and "rack A3" is free, but "rack A3" is full`, 1},
		{"  side: all\n  tray: A3, B1:B3\n  rack: A1\n", false, 5, `"rack A2" is empty`, 2},
		{"  side: all\n  tray: B1:B3\n  rack: A1:A2, B1\n", false, 5, `account for 6: "rack B1" is full`, 1},
		{"  side: none\nremoved: 1\n", false, 4, "account for 5", 1},
	} {
		_, _, list := prepare(t, resume.Request{Transfer: 3, Holding: tt.holding}, head+tt.found)
		all := slices.DeleteFunc(list.Sorted(), func(f diag.Finding) bool { return f.Rule == "resume-steps" || f.Rule == "resume-outputs" })
		at := slices.IndexFunc(all, func(f diag.Finding) bool { return f.Rule == "part-unaccounted" || f.Rule == "slots-differ" })
		if at < 0 || all[at].Place.Line != tt.line || !strings.Contains(all[at].Message, tt.message) || len(all) != tt.all {
			t.Errorf("%q: wanted line %d with %q among %d findings in\n%s", tt.found, tt.line, tt.message, tt.all, inLines(list))
		}
	}
}

// TestFoundRulesTheRest takes over what was found, so that the rules about slots
// look at the truth: a part that is not where it is taken from.
func TestFoundRulesTheRest(t *testing.T) {
	l, _, list := prepare(t, resume.Request{Transfer: 3}, "format: gridferry slots 1\nfilled: {tray: 'A3, B1:B2', rack: 'A1:A2', side: all}\n")
	var found diag.List
	check.Run(l, withJoints(l, expand.Start{Transfer: 3}), &found)
	if text := inLines(&found); !strings.Contains(text, "transfer 6 picks from \"tray B3\", where no part stands") {
		t.Errorf("the missing part is not noticed:\n%s%s", inLines(list), text)
	}
}

func TestWhatHasToBeSeenTo(t *testing.T) {
	for _, tt := range []struct {
		q    resume.Request
		want []string // in this order, rules and words
	}{
		{resume.Request{Transfer: 1}, []string{"[resume-steps]", "transfer 1 of 6 is next: its part, a \"block\", stands in \"tray A1\", the gripper is empty, and \"rack A1\" is free"}},
		{resume.Request{Transfer: 1, Begin: true}, []string{"transfer 1 of 6"}},
		{resume.Request{Transfer: 3, Begin: true}, []string{"output 4 on, output 5 on", "transfer 3 of 6", "the steps behind transfer 2 are taken as done"}},
		{resume.Request{Transfer: 2, Holding: true}, []string{"\"begin\"", "output 4 on", "is in the gripper, taken from \"tray A2\"", "the steps behind the taking", "behind transfer 1"}},
		{resume.Request{Transfer: 7}, []string{"the job has 6 transfers, and none with the number 7"}},
		{resume.Request{Transfer: 0}, []string{"none with the number 0"}},
	} {
		_, _, list := prepare(t, tt.q, "")
		text := inLines(list)
		for _, want := range tt.want {
			if !strings.Contains(text, want) {
				t.Errorf("%+v: %q is missing in\n%s", tt.q, want, text)
			}
		}
	}
}

// TestLevelsOfStepsLeftOut: with the part in the gripper, the steps behind its taking are left
// out, so the levels that they set have to be there already, over what was set before them; those
// before its placing are still to come.
func TestLevelsOfStepsLeftOut(t *testing.T) {
	text := strings.NewReplacer(
		"then: [{dwell: 1}]", "then: [{set: {output: 4, level: off}}, {set: {output: 6, level: on}}]",
		"grid: rack, then:", "grid: rack, before: [{set: {output: 7, level: on}}], then:").Replace(lesson)
	for _, tt := range []struct {
		q    resume.Request
		want string
	}{
		{resume.Request{Transfer: 1, Holding: true}, "begins with output 4 off, output 6 on, as the steps"},
		{resume.Request{Transfer: 1}, "begins with output 4 on, as the steps"},
		{resume.Request{Transfer: 2, Holding: true}, "begins with output 4 off, output 5 on, output 6 on, output 7 on, as the steps"},
	} {
		var list diag.List
		resume.Prepare(resolve(t, plan.Source{File: "six.plan.yaml", Data: []byte(text), Dir: "."}), tt.q, &list)
		if said := inLines(&list); !strings.Contains(said, tt.want) {
			t.Errorf("%+v: %q is missing in\n%s", tt.q, tt.want, said)
		}
	}
}

// TestSlotsFileReadsBack hands what has to stand where back as what was found: nothing
// differs, and the grids hold the same.
func TestSlotsFileReadsBack(t *testing.T) {
	const scattered = "format: gridferry slots 1\nfilled: {side: all, tray: 'A3, B2:B3', rack: A2}\nremoved: 2\nadded: 1\n"
	for _, q := range []resume.Request{{Transfer: 1}, {Transfer: 3}, {Transfer: 3, Holding: true}, {Transfer: 6, Begin: true}} {
		for _, found := range []string{"", scattered} {
			if found != "" && (q.Transfer != 3 || q.Holding) {
				continue // that is what transfer 3 finds
			}
			l, s, list := prepare(t, q, found)
			if list.HasErrors() {
				t.Fatalf("%+v: %s", q, inLines(list))
			}
			written := s.SlotsFile()
			again, _, second := prepare(t, q, written)
			if text := inLines(second); second.HasErrors() || found == "" && strings.Contains(text, "slots-differ") {
				t.Errorf("%+v: the file is not taken back:\n%s\n%s", q, written, text)
			}
			if a, b := newBench(l).String(), newBench(again).String(); a != b {
				t.Errorf("%+v: %s is read back as %s from\n%s", q, a, b, written)
			}
		}
	}
}

// TestSlotsFileWords holds the file to its words, with names that other readers of
// YAML take for something else.
func TestSlotsFileWords(t *testing.T) {
	text := strings.NewReplacer("tray", "no", "rack", "007", "side", "null").Replace(lesson)
	l := resolve(t, plan.Source{File: "p", Data: []byte(text), Dir: "."})
	var list diag.List
	s, _ := resume.Prepare(l, resume.Request{Transfer: 3, Holding: true}, &list)
	const want = `format: gridferry slots 1
# transfer 3 of 6 is next:
# its part, a "block", is in the gripper, taken from "no A3", and "007 A3" is free
filled:
  no: B1:B3
  007: A1:A2
  null: none
`
	got := s.SlotsFile()
	if got != want {
		t.Errorf("the file is\n%swanted\n%s", got, want)
	}
	found := plan.ReadFound(plan.Source{File: "s", Data: []byte(got)}, &list, new(diag.Sources))
	if again := l.Found(found, &list); list.HasErrors() || len(again) != 3 {
		t.Errorf("%d grids are read back: %s", len(again), inLines(&list))
	}
}

// TestSlotsFileIsBounded leaves out grids whose slots would fill pages, and says so.
func TestSlotsFileIsBounded(t *testing.T) {
	text := strings.Replace(lesson, "grids:\n", "grids:\n  wide: {frame: base, rows: 60, columns: 80, pitch: [5, 5], first: [500, 0, 20], part: block}\n", 1)
	l := resolve(t, plan.Source{File: "p", Data: []byte(text), Dir: "."})
	var list diag.List
	for i := 0; i < l.Grids[0].Size(); i += 3 {
		l.Grids[0].Full.Add(i)
	}
	s, _ := resume.Prepare(l, resume.Request{Transfer: 1}, &list)
	got := s.SlotsFile()
	if !strings.Contains(got, "# not written here, too many single slots: wide\nfilled:\n  tray: all\n") || len(got) > 5000 {
		t.Errorf("the file of %d bytes is\n%.500s", len(got), got)
	}
}

// TestSelectionReadsBack writes sets of slots as a plan would and reads them again.
func TestSelectionReadsBack(t *testing.T) {
	for _, size := range [][3]int{{1, 1, 1}, {3, 4, 1}, {2, 3, 3}, {5, 2, 2}} {
		text := strings.Replace(lesson, "tray: {frame: base, rows: 2, columns: 3,",
			fmt.Sprintf("tray: {frame: base, rows: %d, columns: %d, layers: %d, layer_pitch: 30,", size[0], size[1], size[2]), 1)
		text = strings.Replace(text, "grid: rack", "grid: rack A1", 1)
		text = strings.Replace(text, "grid: tray,", "grid: tray A1.1, ", 1)
		if size[2] == 1 {
			text = strings.Replace(text, "A1.1", "A1", 1)
		}
		l := resolve(t, plan.Source{File: "p", Data: []byte(text), Dir: "."})
		g := l.Grids[0]
		for seed := uint64(1); seed < 200; seed++ {
			full := layout.NewSlots(g.Size())
			bits := seed * 0x9e3779b97f4a7c15
			for i := range g.Size() {
				if seed == 1 || bits>>(i%60)&1 == 1 && seed != 2 {
					full.Add(i)
				}
			}
			written := resume.Selection(g, full)
			var list diag.List
			found := plan.ReadFound(plan.Source{File: "s", Data: []byte("format: gridferry slots 1\nfilled: {tray: \"" + written + "\"}\n")}, &list, new(diag.Sources))
			if again := l.Found(found, &list)[g]; !slices.Equal(again, full) {
				t.Fatalf("%v is written %q and read %v\n%s", full, written, again, inLines(&list))
			}
		}
	}
}

// Rows of unequal length are written row by row.
func TestSelectionOfUnequalRows(t *testing.T) {
	g := &layout.Grid{Extent: pattern.Uneven([]int{2, 4, 4}, 1)}
	full := layout.NewSlots(10)
	for _, i := range []int{0, 1, 2, 3, 5, 6, 7, 9} {
		full.Add(i)
	}
	if got, want := resume.Selection(g, full), "A1:A2, B1:C2, B4:C4"; got != want {
		t.Errorf("written %q, wanted %q", got, want)
	}
}

// TestSelectionIsShort writes rectangles as rectangles.
func TestSelectionIsShort(t *testing.T) {
	l := resolve(t, plan.Source{File: "p", Data: []byte(lesson), Dir: "."})
	g := l.Grids[0]
	for _, tt := range []struct {
		slots []int // A1 A2 A3 B1 B2 B3
		want  string
	}{
		{nil, "none"}, {[]int{0, 1, 2, 3, 4, 5}, "all"}, {[]int{0, 1, 3, 4}, "A1:B2"}, {[]int{0, 2, 3, 5}, "A1:B1, A3:B3"},
		{[]int{1, 3, 4, 5}, "A2, B1:B3"},
	} {
		full := layout.NewSlots(g.Size())
		for _, i := range tt.slots {
			full.Add(i)
		}
		if got := resume.Selection(g, full); got != tt.want {
			t.Errorf("%v is written %q, wanted %q", tt.slots, got, tt.want)
		}
	}
}

// TestReadNotice reads back what Notice writes.
func TestReadNotice(t *testing.T) {
	for _, holding := range []bool{false, true} {
		s := resume.State{Transfer: 12, Transfers: 46, Holding: holding}
		for _, text := range []string{s.Notice(), "A title " + strings.ToUpper(s.Notice()), strings.ReplaceAll(s.Notice(), ":", "-")} {
			if got, ok := resume.ReadNotice(text); !ok || got != (resume.Request{Transfer: 12, Holding: holding}) {
				t.Errorf("%+v, %v of %s", got, ok, text)
			}
		}
	}
	for _, text := range []string{"", "RESUMED", "RESUMED: begins with transfer 99999999999999999999 of 1. The gripper opens"} {
		if got, ok := resume.ReadNotice(text); ok {
			t.Errorf("%+v of %q", got, text)
		}
	}
}

// TestNoSuchTransfer is for those who do not ask beforehand.
func TestNoSuchTransfer(t *testing.T) {
	for _, n := range []int{-1, 0, 49} {
		l := resolve(t, open(t, "../../testdata/demo/tube-rack.plan.yaml"))
		var list diag.List
		if s, _ := resume.Prepare(l, resume.Request{Transfer: n}, &list); s != nil || !strings.Contains(inLines(&list), "the job has 48 transfers") {
			t.Errorf("%d: %v", n, inLines(&list))
		}
	}
}

// The rest of a job knows how the parts lie that were put down before the stop, and how
// the one in the gripper hangs there.
func TestRestKnowsHowPartsLie(t *testing.T) {
	const across = `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
parts: {bar: {mass: 0.1, size: [60, 20, 20]}}
grids:
  rack: {frame: base, rows: 2, columns: 1, pitch: [0, 80], first: [200, -200, 20], part: bar, filled: all}
  shelf: {frame: base, rows: 2, columns: 1, pitch: [0, 40], first: [200, 50, 20], rpy: [180, 0, 90], part: bar}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}}
transfers: [{from: rack, to: shelf}]
`
	for _, q := range []resume.Request{{Transfer: 2}, {Transfer: 2, Holding: true}} {
		l := resolve(t, plan.Source{File: "across.plan.yaml", Data: []byte(across), Dir: "."})
		var list diag.List
		_, start := resume.Prepare(l, q, &list)
		check.Run(l, withJoints(l, start), &list)
		if text := inLines(&list); !strings.Contains(text, `20.0 mm deep in the part at "shelf A1"`) {
			t.Errorf("%+v: nothing is said of the part that lies turned:\n%s", q, text)
		}
	}
}
