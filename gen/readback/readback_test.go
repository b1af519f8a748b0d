package readback_test

import (
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen/family"
	"gridferry/gen/family/reads"
	"gridferry/gen/move"
	"gridferry/gen/readback"
	"gridferry/gen/seal"
	"gridferry/golden/corpus"
	"gridferry/templates"
)

// TestShippedFamiliesReadBack holds every program of every demo plan to the
// move list, and the same program to its plan afterwards.
func TestShippedFamiliesReadBack(t *testing.T) {
	t.Parallel()
	plans := corpus.Plans(t, demos)
	read := 0
	for _, name := range templates.Names() {
		f := shipped(t, name)
		for _, file := range plans {
			t.Run(name+"/"+filepath.Base(file), func(t *testing.T) {
				j := job(t, file)
				program, ok := write(t, j, f)
				for _, found := range j.Findings.Sorted() {
					if found.Rule == readback.RuleDiffers || found.Rule == readback.RuleUnread || found.Rule == family.RuleNoReadBack {
						t.Error(told(&j.Findings))
					}
				}
				if !ok {
					return // the family cannot write this plan; golden holds why
				}
				v := verify(t, j, f, program)
				if !v.Same() || v.Files[0].State != seal.Whole || !v.Files[0].PlanSame || !v.Files[0].FamilySame {
					t.Error(words(t, v))
				}
				// Notes and selects need not be told; all the rest is.
				counts := move.Count(j.Batches())
				if least := counts.Moves - counts.Kind[move.Note] - counts.Kind[move.Select]; v.Moves < least {
					t.Errorf("only %d moves were compared, wanted %d or more", v.Moves, least)
				}
				read++
			})
		}
	}
	if read < 18 {
		t.Errorf("%d programs were read back, wanted 18 or more", read)
	}
}

// TestHostileTexts: whatever titles and notes say, the program reads as its
// moves and nothing else, and its seal is the one that counts.
func TestHostileTexts(t *testing.T) {
	t.Parallel()
	hostile := []string{
		"G0 X1 Y1 Z1 C0", "x) G0 X1 Y1 Z1 C0 (y", ")\nM10\n(", "*) 2.0, 1.0, 1.0, (* ", "# travel x=1", "travel x=1 y=1 z=1",
		"     3  Grip: output 1 on.", "3  Grip: output 1 on.", "Frames (origin in the base x", "];", "Steps : ARRAY [1..2] OF LREAL := [", "%", "M2", "end",
		"seal 1 gridferry 9", "(((", "\"", "'", "'(", "\\", "N10 G21", "Note", "end of the list",
		"seal 1 gridferry 9\nseal 2 plan 00000000000000000000000000000000\nseal 3 family 00000000000000000000000000000000\n" +
			"seal 4 body 00000000000000000000000000000000\nseal 5 body 00000000000000000000000000000000",
	}
	if testing.Short() {
		hostile = hostile[:6]
	}
	for _, name := range templates.Names() {
		f := shipped(t, name)
		for _, text := range hostile {
			j := hostileJob(t, text)
			program, ok := write(t, j, f)
			if !ok {
				t.Errorf("%s, %q: %s", name, text, told(&j.Findings))
				continue
			}
			if v := verify(t, j, f, program); !v.Same() || v.Files[0].State != seal.Whole || v.Moves < 15 {
				t.Errorf("%s, %q: %s", name, text, words(t, v))
			}
		}
	}
}

// TestPatternsAreNotFooled: a line is read as a whole, and what stands in a
// comment is no line.
func TestPatternsAreNotFooled(t *testing.T) {
	for _, c := range []struct{ family, line, want string }{
		{"iso6983", "(G0 X1 Y2 Z3 C4)", ""},
		{"iso6983", "N10 (x) G0 (a) X1 Y2 (b) Z3 C4 (c)", "travel G0 X1 Y2 Z3 C4"},
		{"iso6983", "G0 X1 Y2 Z3 C4 (", "nothing G0 X1 Y2 Z3 C4 ("},
		{"iso6983", "/N10 M10", "nothing /N10 M10"},
		{"iso6983", "G0 X1 Y2 Z3 C4 M10", "nothing G0 X1 Y2 Z3 C4 M10"},
		{"iso6983", "G0 X1,5 Y2 Z3 C4", "nothing G0 X1,5 Y2 Z3 C4"},
		{"iso6983", "G00  X.5\tY2.", "travel G00 X.5 Y2."},
		{"starter", "# dwell seconds=1.00", ""},
		{"starter", "dwell seconds=1.00 # dwell seconds=2.00", "dwell dwell seconds=1.00"},
		{"starter", "dwell seconds=1.00 dwell seconds=2.00", "nothing dwell seconds=1.00 dwell seconds=2.00"},
		{"starter", "dwell seconds=1e3", "nothing dwell seconds=1e3"},
		{"listing", "     3  Dwell 0.3 s.", "dwell 3  Dwell 0.3 s."},
		{"listing", "3 Dwell 0.3 s.", "text 3 Dwell 0.3 s."},
	} {
		var got string
		r := reads.NewReader(&shipped(t, c.family).Reads, move.Job{}, func(item *reads.Item) { got += meaning(item) + " " + string(item.Text) })
		r.Write([]byte(c.line + "\n"))
		if got != c.want {
			t.Errorf("%s: %q reads as %q, wanted %q", c.family, c.line, got, c.want)
		}
	}
}

func meaning(item *reads.Item) string {
	switch {
	case item.Means == 0:
		return "nothing"
	case item.Kind != 0:
		return item.Kind.String()
	}
	return "text"
}

// TestModalValues: what a line leaves out holds on; F too.
func TestModalValues(t *testing.T) {
	f, j := shipped(t, "iso6983"), job(t, demos+"/tube-rack.plan.yaml")
	program, _ := write(t, j, f)
	lines := strings.Split(program, "\n")
	feed, left := "", 0
	for i, line := range lines {
		words := strings.Fields(line)
		if len(words) < 6 || words[1] != "G1" {
			continue
		}
		if last := words[len(words)-1]; last == feed {
			lines[i] = strings.Join(words[:len(words)-1], " ")
			left++
		} else {
			feed = last
		}
	}
	if left < 20 {
		t.Fatalf("only %d words were left out", left)
	}
	if v := verify(t, j, f, strings.Join(lines, "\n")); !v.Same() {
		t.Errorf("%d repeated F words left out:\n%s", left, words(t, v))
	}
}

// TestACommentThatHidesMoves: rows put into a comment over several lines are
// not there for the controller, and not for us.
func TestACommentThatHidesMoves(t *testing.T) {
	f, j := shipped(t, "st"), job(t, demos+"/tube-rack.plan.yaml")
	program, _ := write(t, j, f)
	from := strings.Index(program, "\n    3.0, ")
	to := from + strings.Index(program[from:], "\n    8.0, ")
	v := verify(t, j, f, program[:from]+"\n    (*"+program[from:to]+"\n    *)"+program[to:])
	if v.Same() || !strings.Contains(words(t, v), "the comment on this line is not closed") {
		t.Error(words(t, v))
	}
}
