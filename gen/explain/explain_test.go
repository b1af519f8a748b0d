package explain_test

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"gridferry/gen"
	"gridferry/gen/explain"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/golden/corpus"
	"gridferry/plan"
	"gridferry/templates"
)

const demoFolder = "../../testdata/demo/"

func demos(t *testing.T) []string {
	t.Helper()
	return append(corpus.Plans(t, demoFolder), "../../plan/starter/first.plan.yaml")
}

// read takes a plan to a job that can be explained.
func read(t *testing.T, file string, settings ...plan.Setting) *gen.Job {
	t.Helper()
	source, err := plan.Open(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	job := new(gen.Job)
	if !job.Read(source, settings, layout.Options{}) {
		t.Fatalf("%s: %v", file, job.Findings.Sorted())
	}
	return job
}

func shipped(t *testing.T, job *gen.Job, name string) *family.Family {
	t.Helper()
	sub, err := fs.Sub(templates.FS, name)
	if err != nil {
		t.Fatal(err)
	}
	f, ok := job.LoadFamily(sub, name)
	if !ok {
		t.Fatalf("family %s does not load", name)
	}
	return f
}

// TestAfterAChangeByHand: the first motion behind the change is said to be slow, and rests on the
// speed near a slot; the one before it is not.
func TestAfterAChangeByHand(t *testing.T) {
	job := read(t, demoFolder+"two-jaws.plan.yaml")
	moves := explained(t, job, shipped(t, job, "iso6983"), explain.Query{}).Moves
	for n, slow := range map[int]bool{76: false, 78: true} { // both to the pose "front", before and behind "take narrow off, fit wide"
		m, rests := moves[n-1], ""
		for _, r := range m.RestsOn {
			rests += r.What + "; "
		}
		if strings.Contains(m.Why, "A person has just changed the tool") != slow || strings.Contains(rests, "speed near a slot") != slow || strings.Contains(rests, "speed of travel") == slow {
			t.Errorf("move %d, slow %t: %s\nrests on %s", n, slow, m.Why, rests)
		}
	}
}

// data is what ExplainJSON writes.
type data struct {
	Plan, Family, About string
	Moves               []struct {
		N, Transfer, Leg int
		Role, Does, Why  string
		Plan             struct {
			File string
			Line int
		}
		Program []explain.Line
		RestsOn []struct {
			What, File string
			Line       int
		} `json:"rests_on"`
	}
	WhyNone    string `json:"why_none"`
	OtherLines []struct {
		Of      string
		Program []explain.Line
	} `json:"other_lines"`
}

func explained(t *testing.T, job *gen.Job, f *family.Family, q explain.Query) data {
	t.Helper()
	var out bytes.Buffer
	if err := job.ExplainJSON(&out, f, q); err != nil {
		t.Fatal(err)
	}
	var d data
	if err := json.Unmarshal(out.Bytes(), &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// Every line of every program is explained once, by the move that made it, and
// stands in the program at its number.
func TestEveryProgramLineIsExplainedOnce(t *testing.T) {
	t.Parallel()
	for _, file := range demos(t) {
		for _, name := range templates.Names() {
			job := read(t, file)
			if name != "listing" && move.Count(job.Batches()).Moves > 2000 {
				continue // one family is enough for a long one
			}
			f := shipped(t, job, name)
			var program bytes.Buffer
			if err := job.Write(&program, f); err != nil {
				t.Fatal(err)
			}
			lines := strings.Split(strings.ReplaceAll(strings.TrimSuffix(program.String(), f.LineEnd), f.LineEnd, "\n"), "\n")
			seen := make([]int, len(lines)+1)
			check := func(of []explain.Line) {
				for _, l := range of {
					if l.N > len(lines) || lines[l.N-1] != l.Text {
						t.Fatalf("%s, %s: line %d is given as %q", file, name, l.N, l.Text)
					}
					seen[l.N]++
				}
			}
			d := explained(t, job, f, explain.Query{})
			for _, m := range d.Moves {
				check(m.Program)
			}
			for _, o := range d.OtherLines {
				check(o.Program)
			}
			for n, times := range seen[1:] {
				if times != 1 {
					t.Fatalf("%s, %s: line %d of %d is explained %d times", file, name, n+1, len(lines), times)
				}
			}
		}
	}
}

// The moves of the data are those of the list, each with a reason.
func TestEveryMoveHasAReason(t *testing.T) {
	t.Parallel()
	roles := map[string]bool{}
	for _, file := range demos(t) {
		job := read(t, file)
		d := explained(t, job, shipped(t, job, "listing"), explain.Query{})
		i := 0
		for m := range job.Moves() {
			if i >= len(d.Moves) {
				t.Fatalf("%s: only %d moves", file, i)
			}
			got := d.Moves[i]
			if got.N != m.N || got.Transfer != m.Transfer || got.Leg != m.Leg || got.Role != m.Role.String() || got.Plan.Line != m.Place.Line {
				t.Fatalf("%s: %+v for move %+v", file, got, m)
			}
			if got.Why == "" || got.Does == "" {
				t.Fatalf("%s: move %d has no reason: %+v", file, m.N, got)
			}
			if !m.Role.Wanted() && len(got.RestsOn) == 0 && m.Frame != "base" {
				t.Errorf("%s: move %d rests on nothing: %+v", file, m.N, got)
			}
			roles[got.Role] = true
			i++
		}
		if i != len(d.Moves) {
			t.Errorf("%s: %d moves explained of %d", file, len(d.Moves), i)
		}
	}
	for _, r := range move.Roles {
		if !roles[r.String()] {
			t.Errorf("no demo has a move of the role %q", r)
		}
	}
}

// What a line of the plan makes, counted again from the columns of the list.
func TestPlanLines(t *testing.T) {
	job := read(t, demoFolder+"mortar-cubes.plan.yaml")
	count := func(yes func(m move.Move) bool) int {
		n := 0
		for m := range job.Moves() {
			if yes(m) {
				n++
			}
		}
		return n
	}
	at := func(grid string) func(move.Move) bool {
		return func(m move.Move) bool { return strings.HasPrefix(m.Target.String(), grid+" ") }
	}
	text := lines(t, job, demoFolder+"mortar-cubes.plan.yaml")
	for start, want := range map[string]int{
		"format:":         0,
		"title:":          0,
		"cell:":           count(func(move.Move) bool { return true }),
		"    frame: bath": count(at("tray")),
		"    pitch: [65":  count(at("tray")),
		"  balance:":      count(at("balance")),
		"  rack:":         count(at("rack")),
		"  approach:":     count(func(m move.Move) bool { return m.Target.Approach }),
		"  speed:":        count(func(m move.Move) bool { return m.Kind.IsMotion() }),
		"  fly_by:":       count(func(m move.Move) bool { return m.FlyBy > 0 }),
		"  clear:":        count(func(m move.Move) bool { return m.Target.Pose == "clear" }),
		"begin:":          1,
		"  - note: dry":   1,
		"  - note: all":   1,
		"  - chain:":      count(func(m move.Move) bool { return m.Transfer > 0 }),
		"    advance:":    count(func(m move.Move) bool { return m.Transfer > 0 }),
		// The balance: three moves down, release and up, two again for the pick, since the arm
		// stands above it, the gripper and its wait both times, the way there over clear, and
		// the dwell of two seconds.
		"      - {grid: balance": 23 * (1 + 3 + 2 + 4 + 1),
		"      - tray":           count(at("tray")) + 23*2 - 1, // with the wait after the grip and the way over clear, but for the first, which leads to the start
	} {
		n := lineOf(t, text, start)
		r, err := job.Explain(shipped(t, job, "listing"), explain.Query{PlanLine: n})
		if err != nil || r.Rests != want {
			t.Errorf("line %d, %q: %d moves, wanted %d (%v); about %s", n, start, r.Rests, want, err, r.Subject.What)
		}
	}
}

func lines(t *testing.T, job *gen.Job, file string) []string {
	t.Helper()
	text, ok := job.Sources.Text(file)
	if !ok {
		t.Fatalf("%s was not read", file)
	}
	return strings.Split(text, "\n")
}

func lineOf(t *testing.T, text []string, start string) int {
	t.Helper()
	for i, l := range text {
		if strings.HasPrefix(l, start) {
			return i + 1
		}
	}
	t.Fatalf("no line begins with %q", start)
	return 0
}

// A value that two grids share is changed for both.
func TestSharedValues(t *testing.T) {
	job := read(t, "../../plan/starter/first.plan.yaml")
	r, err := job.Explain(shipped(t, job, "listing"), explain.Query{PlanLine: lineOf(t, lines(t, job, "../../plan/starter/first.plan.yaml"), "    pitch: &pitch")})
	if err != nil {
		t.Fatal(err)
	}
	want := 0
	for m := range job.Moves() {
		if m.Target.Grid != "" {
			want++
		}
	}
	if r.Rests != want || !strings.Contains(r.Subject.Does, "the pitch of the grid \"rack\"") {
		t.Errorf("%d moves rest on the shared pitch, wanted %d: %s", r.Rests, want, r.Subject.Does)
	}
}

// Every line of plan and cell, blank ones and remarks too, has an answer.
func TestEveryLineHasAnAnswer(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: every line is asked about")
	}
	t.Parallel()
	step := 1
	if testing.Short() {
		step = 5
	}
	for _, file := range demos(t) {
		job := read(t, file)
		f := shipped(t, job, "starter")
		if move.Count(job.Batches()).Moves > 2000 {
			continue // its lines are like the others', and each takes a pass over all moves
		}
		for n := 0; n < len(lines(t, job, file))-1; n += step {
			r, err := job.Explain(f, explain.Query{PlanLine: n + 1})
			if err != nil {
				t.Fatal(err)
			}
			if text := strings.TrimSpace(lines(t, job, file)[n]); r.Subject.What == "" && text != "" && !strings.HasPrefix(text, "#") {
				t.Errorf("%s:%d: %q is about nothing", file, n+1, text)
			}
		}
		cell := job.Layout.Cell.Place.File
		for n := 0; n < len(lines(t, job, cell))-1; n += step {
			if _, err := job.Explain(f, explain.Query{CellLine: n + 1}); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// A learner asks for a line of the program and reads which move it is, why, and
// which lines it rests on.
func TestProgramLine(t *testing.T) {
	job := read(t, demoFolder+"mortar-cubes.plan.yaml")
	r, err := job.Explain(shipped(t, job, "listing"), explain.Query{ProgramLine: 195})
	if err != nil {
		t.Fatal(err)
	}
	f := r.Focus
	if f.Move == nil || f.Move.Role != move.UpDestination || f.Move.Target.String() != "balance A1 approach" || f.Number != 1 || f.Why == "" {
		t.Fatalf("line 195: %+v", f)
	}
	text := asText(t, r, 80)
	for _, part := range []string{"program line 195", "balance A1", "leg 1 of 2", "step 13", "straight line", "bench.cell.yaml, line", "approach: 70", ">"} {
		if !strings.Contains(text, part) {
			t.Errorf("the answer has no %q:\n%s", part, text)
		}
	}
	if _, err := job.Explain(shipped(t, job, "listing"), explain.Query{ProgramLine: 100000}); err == nil || !strings.Contains(err.Error(), "which has 888 lines") {
		t.Errorf("a line that is not there: %v", err)
	}
}

// Head, headings and end are kept apart from what a move made.
func TestLinesThatNoMoveMade(t *testing.T) {
	job := read(t, demoFolder+"mortar-cubes.plan.yaml")
	f := shipped(t, job, "listing")
	for n, part := range map[int]string{1: "head", 26: "heading", 888: "end"} {
		r, err := job.Explain(f, explain.Query{ProgramLine: n})
		if err != nil || r.Focus.Part != part {
			t.Errorf("line %d is of %q, wanted %q (%v)", n, r.Focus.Part, part, err)
		}
	}
}

func asText(t *testing.T, r *explain.Report, width int) string {
	t.Helper()
	var out bytes.Buffer
	if err := r.Text(&out, width); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// No line of the terminal's text is wider than the terminal.
func TestTextFits(t *testing.T) {
	t.Parallel()
	for _, file := range demos(t) {
		job := read(t, file)
		for _, q := range []explain.Query{{}, {PlanLine: 6}, {ProgramLine: 60}} {
			r, err := job.Explain(shipped(t, job, "listing"), q)
			if err != nil {
				t.Fatal(err)
			}
			for _, width := range []int{60, 80, 120, 200} {
				for _, line := range strings.Split(asText(t, r, width), "\n") {
					if utf8.RuneCountInString(line) > width {
						t.Fatalf("%s at %d columns: %q", file, width, line)
					}
				}
			}
		}
	}
}

// Whatever is folded, no move is lost: pieces follow each other without a gap.
func TestFoldingLosesNothing(t *testing.T) {
	for _, file := range demos(t) {
		job := read(t, file)
		r, err := job.Explain(shipped(t, job, "listing"), explain.Query{})
		if err != nil {
			t.Fatal(err)
		}
		next, rows := 1, 0
		for _, s := range r.Sections {
			for _, p := range s.Pieces {
				if p.Moves.First != next {
					t.Fatalf("%s: move %d follows on %d", file, p.Moves.First, next-1)
				}
				next = p.Moves.Last + 1
				rows += len(p.Rows)
				if p.Folded == 0 && len(p.Rows)+p.More != p.Moves.Last-p.Moves.First+1 {
					t.Errorf("%s: a unit of moves %v shows %d", file, p.Moves, len(p.Rows))
				}
			}
		}
		if next-1 != r.Counts.Moves {
			t.Errorf("%s: the last move given is %d of %d", file, next-1, r.Counts.Moves)
		}
		if rows > 300 { // of the demos with most kinds of transfers
			t.Errorf("%s: %d rows are shown", file, rows)
		}
	}
}

// A plan of a hundred thousand moves makes a page of the same size as a small one.
func TestPageIsBounded(t *testing.T) {
	job := read(t, demoFolder+"dense-plate.plan.yaml")
	r, err := job.Explain(shipped(t, job, "listing"), explain.Query{})
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := r.HTML(&out); err != nil {
		t.Fatal(err)
	}
	if r.Counts.Moves < 20000 || out.Len() > 100_000 {
		t.Errorf("%d moves make a page of %d bytes", r.Counts.Moves, out.Len())
	}
}

// TestBrief: what is said in short is what the whole answer says, of every line of some demos; a move is
// answered as the line of the program is that it made.
func TestBrief(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: every line is asked about")
	}
	for _, name := range []string{"mortar-cubes", "two-jaws", "worklist", "odd-grids"} {
		job := read(t, demoFolder+name+".plan.yaml")
		listing := shipped(t, job, "listing")
		text, _ := job.Sources.Text(job.Layout.File)
		for n := range 1 + strings.Count(text, "\n") {
			if n == 0 {
				continue
			}
			q := explain.Query{PlanLine: n}
			title, lines, err := job.Why(listing, q)
			if err != nil {
				t.Fatal(err)
			}
			whole := report(t, job, listing, q)
			if !strings.Contains(title, "line "+strconv.Itoa(n)) {
				t.Errorf("line %d is called %q", n, title)
			}
			said := squeezed(strings.Join(lines[:min(2, len(lines))], " "))
			for _, sentence := range strings.SplitAfter(said, ". ") {
				if !strings.Contains(squeezed(whole), strings.TrimSpace(sentence)) {
					t.Errorf("%s, line %d: %q is not in\n%s", name, n, sentence, whole)
				}
			}
		}
		for _, m := range explained(t, job, listing, explain.Query{}).Moves[:40] {
			title, lines, err := job.Why(listing, explain.Query{Move: m.N})
			if err != nil || !strings.HasPrefix(title, "Move ") || len(lines) < 2 || !slices.Contains(lines, m.Why) {
				t.Errorf("%s, move %d: %v, %q, %q, wanted %q", name, m.N, err, title, lines, m.Why)
			}
			if len(m.Program) == 0 {
				continue
			}
			_, made, err := job.Why(listing, explain.Query{ProgramLine: m.Program[0].N})
			if err != nil || !slices.Contains(made, m.Why) {
				t.Errorf("%s, line %d: %v, %q, wanted %q", name, m.Program[0].N, err, made, m.Why)
			}
		}
	}
}

func report(t *testing.T, job *gen.Job, f *family.Family, q explain.Query) string {
	t.Helper()
	r, err := job.Explain(f, q)
	if err != nil {
		t.Fatal(err)
	}
	var text bytes.Buffer
	if err := r.Text(&text, 200); err != nil {
		t.Fatal(err)
	}
	return text.String()
}

func squeezed(text string) string { return strings.Join(strings.Fields(text), " ") }

// TestNothingToAnswer: moves and lines that are not there.
func TestNothingToAnswer(t *testing.T) {
	job := read(t, demoFolder+"mortar-cubes.plan.yaml")
	for _, q := range []explain.Query{{Move: 100_000}, {PlanLine: 1000}, {CellLine: 1000}} {
		if title, lines, err := job.Why(nil, q); err == nil {
			t.Errorf("%+v: %q, %q", q, title, lines)
		}
	}
	if q := job.QueryOf("worklist.csv", 3); q != (explain.Query{}) {
		t.Error("a table is asked about")
	}
	for file, wanted := range map[string]explain.Query{job.Layout.File: {PlanLine: 3}, job.Layout.Cell.Place.File: {CellLine: 3}} {
		if q := job.QueryOf(file, 3); q != wanted {
			t.Errorf("%s: %+v", file, q)
		}
	}
}

// BenchmarkWhy: a line of the plan, and a move, of 27,652 moves.
func BenchmarkWhy(b *testing.B) {
	source, err := plan.Open(demoFolder+"dense-plate.plan.yaml", nil)
	if err != nil {
		b.Fatal(err)
	}
	job := new(gen.Job)
	if !job.Read(source, nil, layout.Options{}) {
		b.Fatal(job.Findings.Sorted())
	}
	for name, q := range map[string]explain.Query{"line": {PlanLine: 12}, "move": {Move: 20_000}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, lines, err := job.Why(nil, q); err != nil || len(lines) < 2 {
					b.Fatal(err, lines)
				}
			}
		})
	}
}
