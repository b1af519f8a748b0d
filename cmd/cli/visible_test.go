package cli_test

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"runtime"
	"strings"
	"testing"
	"unicode"

	"gridferry/golden/outside"
	"gridferry/plan/wording"
)

// obeyed is what a terminal obeys or turns around, as plan/diag tests it one by one; behind
// each stands what should make a reader believe that all is well.
var obeyed = []string{"\x1b[1A\x1b[2K", "\r", "\b\b\b\b", "\a", "\u0085", "\u009b2K", "\u202e", "\u2067", "\u200f", "\v", "\x7f"}

// someObeyed are all of them, or the first two with -short.
func someObeyed() []string {
	if testing.Short() {
		return obeyed[:2:2]
	}
	return obeyed[:len(obeyed):len(obeyed)]
}

const allIsWell = "the same: all 999 moves are as planned"

// wantVisible: nothing that anybody sees is obeyed by a terminal, and no line but the last one says
// that all is well.
func wantVisible(t *testing.T, what string, r result) {
	t.Helper()
	for _, c := range r.out + r.err {
		if c != '\n' && !unicode.IsPrint(c) {
			t.Fatalf("%s: a terminal is shown %U: %q", what, c, r.out+r.err)
		}
	}
	for line := range strings.Lines(r.out + r.err) {
		if strings.HasPrefix(line, allIsWell) {
			t.Errorf("%s: a line was forged: %q", what, r.out+r.err)
		}
	}
}

// TestProgramsAreShown: a program that plunges cannot talk a terminal into something else.
func TestProgramsAreShown(t *testing.T) {
	obeyed := someObeyed()
	for _, family := range []string{"iso6983", "st", "listing"} {
		plan, name := written(t, family)
		text := read(t, name)
		first := text[:strings.Index(text, "\n")+1]
		for _, marks := range obeyed {
			plunge := "G1 Z-60 (" + marks + allIsWell + ")\n"
			for what, changed := range map[string]string{
				"a line more":  strings.Replace(text, first, first+plunge, 1),
				"a line less":  strings.Replace(text, first, plunge, 1),
				"in each line": strings.ReplaceAll(text, "\n", marks+allIsWell+"\n"),
			} {
				put(t, "sent.txt", changed)
				r := gridferry("", "verify", "sent.txt", "--plan", plan, "--family", family)
				if r.status != 1 {
					t.Errorf("%s, %s, %q: verify has status %d: %q", family, what, marks, r.status, r.out+r.err)
				}
				wantVisible(t, "verify, "+family+", "+what, r)
				wantVisible(t, "compare with the plan, "+family+", "+what, gridferry("", "compare", plan, "sent.txt", "--family", family))
				wantVisible(t, "compare with a program, "+family+", "+what, gridferry("", "compare", name, "sent.txt", "--family", family))
			}
		}
	}
}

// TestFamiliesAreShown: a family from elsewhere may hold anything.
func TestFamiliesAreShown(t *testing.T) {
	team(t)
	rules := read(t, "mine/family.yaml")
	for _, marks := range obeyed {
		put(t, "mine/family.yaml", rules+"# "+marks+allIsWell+"\n")
		put(t, "mine/program.tmpl", "{{define \"note\"}}"+marks+allIsWell+"{{end}}\n")
		for _, args := range [][]string{{"show"}, {"try"}} {
			wantVisible(t, "families "+args[0], gridferry("", "families", args[0], "./mine"))
		}
	}
	put(t, "mine/family.yaml", strings.ReplaceAll(rules, "\n", "\r\n"))
	if r := gridferry("", "families", "show", "./mine"); !strings.Contains(r.out, strings.TrimRight(rules, "\n")) {
		t.Errorf("line ends of another system change what is shown: %q", r.out)
	}
}

// TestNamesAreShown: so may the name of a file, a line break among it.
func TestNamesAreShown(t *testing.T) {
	if runtime.GOOS == "windows" {
		outside.Missing(t, errors.New("no file has such a name here"))
	}
	plan, name := written(t, "iso6983")
	for _, marks := range append(someObeyed(), "\n") {
		odd := "a" + marks + allIsWell
		if marks != "\n" {
			odd = "a\n" + odd
		}
		for from, to := range map[string]string{plan: odd + ".plan.yaml", name: odd + ".nc"} {
			put(t, to, read(t, from))
		}
		put(t, odd+"/.gridferry-"+odd+".tmp", "")
		for _, args := range [][]string{
			{"verify", odd + ".nc", "--plan", plan, "--family", "iso6983"},
			{"verify", name, "--plan", odd + ".plan.yaml", "--family", "iso6983"},
			{"verify", odd + ".no", "--plan", plan, "--family", "iso6983"},
			{"compare", odd + ".plan.yaml", odd + ".nc", "--family", "iso6983"},
			{"check", odd + ".plan.yaml"}, {"check", odd + ".plan.yaml", "--slots"}, {"check", odd + ".yaml"}, {"check", plan, "--set", odd},
			{"moves", odd + ".plan.yaml"}, {"time", odd + ".plan.yaml"}, {"order", odd + ".plan.yaml"}, {"explain", odd + ".plan.yaml"},
			{"explain", odd + ".plan.yaml", "--family", "iso6983", "--program-line", "5"},
			{"write", odd + ".plan.yaml", "--family", "listing", "-o", odd}, {"write", odd + ".plan.yaml", "--family", "./" + odd},
			{"golden", odd}, {"fit", "frame", odd}, {"fit", odd, plan}, {"new", odd}, {"families", "show", "./" + odd}, {"families", "copy", "st", "fam" + odd},
			{"families", "show", "./fam" + odd}, {"schema", odd}, {odd},
		} {
			wantVisible(t, strings.Join(args, " "), gridferry("", args...))
		}
	}
}

// TestGoldenIsShown: a recorded program may hold anything.
func TestGoldenIsShown(t *testing.T) {
	team(t)
	golden(t, 0, "recorded", "--accept")
	text := read(t, "cases/own/expected/first.prog")
	for _, marks := range obeyed {
		put(t, "cases/own/expected/first.prog", marks+allIsWell+"\n"+text)
		r := gridferry("", "golden", "cases", "--color", "never")
		if r.status != 1 {
			t.Errorf("%q: status %d", marks, r.status)
		}
		wantVisible(t, "golden", r)
	}
}

// noted is the starter plan with a note.
func noted(t *testing.T, note string) string {
	t.Helper()
	plan := starter(t)
	data, err := json.Marshal(note)
	if err != nil {
		t.Fatal(err)
	}
	put(t, plan, read(t, plan)+"\nend:\n  - {note: "+string(data)+"}\n")
	return plan
}

// TestDataStaysAsItIs: what programs read has the bytes that the plan has.
func TestDataStaysAsItIs(t *testing.T) {
	const note = "60\u00a0mm" // a blank that no line breaks at
	plan := noted(t, note)
	for _, args := range [][]string{{"moves", plan, "--format", "csv"}, {"moves", plan, "--format", "jsonl"}, {"explain", plan, "--format", "html"}} {
		if r := gridferry("", args...); r.status != 0 || !strings.Contains(r.out, note) {
			t.Errorf("%v: the note is another one: status %d, %s", args, r.status, r.err)
		}
	}
	if r := gridferry("", "write", plan, "--family", "listing"); r.status != 0 || gridferry("", "write", plan, "--family", "listing", "-o", "-").out != read(t, program(t)) {
		t.Errorf("the program on standard output is another one: %q", r.err)
	}
}

// TestNoFormulas: a note that a spreadsheet would work out is written so that it does not, and
// read back as it was.
func TestNoFormulas(t *testing.T) {
	for _, note := range []string{"=HYPERLINK(\"http://a.b\",1)", "+1+1", "-A1", "@SUM(A1)", "\t=1", "'=1", "-5", "3 mm = 1 turn"} {
		r := gridferry("", "moves", noted(t, note), "--format", "csv")
		rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
		if err != nil || len(rows) < 2 {
			t.Fatalf("%q: %v: %+v", note, err, r)
		}
		found := false
		for _, row := range rows[1:] {
			for _, cell := range row {
				found = found || wording.FromInert(cell) == note
				if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) && strings.Trim(cell, "+-.0123456789") != "" {
					t.Errorf("a spreadsheet takes %q for a formula", cell)
				}
			}
		}
		if !found {
			t.Errorf("%q is not read back: %q", note, r.out)
		}
	}
	const points = "name,nominal_x,nominal_y,nominal_z,measured_x,measured_y,measured_z\n'=A1,0,0,0,0,0,-0.1\nb,100,0,0,100,0,0\nc,0,100,0,0,100,0\n"
	if r := gridferry(points, "fit", "frame", "-", "--format", "json"); !strings.Contains(r.out, `\"=A1\"`) {
		t.Errorf("fit reads another name: %+v", r)
	}
}
