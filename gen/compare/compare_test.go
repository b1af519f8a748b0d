package compare_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gridferry/gen/compare"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/slot"
)

// job makes the moves of transfers from one grid to another by hand, in the order of
// the project's format: it is short, and no code of the project makes it.
func job(columns ...int) []move.Move {
	clear := func(t int, role move.Role) move.Move {
		return move.Move{Kind: move.Travel, Role: role, Transfer: t, Target: move.Target{Pose: "clear"}, Base: at(300, 0, 400), Speed: 500}
	}
	var moves []move.Move
	for i, column := range columns {
		t := i + 1
		from := move.Target{Grid: "tray", Slot: slot.Slot{Col: int32(column - 1)}}
		to := move.Target{Grid: "rack", Slot: slot.Slot{Col: int32(column - 1)}}
		over := func(p move.Target) move.Target { p.Approach = true; return p }
		here, there := at(float64(40*column), 100, 20), at(float64(50*column), 400, 30)
		moves = append(moves,
			clear(t, move.ClearFirst),
			move.Move{Kind: move.Travel, Role: move.OverSource, Transfer: t, Target: over(from), Base: lifted(here), Speed: 500, FlyBy: 10},
			move.Move{Kind: move.Straight, Role: move.DownSource, Transfer: t, Target: from, Base: here, Speed: 60},
			move.Move{Kind: move.Grip, Role: move.TakeHold, Transfer: t, Target: from, Signal: 1, Level: true},
			move.Move{Kind: move.Dwell, Role: move.HoldSettle, Transfer: t, Seconds: 0.4},
			move.Move{Kind: move.Straight, Role: move.UpSource, Transfer: t, Target: over(from), Base: lifted(here), Speed: 60, Load: 0.3},
			clear(t, move.ClearLoaded),
			move.Move{Kind: move.Travel, Role: move.OverDestination, Transfer: t, Target: over(to), Base: lifted(there), Speed: 500, FlyBy: 10},
			move.Move{Kind: move.Straight, Role: move.DownDestination, Transfer: t, Target: to, Base: there, Speed: 60},
			move.Move{Kind: move.Release, Role: move.LetGo, Transfer: t, Target: to, Signal: 1},
			move.Move{Kind: move.Straight, Role: move.UpDestination, Transfer: t, Target: over(to), Base: lifted(there), Speed: 60},
		)
	}
	return append(moves, clear(0, move.ClearLast))
}

func at(x, y, z float64) move.Point {
	return move.Point{Vec: geom.Vec{X: x, Y: y, Z: z}, RPY: geom.RPY{Roll: 180}}
}

func lifted(p move.Point) move.Point { p.Z += 60; return p }

func upTo(n int) []int {
	var columns []int
	for i := range n {
		columns = append(columns, i+1)
	}
	return columns
}

// plain takes the labels off, as a program that was read would have none.
func plain(moves []move.Move) []move.Move {
	moves = slices.Clone(moves)
	for i := range moves {
		moves[i].Transfer, moves[i].Behind, moves[i].Group, moves[i].Role, moves[i].Target, moves[i].ID = 0, 0, 0, 0, move.Target{}, nil
	}
	return moves
}

// side is moves as a plan, or as a program of some form with so many decimals.
func side(name, form string, half float64, moves []move.Move) compare.Side {
	s := compare.Plan(name, slices.Values(moves))
	s.Form, s.Half = form, compare.Tolerance{Length: half, Angle: half, Speed: half, FlyBy: half, Time: half, Mass: half}
	return s
}

func run(t interface{ Fatal(...any) }, a, b compare.Side) *compare.Report {
	r, err := compare.Compare(a, b)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestBoundsAreComparedFromBelow: a program with whole steps of 10 mm/s and 10 mm says
// for 505 mm/s and 15 mm what the plan says if it has the figure below, and no other.
func TestBoundsAreComparedFromBelow(t *testing.T) {
	with := func(speed, flyBy float64) []move.Move {
		m := job(1)
		for i := range m {
			if m[i].Speed > 100 {
				m[i].Speed = speed
			}
			if m[i].FlyBy > 0 {
				m[i].FlyBy = flyBy
			}
		}
		return m
	}
	asked := side("plan", "", 0, with(505, 15))
	for _, c := range []struct {
		speed, flyBy float64
		same         bool
	}{{500, 10, true}, {510, 10, false}, {490, 10, false}, {500, 20, false}, {500, 1, false}, {495, 10, false}, {500, 5, false}} {
		written := side("program", "form", 5, with(c.speed, c.flyBy))
		if got := inShort(run(t, asked, written)); (got == "") != c.same {
			t.Errorf("%v mm/s and %v mm: %q", c.speed, c.flyBy, got)
		}
		if got := inShort(run(t, written, asked)); (got == "") != c.same {
			t.Errorf("%v mm/s and %v mm, the other way round: %q", c.speed, c.flyBy, got)
		}
	}
	finer := side("finer", "other", 0.5, with(505, 15)) // 500 of the one may be 505 of the other
	if got := inShort(run(t, side("program", "form", 5, with(500, 10)), finer)); got != "" {
		t.Errorf("two forms: %q", got)
	}
	if got := inShort(run(t, side("program", "form", 5, with(500, 10)), side("finer", "other", 0.5, with(498, 10)))); got == "" {
		t.Error("498 of steps of 1 is taken for 500 of steps of 10")
	}
	if got := inShort(run(t, side("program", "form", 5, with(500, 10)), side("finer", "other", 0.5, with(510, 10)))); got == "" {
		t.Error("510 of steps of 1 is taken for 500 of steps of 10")
	}
}

// inShort is what a report says, in short.
func inShort(r *compare.Report) string {
	var words []string
	for _, run := range r.OnlyA {
		words = append(words, fmt.Sprintf("-%d@%d", run.Count, run.First.Transfer))
	}
	for _, run := range r.OnlyB {
		words = append(words, fmt.Sprintf("+%d@%d", run.Count, run.First.Transfer))
	}
	if r.Reordered > 0 {
		words = append(words, fmt.Sprintf("~%d", r.Reordered))
	}
	for _, run := range r.Elsewhere {
		words = append(words, fmt.Sprintf("%s>%s", run.First.From, run.Instead.To))
	}
	for _, d := range r.Different {
		words = append(words, fmt.Sprintf("%s %s ×%d", d.What, d.Name, d.Count))
	}
	return strings.Join(words, "; ")
}

// planted are changes to a job of twelve transfers, and all that may be found then.
var planted = []struct {
	name   string
	change func(m []move.Move) []move.Move
	plan   string // between two plans
	text   string // between two programs without labels
}{
	{"nothing", func(m []move.Move) []move.Move { return m }, "", ""},
	{"one slot", func(m []move.Move) []move.Move { m[11*4+2].Base.X += 0.5; return m }, "position tray ×1", "position straight ×1"},
	{"a grid", func(m []move.Move) []move.Move {
		for i := range m {
			if m[i].Target.Grid == "rack" {
				m[i].Base.Y += 1
			}
		}
		return m
	}, "position rack ×36", "position travel ×12; position straight ×24"},
	{"a turn", func(m []move.Move) []move.Move { m[8].Base.Yaw = 3; return m }, "turn rack ×1", "turn straight ×1"},
	{"a speed", func(m []move.Move) []move.Move { m[11*2+8].Speed = 80; return m }, "speed straight to rack ×1", "speed straight ×1"},
	{"a fly-by", func(m []move.Move) []move.Move { m[1].FlyBy = 0; return m }, "fly_by travel to above tray ×1", "fly_by travel ×1"},
	{"a level", func(m []move.Move) []move.Move { m[3].Level = false; return m }, "level grip at tray ×1", "level grip ×1"},
	{"an output", func(m []move.Move) []move.Move { m[11*5+3].Signal = 2; return m }, "signal grip at tray ×1", "signal grip ×1"},
	{"a wait", func(m []move.Move) []move.Move { m[4].Seconds = 0.5; return m }, "time settling of the grip ×1", "time dwell ×1"},
	{"a load", func(m []move.Move) []move.Move { m[5].Load = 0.4; return m }, "load straight to above tray ×1", "load straight ×1"},
	{"a kind", func(m []move.Move) []move.Move { m[11*3].Kind = move.Straight; return m }, "kind travel to clear ×1", "kind travel ×1"},
	{"no wait", func(m []move.Move) []move.Move { return slices.Delete(m, 11*6+4, 11*6+5) }, "only-a settling of the grip ×1", "only-a dwell ×1"},
	{"one more output", func(m []move.Move) []move.Move {
		return slices.Insert(m, 11*6, move.Move{Kind: move.Set, Role: move.Asked, Transfer: 6, Signal: 7, Level: true})
	}, "only-b set output 7 ×1", "only-b set output 7 ×1"},
	{"a transfer less", func(m []move.Move) []move.Move { return slices.Delete(m, 11*4, 11*5) }, "-1@5", "-1@5"},
	{"cut short", func(m []move.Move) []move.Move { return m[:11*11] }, "-1@12; -1@0", "-1@12; -1@0"},
	{"three more", func(m []move.Move) []move.Move { return append(job(41, 42, 43)[:33], m...) }, "+3@1", "+3@1"},
	{"the last one first", func(m []move.Move) []move.Move {
		last := slices.Clone(m[121:132])
		return append(last, slices.Delete(m, 121, 132)...)
	}, "-1@12; +1@1; ~1", "-1@12; +1@1; ~1"},
	{"a goal", func(m []move.Move) []move.Move {
		for i := range m {
			if m[i].Transfer == 3 && m[i].Target.Grid == "rack" {
				m[i].Target.Slot.Row, m[i].Base.Y = 1, 450
			}
		}
		return m
	}, "tray A3>rack B3", "position travel ×1; position straight ×2"},
	{"a slot and a transfer more", func(m []move.Move) []move.Move {
		m[2].Base.X += 2
		return slices.Insert(m, 11*8, job(77)[:11]...)
	}, "+1@9; position tray ×1", "+1@9; position straight ×1"},
}

func TestPlanted(t *testing.T) {
	for _, tt := range planted {
		t.Run(tt.name, func(t *testing.T) {
			a, b := job(upTo(12)...), tt.change(job(upTo(12)...))
			renumber(b)
			for _, c := range []struct {
				form string
				a, b []move.Move
				want string
			}{{"", a, b, tt.plan}, {"text", plain(a), plain(b), tt.text}} {
				r := run(t, side("a", c.form, 0.0005, c.a), side("b", c.form, 0.0005, c.b))
				if got := inShort(r); got != c.want || r.Equal() != (c.want == "") {
					t.Errorf("form %q: found %q, wanted %q", c.form, got, c.want)
				}
			}
		})
	}
}

// renumber counts the transfers again, as the list of a changed plan would.
func renumber(moves []move.Move) {
	count, last := 0, -1
	for i := range moves {
		if now := moves[i].Transfer; now == 0 {
			continue
		} else if now != last || i > 0 && moves[i].Role == move.ClearFirst && moves[i-1].Role != move.ClearFirst {
			count, last = count+1, now
		}
		moves[i].Transfer = count
	}
}

// TestSecondSideTellsTheSame swaps the sides: what one lacks the other has more.
func TestSecondSideTellsTheSame(t *testing.T) {
	for _, tt := range planted {
		a, b := job(upTo(12)...), tt.change(job(upTo(12)...))
		renumber(b)
		there, back := run(t, side("a", "", 0, a), side("b", "", 0, b)), run(t, side("b", "", 0, b), side("a", "", 0, a))
		if len(there.OnlyA) != len(back.OnlyB) || len(there.OnlyB) != len(back.OnlyA) || len(there.Different) != len(back.Different) ||
			there.Reordered != back.Reordered || len(there.Elsewhere) != len(back.Elsewhere) {
			t.Errorf("%s: %q one way, %q the other", tt.name, inShort(there), inShort(back))
		}
	}
}

// TestTakenOutAndPutIn takes transfers out of either side at random: exactly those
// are missed, and nothing else differs.
func TestTakenOutAndPutIn(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(3, 40).Draw(r, "transfers")
		inA, inB := []int{99}, []int{99} // without any grip nobody could tell transfers apart
		onlyA, onlyB := 0, 0
		for _, column := range upTo(n) {
			switch rapid.IntRange(0, 9).Draw(r, "who") {
			case 0:
				inA, onlyA = append(inA, column), onlyA+1
			case 1:
				inB, onlyB = append(inB, column), onlyB+1
			default:
				inA, inB = append(inA, column), append(inB, column)
			}
		}
		for _, form := range []string{"", "text"} {
			a, b := job(inA...), job(inB...)
			if form != "" {
				a, b = plain(a), plain(b)
			}
			report := run(r, side("a", form, 0.0005, a), side("b", form, 0.0005, b))
			if form == "" && (counted(report.OnlyA) != onlyA || counted(report.OnlyB) != onlyB || len(report.Different) > 0) {
				r.Fatalf("%d and %d are on one side only, found %q", onlyA, onlyB, inShort(report))
			}
			// Without labels a transfer that is only here may be meant by one that is
			// only there, which then differs; but the balance stays.
			if counted(report.OnlyA)-counted(report.OnlyB) != onlyA-onlyB || report.Equal() != (onlyA+onlyB == 0) {
				r.Fatalf("without labels: %d and %d are on one side only, found %q", onlyA, onlyB, inShort(report))
			}
		}
	})
}

// TestLongJobs takes single transfers out of jobs that are too long for a table.
func TestLongJobs(t *testing.T) {
	without := func(gone ...int) []move.Move {
		return job(slices.DeleteFunc(upTo(3000), func(c int) bool { return slices.Contains(gone, c) })...)
	}
	a, b := without(20, 1500, 2990), without(700, 2200)
	for _, form := range []string{"", "text"} {
		x, y := a, b
		if form != "" {
			x, y = plain(a), plain(b)
		}
		if got, want := inShort(run(t, side("a", form, 0.0005, x), side("b", form, 0.0005, y))), "-1@699; -1@2198; +1@20; +1@1499; +1@2988"; got != want {
			t.Errorf("form %q: found %.200q, wanted %q", form, got, want)
		}
	}
}

func counted(runs []*compare.Run) int {
	n := 0
	for _, r := range runs {
		n += r.Count
	}
	return n
}

// TestAnySingleFault changes one field of one move at random: that, and nothing
// else, is found.
func TestAnySingleFault(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		a := job(upTo(rapid.IntRange(1, 9).Draw(r, "transfers"))...)
		b := slices.Clone(a)
		m := &b[rapid.IntRange(0, len(b)-1).Draw(r, "move")]
		want := map[bool][]compare.What{true: {compare.Positions, compare.Turns, compare.Speeds, compare.FlyBys, compare.Loads}}[m.Kind.IsMotion()]
		switch m.Kind {
		case move.Grip, move.Release:
			want = []compare.What{compare.Signals, compare.Levels}
		case move.Dwell:
			want = []compare.What{compare.Times}
		}
		what := rapid.SampledFrom(want).Draw(r, "what")
		by := rapid.SampledFrom([]float64{0.001, 0.02, 3}).Draw(r, "by")
		switch what {
		case compare.Positions:
			m.Base.Z -= by
		case compare.Turns:
			m.Base.Pitch += by
		case compare.Speeds:
			m.Speed += by
		case compare.FlyBys:
			m.FlyBy += by
		case compare.Loads:
			m.Load += by
		case compare.Signals:
			m.Signal += 4
		case compare.Levels:
			m.Level = !m.Level
		case compare.Times:
			m.Seconds += by
		}
		for _, form := range []string{"", "text"} {
			x, y := a, b
			if form != "" {
				x, y = plain(a), plain(b)
			}
			report := run(r, side("a", form, 0.0005, x), side("b", form, 0.0005, y))
			if d := report.Different; len(d) != 1 || d[0].What != what || d[0].Count != 1 || len(report.OnlyA)+len(report.OnlyB)+len(report.Elsewhere) > 0 {
				r.Fatalf("form %q: changed %s of %s by %g, found %q", form, what, m.Target, by, inShort(report))
			}
		}
	})
}

// TestRoundedOtherwise: figures that two families round differently are the same,
// and what is off by more is not.
func TestRoundedOtherwise(t *testing.T) {
	a, b := job(upTo(3)...), job(upTo(3)...)
	for i := range b {
		b[i].Base.X += 0.04
	}
	coarse := side("b", "coarse", 0.05, plain(b))
	if r := run(t, side("a", "fine", 0.0005, plain(a)), coarse); !r.Equal() {
		t.Errorf("found %q", inShort(r))
	}
	b[2].Base.X += 0.06
	coarse = side("b", "coarse", 0.05, plain(b))
	if got := inShort(run(t, side("a", "fine", 0.0005, plain(a)), coarse)); got != "position straight ×1" {
		t.Errorf("found %q", got)
	}
}

// TestOnlyWhatBothTell: a form without a kind of step does not make the other differ.
func TestOnlyWhatBothTell(t *testing.T) {
	a := job(upTo(3)...)
	b := slices.DeleteFunc(slices.Clone(a), func(m move.Move) bool { return m.Kind == move.Dwell })
	poor := side("b", "poor", 0.0005, plain(b))
	poor.Knows = func(k move.Kind) bool { return k != move.Dwell }
	if r := run(t, side("a", "rich", 0.0005, plain(a)), poor); !r.Equal() {
		t.Errorf("found %q", inShort(r))
	}
	poor.Knows = func(move.Kind) bool { return true }
	if got := inShort(run(t, side("a", "rich", 0.0005, plain(a)), poor)); got != "only-a dwell ×3" {
		t.Errorf("found %q", got)
	}
}

// TestWithoutGrips compares first runs, in which nothing keeps transfers apart.
func TestWithoutGrips(t *testing.T) {
	quiet := func(m []move.Move) []move.Move {
		return slices.DeleteFunc(plain(m), func(m move.Move) bool { return !m.Kind.IsMotion() })
	}
	a, b := quiet(job(upTo(5)...)), quiet(job(upTo(5)...))
	b[11].Base.Z -= 2
	b = slices.Delete(b, 20, 22)
	r := run(t, side("a", "text", 0.0005, a), side("b", "text", 0.0005, b))
	if r.Word != "step" || counted(r.OnlyA) != 2 || counted(r.OnlyB) != 0 || len(r.Different) != 1 || r.Different[0].Count != 1 {
		t.Errorf("found %q in %ss", inShort(r), r.Word)
	}
}

// TestSaid: what is said line by line is what is printed, and it names the transfers.
func TestSaid(t *testing.T) {
	for _, tt := range planted {
		a, b := job(upTo(12)...), tt.change(job(upTo(12)...))
		renumber(b)
		r := run(t, side("a", "", 0, a), side("b", "", 0, b))
		var text bytes.Buffer
		if err := r.Print(&text); err != nil {
			t.Fatal(err)
		}
		printed := strings.ReplaceAll(text.String(), " in base coordinates", "")
		all := r.Said()
		if len(all) != len(r.OnlyA)+len(r.OnlyB)+len(r.Elsewhere)+len(r.Different) || !strings.Contains(printed, r.Summary()) {
			t.Errorf("%s: %+v", tt.name, all)
		}
		for _, s := range all {
			if !strings.Contains(printed, s.Text+"\n") {
				t.Errorf("%s: %q is not in\n%s", tt.name, s.Text, printed)
			}
			if s.A[0] > s.A[1] || s.B[0] > s.B[1] || (s.What == compare.Lacking) != (s.B == [2]int{} && s.A != [2]int{}) && s.What != string(compare.OnlyA) && s.What != compare.Lacking {
				t.Errorf("%s: %+v", tt.name, s)
			}
		}
	}
}

func TestWords(t *testing.T) {
	a, b := job(upTo(6)...), job(upTo(6)...)
	for i := range b {
		if b[i].Target.Grid == "tray" {
			b[i].Base.X += 0.25
		}
		if b[i].Kind == move.Straight {
			b[i].Speed = 50
		}
	}
	b[2].Base.X += 1
	r := run(t, side("monday.plan.yaml", "", 0, a), side("friday.plan.yaml", "", 0, b))
	var text bytes.Buffer
	if err := r.Print(&text); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"first:  monday.plan.yaml, 6 transfers\n", "second: friday.plan.yaml, 6 transfers\n",
		"tray: moved by 0.250 to 1.250 mm, most at tray A1 in transfer 1, 18 times, in transfers 1 to 6\n",
		"straight to rack: speed 60 mm/s becomes 50 mm/s, 6 times, in transfers 1 to 6\n",
		"different: no transfer is alike, 6 are not\n",
	} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("%q is missing in\n%s", want, &text)
		}
	}
	var data bytes.Buffer
	if err := r.JSON(&data); err != nil {
		t.Fatal(err)
	}
	var back struct {
		Same        bool
		Differences []struct {
			What  string
			Most  float64
			Moved []float64
		}
	}
	if err := json.Unmarshal(data.Bytes(), &back); err != nil || back.Same || len(back.Differences) != 5 {
		t.Fatalf("%v\n%s", err, &data)
	}
	if d := back.Differences[0]; d.What != "position" || d.Most != 1.25 || !slices.Equal(d.Moved, []float64{0.25, 0, 0}) {
		t.Errorf("%+v", d)
	}
}

// TestLastLine says how many transfers are alike, and what becomes of the others: the
// balance holds on both sides.
// What is not listed one by one is counted: nothing gets lost behind the bound on runs.
func TestManyDifferences(t *testing.T) {
	all := upTo(3000)
	a, b := job(all...), job(slices.DeleteFunc(all, func(c int) bool { return c%2 == 0 })...)
	if got := printed(t, a, b); !strings.Contains(got, "only in the first: transfer 20, ") || !strings.Contains(got, "only in the first: and 1490 more transfers\n") {
		t.Errorf("1500 transfers are only in the first, the report is\n%s", got)
	}
	moved := slices.Clone(a)
	for i := range moved {
		if moved[i].Target.Grid == "rack" && moved[i].Transfer%2 == 0 {
			moved[i].Target.Grid = "shelf"
		}
	}
	if got := printed(t, a, moved); !strings.Contains(got, "goes elsewhere: and 1490 more\n") || !strings.Contains(got, "1500 go elsewhere\n") {
		t.Errorf("1500 transfers go elsewhere, the report is\n%s", got)
	}
}

func printed(t *testing.T, a, b []move.Move) string {
	t.Helper()
	var out strings.Builder
	if err := run(t, side("a", "", 0.0005, a), side("b", "", 0.0005, b)).Print(&out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestLastLine(t *testing.T) {
	faster := func(m []move.Move, transfers ...int) []move.Move {
		for i := range m {
			if slices.Contains(transfers, m[i].Transfer) && m[i].Kind == move.Straight {
				m[i].Speed = 70
			}
		}
		return m
	}
	elsewhere := job(1, 2, 3)
	for i := range elsewhere {
		if elsewhere[i].Transfer == 2 && elsewhere[i].Target.Grid == "rack" {
			elsewhere[i].Target.Slot.Col = 8
		}
	}
	noted := append(job(1, 2), move.Move{Kind: move.Note, Text: "done"})
	for _, tt := range []struct {
		a, b []move.Move
		want string
	}{
		{job(1, 2), job(1, 2), "the same: all 2 transfers"},
		{job(1, 2, 3), faster(job(1, 2, 3), 2), "different: 2 transfers are alike, 1 is not"},
		{job(1, 2, 3), faster(job(1, 2, 3), 2, 3), "different: 1 transfer is alike, 2 are not"},
		{job(1, 2), faster(job(1, 2), 1, 2), "different: no transfer is alike, 2 are not"},
		{job(1, 2, 3), job(1, 3), "different: 2 transfers are alike, 1 is only in the first"},
		{job(1, 3), faster(job(1, 2, 3, 4), 3), "different: 1 transfer is alike, 1 is not, 2 are only in the second"},
		{job(1, 2, 3), elsewhere, "different: 2 transfers are alike, 1 goes elsewhere"},
		{job(1, 2), noted, "different outside of any transfer: all 2 transfers are alike"},
	} {
		if text := printed(t, tt.a, tt.b); !strings.HasSuffix(text, "\n"+tt.want+"\n") {
			t.Errorf("wanted %q at the end of\n%s", tt.want, text)
		}
	}
}
