package render_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gridferry/gen/family/blocks"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/render"
	"gridferry/plan/diag"
	"gridferry/templates"
)

// Every shipped family writes every kind of move or says why it does not.
func TestEveryKind(t *testing.T) {
	seen := map[move.Kind]bool{}
	for _, m := range benchMoves() {
		seen[m.Kind] = true
	}
	for _, kind := range move.Kinds {
		if !seen[kind] {
			t.Errorf("the fixture holds no %q", kind)
		}
	}
	for _, name := range templates.Names() {
		f := shipped(t, name)
		for _, m := range benchMoves() {
			reason, cannot := f.Cannot[m.Kind.String()]
			text, list := program(t, f, benchJob(), m)
			switch {
			case !cannot && list.Len() > 0:
				t.Errorf("%s, %q: %s", name, m.Kind, found(list))
			case !cannot && len(text) <= len(without1(t, f)):
				t.Errorf("%s writes nothing for %q", name, m.Kind)
			case cannot && (reason == "" || !strings.Contains(found(list), "kind-not-possible")):
				t.Errorf("%s does not write %q and gives no reason", name, m.Kind)
			}
		}
	}
}

// without1 is the program without a move.
func without1(t *testing.T, f *blocks.Blocks) string {
	text, _ := program(t, f, benchJob())
	return text
}

func TestSameBytesEveryTime(t *testing.T) {
	for _, name := range templates.Names() {
		f := shipped(t, name)
		moves := without(f, benchMoves())
		first, list := program(t, f, benchJob(), moves...)
		second, _ := program(t, shipped(t, name), benchJob(), moves...)
		if list.Len() > 0 || first != second || strings.Contains(first, "NaN") || strings.Contains(first, "<no value>") {
			t.Errorf("%s: two runs differ, or findings: %s", name, found(list))
		}
	}
}

// hostile are titles, remarks and names that try to leave their comment.
var hostile = []string{
	"a)\nM30\n(b", "a*)\nSTOP;\n(*b", "a\r\nM30", "a\u2028M30\u2029b", "a\u202eb\u2066c", "a\x00\x1b[2Jb\u0085c", ") G0 Z0 (", "*) x := 1; (*",
	"# go\n# stop", "%", "\n%\n", "MSG, beep", "' ; STOP ; '", `" ; STOP ; "`, "{{.X}}", "\\", "}{", "\ufeffa", "≮≯\u037eé", strings.Repeat("lång ", 300),
}

// A line of a program is either a comment or one that the family itself words:
// with the comments taken out, no title changes anything.
func TestHostileTitlesStayComments(t *testing.T) {
	for _, name := range []string{"iso6983", "st", "starter"} {
		f := shipped(t, name)
		moves := without(f, benchMoves())
		want, _ := withText(t, f, moves, "harmless")
		for _, text := range hostile {
			got, list := withText(t, f, moves, text)
			if list.Len() > 0 {
				t.Errorf("%s, %q: %s", name, text, found(list))
			}
			if a, b := withoutComments(f, want), withoutComments(f, got); a != b {
				t.Errorf("%s, %q: beside comments the program reads\n%s\nwanted\n%s", name, text, b, a)
			}
		}
	}
}

// withText writes a program in which all free text is text.
func withText(t testing.TB, f *blocks.Blocks, moves []move.Move, text string) (string, *diag.List) {
	t.Helper()
	job := benchJob()
	job.Title, job.Plan, job.Cell = text, text, text
	job.Frames, job.Tools = slices.Clone(job.Frames), slices.Clone(job.Tools)
	moves = slices.Clone(moves)
	for i := range moves {
		m := &moves[i]
		if m.Target.Pose != "" {
			m.Target.Pose = text
		}
		if m.Target.Grid != "" {
			m.Target.Grid = text
		}
		if m.Kind == move.Note {
			m.Text = text
		}
	}
	return program(t, f, job, moves...)
}

// withoutComments takes comments out by hand, independently of package family,
// and then the lines that held nothing else. The program's own name stands for
// the title and is taken out too.
func withoutComments(f *blocks.Blocks, text string) string {
	var out []string
	for _, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		switch f.Comment.Open {
		case "(":
			line = between(line, "(", ")")
		case "(* ":
			line = between(line, "(*", "*)")
		case "# ":
			line, _, _ = strings.Cut(line, "#")
		}
		if f.BlockNumbers.On() {
			line = strings.TrimLeft(line, "N0123456789")
		}
		if line = strings.TrimSpace(line); strings.HasPrefix(line, "PROGRAM ") || strings.HasPrefix(line, "begin ") {
			line = "NAME"
		}
		if line != "" {
			out = append(out, line)
		}
	}
	return strings.Join(out, "\n")
}

// between cuts everything from open to end out of a line.
func between(line, open, end string) string {
	for {
		before, rest, found := strings.Cut(line, open)
		if !found {
			return line
		}
		_, after, closed := strings.Cut(rest, end)
		if !closed {
			return "NOT CLOSED: " + line
		}
		line = before + after
	}
}

// A listing has no marks; there, text must not make lines of its own.
func TestHostileTitlesMakeNoLines(t *testing.T) {
	f := shipped(t, "listing")
	moves := slices.DeleteFunc(benchMoves(), func(m move.Move) bool { return m.Kind == move.Note })
	want, _ := withText(t, f, moves, "harmless")
	for _, text := range hostile {
		got, list := withText(t, f, moves, text)
		if list.Len() > 0 || strings.Count(got, "\n") != strings.Count(want, "\n") {
			t.Errorf("%q: %d lines, wanted %d; %s", text, strings.Count(got, "\n"), strings.Count(want, "\n"), found(list))
		}
	}
}

func TestFiguresThatAreNone(t *testing.T) {
	for _, name := range templates.Names() {
		f := shipped(t, name)
		for v, says := range map[float64]string{
			math.NaN(): "a figure came out as NaN", math.Inf(1): "a figure came out as +Inf", math.Inf(-1): "a figure came out as -Inf", 1e12: "the figure 1e+12 is out of range",
		} {
			moves := without(f, benchMoves())
			i := slices.IndexFunc(moves, func(m move.Move) bool { return m.Kind == move.Straight })
			moves[i].At.X, moves[i].Base.X = v, v
			text, list := program(t, f, benchJob(), moves...)
			if got := found(list); !strings.HasPrefix(got, moves[i].Place.String()+": "+says) || list.Len() != 1 {
				t.Errorf("%s, %v: %s", name, v, got)
			}
			if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
				t.Errorf("%s: %v reached the program", name, v)
			}
		}
	}
	job := benchJob()
	job.Acceleration = math.Inf(1)
	if _, list := program(t, shipped(t, "st"), job); !strings.Contains(found(list), "number-not-finite") {
		t.Error("an infinite acceleration reached the head")
	}
}

func TestNoNegativeZero(t *testing.T) {
	minus := math.Copysign(0, -1)
	m := motion(move.Travel, move.Target{Pose: "clear"}, geom.Vec{X: minus, Y: -0.0001, Z: -1e-12}, geom.Vec{}, 500, minus)
	m.Base.Vec, m.N = m.At.Vec, 1
	for _, name := range templates.Names() {
		text, list := program(t, shipped(t, name), benchJob(), m)
		if list.Len() > 0 || strings.Contains(text, "-0.0") && !strings.Contains(text, "-0.0001") {
			t.Errorf("%s: %s\n%s", name, found(list), text)
		}
	}
}

// Speeds are the classic slip: mm/s in PLCopen blocks, mm/min under G94 (NISTIR
// 6556, clause 3.5.19), a factor of 60.
func TestSpeedUnits(t *testing.T) {
	m := motion(move.Straight, move.Target{Pose: "clear"}, geom.Vec{X: 1, Y: 2, Z: 3}, geom.Vec{}, 80, 0)
	for name, want := range map[string]string{"iso6983": "G1 X1.000 Y2.000 Z3.000 C0.000 F4800.0\n", "listing": "at 80 mm/s", "st": " 80.000,", "starter": "speed=80.0 "} {
		if text, _ := program(t, shipped(t, name), benchJob(), m); !strings.Contains(text, want) {
			t.Errorf("%s: no %q in\n%s", name, want, text)
		}
	}
}

// The turn about the vertical of a tool that points down. Worked by hand: with
// rpy (180, 0, c) the tool's X axis is (cos c, sin c, 0); with (0, 180, c) it is
// (-cos c, -sin c, 0).
func TestTurnAboutTheVertical(t *testing.T) {
	f := shipped(t, "iso6983")
	for _, c := range []struct {
		rpy  geom.RPY
		want string
	}{
		{geom.RPY{Roll: 180}, "C0.000"},
		{geom.RPY{Roll: 180, Yaw: 37.5}, "C37.500"},
		{geom.RPY{Roll: 180, Yaw: -180}, "C180.000"},
		{geom.RPY{Roll: -180, Yaw: -179.9999}, "C180.000"},
		{geom.RPY{Pitch: 180}, "C180.000"},
		{geom.RPY{Pitch: 180, Yaw: 30}, "C-150.000"},
		{geom.RPY{Roll: 180.005, Yaw: 90}, "C90.000"},
	} {
		m := motion(move.Travel, move.Target{Pose: "clear"}, geom.Vec{}, geom.Vec{}, 500, 0)
		m.Base.RPY = c.rpy
		if text, list := program(t, f, benchJob(), m); list.Len() > 0 || !strings.Contains(text, c.want+"\n") {
			t.Errorf("%v: no %s in\n%s%s", c.rpy, c.want, found(list), text)
		}
	}
}

func TestTiltedTool(t *testing.T) {
	f := shipped(t, "iso6983")
	moves := without(f, benchMoves())
	for i := range moves {
		moves[i].Base.Roll = 178
		if moves[i].Target.Grid == "balance" {
			moves[i].Base.Roll = 179.9
		}
	}
	_, list := program(t, f, benchJob(), moves...)
	want := `cubes.plan.yaml:23:5: at "clear" the tool leans 2.00 degrees from straight down, and this family writes only the turn about the vertical [tool-tilted]
cubes.plan.yaml:27:5: at "tray" the tool leans 2.00 degrees from straight down, and this family writes only the turn about the vertical [tool-tilted]
cubes.plan.yaml:36:5: at "balance" the tool leans 0.10 degrees from straight down, and this family writes it as upright [tool-tilted]
`
	if got := found(list); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	if last := list.Sorted()[2]; last.Severity != diag.Warning || list.Sorted()[0].Severity != diag.Error {
		t.Error("a touched frame's lean is a warning, more is an error")
	}
}

// What a select changes, and what it repeats.
func TestSelectSaysWhatChanged(t *testing.T) {
	choose := func(frame int, load float64) move.Move {
		return move.Move{Kind: move.Select, Frame: benchJob().Frames[frame-1].Name, FrameNumber: frame, Tool: "jaw", ToolNumber: 1, Load: load}
	}
	text, _ := program(t, shipped(t, "listing"), benchJob(), choose(1, 0.85), choose(2, 0.85), choose(2, 1.14), choose(1, 0.85), choose(1, 0.85))
	want := []string{"frame base and tool jaw, 0.850 kg on the flange", "frame bath", "tool jaw, 1.140 kg on the flange", "frame base and tool jaw, 0.850 kg on the flange", "frame base"}
	var got []string
	for _, line := range strings.Split(text, "\n") {
		if _, rest, ok := strings.Cut(line, "  Select "); ok {
			got = append(got, strings.TrimSuffix(rest, "."))
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestKindNotPossible(t *testing.T) {
	moves := []move.Move{
		{Kind: move.Set, Signal: 3, Place: diag.Place{File: "p.yaml", Line: 4, Col: 7}},
		{Kind: move.Set, Signal: 3, Place: diag.Place{File: "p.yaml", Line: 4, Col: 7}},
		{Kind: move.Await, Signal: 3, Place: diag.Place{File: "p.yaml", Line: 5, Col: 7}},
	}
	_, list := program(t, shipped(t, "iso6983"), benchJob(), moves...)
	got := found(list)
	if list.Len() != 2 || !strings.HasPrefix(got, `p.yaml:4:7: the family "iso6983" does not write "set": no open standard`) || !strings.Contains(got, `p.yaml:5:7: the family "iso6983" does not write "await"`) {
		t.Errorf("got %s", got)
	}
}

// NISTIR 6556, clause 3.3.1: block numbers have five digits at most.
func TestBlockNumbersBeginAgain(t *testing.T) {
	f := shipped(t, "iso6983")
	dwell := move.Move{Kind: move.Dwell, Seconds: 1}
	text, list := program(t, f, benchJob(), slices.Repeat([]move.Move{dwell}, 10_005)...)
	if list.Len() > 0 || !strings.Contains(text, "\nN99990 G4 P1.000\nN10 G4 P1.000\nN20 G4") || strings.Contains(text, "N100000") {
		t.Errorf("the numbers do not begin again after 99990: %s", found(list))
	}
}

func TestLongLines(t *testing.T) {
	job := benchJob()
	job.Title = strings.Repeat("a very long title ", 50)
	for _, name := range []string{"iso6983", "st", "starter"} {
		f := shipped(t, name)
		text, list := program(t, f, job)
		for _, line := range strings.Split(text, "\n") {
			if len(line) > f.LongestLine {
				t.Errorf("%s: %d characters: %s", name, len(line), line)
			}
		}
		if list.Len() > 0 || !strings.Contains(text, "...") {
			t.Errorf("%s: the title is not cut: %s", name, found(list))
		}
	}
	f := load(t, tiny("longest_line: 80\n", strings.Repeat("x", 81)), "tiny")
	_, list := program(t, f, job, benchMoves()[3])
	if got := found(list); !strings.HasPrefix(got, `cubes.plan.yaml:23:5: a line of the program comes out 81 characters long, at most 80 fit: "xxx`) {
		t.Errorf("got %s", got)
	}
}

// tiny is a family that writes travels only.
func tiny(rules, travel string) fstest.MapFS {
	return fstest.MapFS{
		"family.yaml": {Data: []byte(`format: gridferry family 1
title: tiny
extension: .txt
decimals: {length: 1, angle: 1, time: 1, speed: 1, mass: 1}
speed_unit: mm/s
comment: none
coordinates: frame
rotation: fixed-xyz
cannot: {select: no, straight: no, grip: no, release: no, set: no, await: no, dwell: no, note: no}
` + rules)},
		"t.tmpl": {Data: []byte(`{{define "begin"}}{{.Title}}{{end}}{{define "end"}}{{end}}{{define "travel"}}` + travel + `{{end}}`)},
	}
}

func TestLineEndsAndBlanks(t *testing.T) {
	f := load(t, tiny("line_end: crlf\n", "a  \t\n\n  b"), "tiny")
	if text, _ := program(t, f, benchJob(), benchMoves()[3]); text != "a\r\n\r\n  b\r\n" {
		t.Errorf("got %q", text)
	}
}

func TestTemplateFailuresAreReportedOnce(t *testing.T) {
	f := load(t, tiny("", "\n{{index .X 99}}"), "tiny")
	m := benchMoves()[3]
	_, list := program(t, f, benchJob(), m, m, m)
	if got := found(list); list.Len() != 1 || !strings.HasPrefix(got, "tiny/t.tmpl:2:3: ") || !strings.Contains(got, "out of range") {
		t.Errorf("got %s", got)
	}
}

// writeTraced writes a program and reports which lines each move made.
func writeTraced(w io.Writer, f *blocks.Blocks, job move.Job, moves move.Seq, list *diag.List, trace func(m move.Move, first, last int)) error {
	return render.ProgramWith(w, f, job, move.Batched(moves), list, render.Options{
		Trace: func(m move.Move, _ string, first, last int) { trace(m, first, last) },
	})
}

func TestTracedNamesTheLinesOfEachMove(t *testing.T) {
	for _, name := range templates.Names() {
		f := shipped(t, name)
		moves := without(f, benchMoves())
		var out bytes.Buffer
		var list diag.List
		var traced []string
		next := 0
		err := writeTraced(&out, f, benchJob(), slices.Values(moves), &list, func(m move.Move, first, last int) {
			if m.N > 0 {
				traced = append(traced, fmt.Sprint(m.N))
			}
			silent := name == "iso6983" && m.Kind == move.Select // a new frame is none to base coordinates
			if first <= next || last < first && !silent && m.N > 0 {
				t.Errorf("%s: move %d has lines %d to %d after line %d", name, m.N, first, last, next)
			}
			next = last
		})
		if err != nil || len(traced) != len(moves) {
			t.Errorf("%s: %v, %d moves traced of %d", name, err, len(traced), len(moves))
		}
	}
	// Without a head the first line is the first move's; head and end wrote nothing.
	var got []int
	f := load(t, tiny("", "a\nb"), "tiny")
	var out bytes.Buffer
	moves := []move.Move{benchMoves()[3], benchMoves()[3]}
	if err := writeTraced(&out, f, benchJob(), slices.Values(moves), new(diag.List), func(_ move.Move, first, last int) { got = append(got, first, last) }); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(got, []int{1, 0, 1, 2, 3, 4, 5, 4}) {
		t.Errorf("lines %v of %q", got, out.String())
	}
}

func TestHeadingSaysBothEnds(t *testing.T) {
	text, _ := program(t, shipped(t, "listing"), benchJob(), benchMoves()...)
	heading := strings.Index(text, "Transfer 1: tray A1 to balance A1 (plan line 23)")
	first := strings.Index(text, "     4  Travel")
	if heading < 0 || first < heading || strings.Count(text, "Transfer 1") != 1 {
		t.Errorf("heading at %d, its first move at %d:\n%s", heading, first, text)
	}
	// A second grip on the way does not move the start.
	again := slices.Clone(benchMoves())
	i := slices.IndexFunc(again, func(m move.Move) bool { return m.Kind == move.Await })
	again[i] = move.Move{N: again[i].N, Transfer: 1, Kind: move.Grip, Target: move.Target{Pose: "clear"}}
	if text, _ = program(t, shipped(t, "listing"), benchJob(), again...); !strings.Contains(text, "Transfer 1: tray A1 to balance A1") {
		t.Errorf("regripping changed the heading:\n%s", text)
	}
	// A transfer that never grips, longer than is held back, has a heading all the same.
	moves := slices.Repeat([]move.Move{benchMoves()[3]}, 200)
	text, _ = program(t, shipped(t, "listing"), benchJob(), moves...)
	if !strings.Contains(text, "\nTransfer 1 (plan line 23)\n") || strings.Count(text, "Travel to") != 200 {
		t.Errorf("no heading or moves lost:\n%.2000s", text)
	}
}

// A controller that is not given another tool would drive it into something.
func TestToolChangeStopsWordAddressPrograms(t *testing.T) {
	job := benchJob()
	job.Tools = append(job.Tools, move.Tool{Number: 2, Name: "cup"})
	choose := func(tool string, number int) move.Move {
		return move.Move{Kind: move.Select, Frame: "base", FrameNumber: 1, Tool: tool, ToolNumber: number}
	}
	f := shipped(t, "iso6983")
	text, _ := program(t, f, job, choose("jaw", 1), choose("jaw", 1))
	if strings.Contains(text, "M0\n") {
		t.Errorf("stops for the same tool:\n%s", text)
	}
	text, _ = program(t, f, job, choose("jaw", 1), choose("cup", 2))
	if !strings.Contains(text, "(stop: set the offset of tool cup, then start again)\nN50 M0\n") {
		t.Errorf("does not stop for another tool:\n%s", text)
	}
}

func TestUnknownAcceleration(t *testing.T) {
	job := benchJob()
	job.Acceleration = 0
	text, _ := program(t, shipped(t, "st"), job)
	if !strings.Contains(text, "ACCELERATION : LREAL := 500.000;") || !strings.Contains(text, "the cell does not say: a cautious value, check it") {
		t.Errorf("got\n%s", text)
	}
}

func TestEmptyTitle(t *testing.T) {
	job := benchJob()
	job.Title = " \n"
	text, _ := program(t, shipped(t, "st"), job)
	if !strings.Contains(text, "\nPROGRAM cubes\n") || !strings.HasPrefix(text, "(* cubes *)\n") {
		t.Errorf("the file's name does not stand for the title:\n%.300s", text)
	}
}

// failing is a writer that fails.
type failing struct{}

var errFull = errors.New("the disk is full")

func (failing) Write([]byte) (int, error) { return 0, errFull }

func TestWriteErrorsAreReturned(t *testing.T) {
	err := render.Program(failing{}, shipped(t, "listing"), benchJob(), move.Batched(slices.Values(benchMoves())), new(diag.List))
	if !errors.Is(err, errFull) {
		t.Errorf("got %v", err)
	}
}
