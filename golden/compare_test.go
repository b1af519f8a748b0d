package golden

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/golden/corpus"
)

// sameFamilies are the families whose programs read back as moves.
var sameFamilies = []string{"listing", "iso6983", "st", "starter"}

// TestComparePlansWithTheirPrograms: every demo plan is the same as itself and as the
// program that every family writes of it, and so are two such programs.
func TestComparePlansWithTheirPrograms(t *testing.T) {
	t.Chdir(demoFolder)
	compared := 0
	for _, plan := range corpus.Plans(t, "") {
		sameAs(t, plan, plan)
		for _, family := range sameFamilies {
			written := run("write", plan, "--family", family, "-o", "-")
			if written.status != 0 || corpus.Long(plan) {
				continue // what a family cannot write, and what only takes long
			}
			compared++
			file := keep(t, written.stdout)
			sameAs(t, plan, file, "--family", family)
			sameAs(t, file, file, "--family", family, "--plan", plan)
		}
	}
	if compared < 14 {
		t.Errorf("only %d programs were compared", compared)
	}
}

func sameAs(t *testing.T, args ...string) {
	t.Helper()
	if r := run(append([]string{"compare"}, args...)...); r.status != 0 || !strings.Contains(r.stdout, "\nthe same: all ") {
		t.Errorf("%v: status %d\n%s%s", args, r.status, r.stdout, r.stderr)
	}
}

func keep(t *testing.T, text string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "program")
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return file
}

// TestCompareFindsWhatWasPlanted changes one thing in a plan or a program: that is
// told, and nothing else.
func TestCompareFindsWhatWasPlanted(t *testing.T) {
	t.Chdir(demoFolder)
	const plan = "mortar-cubes.plan.yaml"
	program := mustRun(t, "write", plan, "--family", "iso6983", "-o", "-")
	change := func(old, new string, times int) string {
		if strings.Count(program, old) < times {
			t.Fatalf("the program holds %q less than %d times", old, times)
		}
		return keep(t, strings.Replace(program, old, new, times))
	}
	tests := []struct {
		name string
		args []string
		want []string // every line between the heads and the verdict
	}{
		{"a point by hand", []string{plan, change("X299.598 Y-419.602 Z67.000", "X299.598 Y-419.602 Z66.500", 1), "--family", "iso6983"},
			[]string{"tray: moved by X +0.000, Y +0.000, Z -0.500 mm in base coordinates, in transfer 1"}},
		{"a feed by hand", []string{plan, change("F4800.0", "F600.0", 1), "--family", "iso6983"},
			[]string{"travel to clear: speed 80 mm/s becomes 10 mm/s, in transfer 1"}},
		{"a rapid by hand", []string{plan, change("G1 X299.598 Y-419.602 Z67.000 C0.573 F4800.0", "G0 X299.598 Y-419.602 Z67.000 C0.573", 1), "--family", "iso6983"},
			[]string{"straight to tray: straight becomes travel, in transfer 1"}},
		{"a wait by hand", []string{plan, change("G4 P2.000", "G4 P2.500", 1), "--family", "iso6983"},
			[]string{"dwell: time 2 s becomes 2.5 s, in transfer 1"}},
		{"a line that nobody reads", []string{plan, change("G4 P2.000", "G4 P2.000\nG92 X0", 1), "--family", "iso6983"},
			[]string{"a line that the family does not know: only in the second, in transfer 1"}},
		{"a clamp taken out", []string{plan, change("N110 M10\n", "", 1), "--family", "iso6983"},
			[]string{"grip at tray: only in the first, in transfer 1"}},
		{"a frame touched anew, in a text with few decimals", []string{plan, keep(t, mustRun(t, "write", plan, "--family", "listing", "-o", "-")), "--family", "listing",
			"--set", "cell.frames.bath.three_points.origin=[262, -460, 42]", "--set", "cell.frames.bath.three_points.along_x=[662, -456, 42]",
			"--set", "cell.frames.bath.three_points.toward_y=[260, -250, 42]"},
			[]string{"tray: moved by X -2.000, Y +0.000, Z +0.000 mm in base coordinates, 69 times, in transfers 1 to 45"}},
		{"another setting of the same plan", []string{plan, rewritten(t, plan, "first: [30, 30, 25]", "first: [30, 30, 26]")},
			[]string{"rack: moved by X +0.000, Y +0.000, Z +1.000 mm in base coordinates, 69 times, in transfers 2 to 46"}},
		{"an entry less", []string{plan, rewritten(t, plan, "    advance: part", "    take: 20\n    advance: part")},
			[]string{"only in the first: 6 transfers, from transfer 41, tray D4 to balance A1 up to transfer 46, balance A1 to rack D5"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := run(append([]string{"compare"}, tt.args...)...)
			lines := strings.Split(strings.TrimSpace(r.stdout), "\n")
			if r.status != 1 || len(lines) != len(tt.want)+3 {
				t.Fatalf("status %d\n%s%s", r.status, r.stdout, r.stderr)
			}
			for i, want := range tt.want {
				if !strings.HasPrefix(lines[2+i], want) {
					t.Errorf("told %q, wanted %q", lines[2+i], want)
				}
			}
		})
	}
}

// TestCompareInertia: a program with another moment of inertia, and one that was written from
// another cell, differ in that alone.
func TestCompareInertia(t *testing.T) {
	t.Chdir(demoFolder)
	const plan, what = "panels.plan.yaml", "a moment of inertia of the load, "
	program := mustRun(t, "write", plan, "--family", "st", "-o", "-")
	changed := strings.Replace(program, " 0.000420, ", " 0.000421, ", 1)
	if changed == program {
		t.Fatal("the program does not hold the tool's inertia about Y")
	}
	for _, tt := range []struct {
		args []string
		want string
	}{
		{[]string{keep(t, program), keep(t, changed)}, "select: " + what + "0.00042 kg·m² becomes 0.000421 kg·m², in transfer 1"},
		{[]string{plan, keep(t, program), "--set", "cell.tools.cups.inertia=[0.00028, 0.00045, 0.00027]"}, "select: " + what + "0.00045 to 0.000773 kg·m² becomes 0.00042 to 0.000743 kg·m², 19 times"},
	} {
		r := run(append([]string{"compare", "--family", "st"}, tt.args...)...)
		lines := strings.Split(r.stdout, "\n")
		if r.status != 1 || len(lines) < 4 || !strings.HasPrefix(lines[2], tt.want) {
			t.Errorf("%v: status %d\n%s%s\nwanted %q", tt.args, r.status, r.stdout, r.stderr, tt.want)
		}
		for _, line := range lines[2 : len(lines)-2] {
			if !strings.Contains(line, what) {
				t.Errorf("told %q", line)
			}
		}
	}
	if r := run("verify", keep(t, changed), "--plan", plan, "--family", "st"); r.status != 1 || !strings.Contains(r.stdout, "inertia_y is 0.0004210 kg·m² instead of 0.0004200") {
		t.Errorf("verify: status %d\n%s", r.status, r.stdout)
	}
}

// TestCompareGroups: the same plan with as many parts at once or with one, against programs too, has
// the same transfers, and a part of a group that goes elsewhere is told by its own.
func TestCompareGroups(t *testing.T) {
	t.Chdir(demoFolder)
	const plan = "tube-comb.plan.yaml" // 24 tubes, eight at once
	heads := func(other string) []string {
		return []string{"first:  " + plan + ", 24 transfers", "second: " + other + ", 24 transfers"}
	}
	alone := rewritten(t, plan, "at_once: 8", "at_once: 1")
	four := rewritten(t, plan, "at_once: 8", "at_once: 4")
	elsewhere := rewritten(t, plan, "from: rack, to: \"plate A1:H3\"", "from: rack, to: \"plate A1:H2, A4:H4\"")
	program := keep(t, mustRun(t, "write", plan, "--family", "listing", "-o", "-"))
	for _, tt := range []struct {
		other, want, last string
	}{
		{alone, "release: only in the first, 7 times, in transfer 1 ", "different: no transfer is alike, 24 are not"},
		{four, "straight to rack: only in the second, 3 times, in transfers 5 to 21 ", "different: 9 transfers are alike, 15 are not"},
		{elsewhere, "goes elsewhere: transfer 18, rack C2 to plate B3, now to plate B4 ", "different: 16 transfers are alike, 8 go elsewhere"},
		{program, "", "the same: all 24 transfers"},
	} {
		r := run("compare", plan, tt.other, "--family", "listing")
		lines := strings.Split(strings.TrimSpace(r.stdout), "\n")
		if !slices.Equal(lines[:2], heads(tt.other)) || !strings.Contains(r.stdout, "\n"+tt.want) || lines[len(lines)-1] != tt.last {
			t.Errorf("status %d\n%s%s\nwanted %q and %q", r.status, r.stdout, r.stderr, tt.want, tt.last)
		}
	}
	r := run("compare", program, keep(t, mustRun(t, "write", alone, "--family", "listing", "-o", "-")), "--family", "listing", "--plan", plan)
	if strings.Count(r.stdout, ", 24 transfers\n") != 2 {
		t.Errorf("programs: status %d\n%s%s", r.status, r.stdout, r.stderr)
	}
	// A prove-out grips nothing; the tubes of a descent are a transfer each all the same.
	if r := run("compare", plan, alone, "--prove-out"); strings.Count(r.stdout, ", 24 transfers\n") != 2 {
		t.Errorf("prove-outs: status %d\n%s%s", r.status, r.stdout, r.stderr)
	}
}

// TestCompareIDs: where both plans say which part is which, a slot that gets another one is told;
// a program has no ids, and where one plan has none nothing is said of them.
func TestCompareIDs(t *testing.T) {
	t.Chdir(demoFolder)
	const plan = "worklist.plan.yaml"
	renamed := edited(t, plan, fileEdit{"worklist-rack-1.csv", "A1,K001", "A1,K900"}, fileEdit{"worklist.csv", "K001;rack-1 A1", "K900;rack-1 A1"})
	swapped := edited(t, plan, fileEdit{"worklist-rack-1.csv", "A1,K001\nA2,K038", "A1,K038\nA2,K001"},
		fileEdit{"worklist.csv", "K001;rack-1 A1", "K038;rack-1 A1"}, fileEdit{"worklist.csv", "K038;rack-1 A2", "K001;rack-1 A2"})
	for _, tt := range []struct {
		other string
		want  []string
	}{
		{renamed, []string{`plate-1: id "K001" becomes "K900" at plate-1 A1, in transfer 1 `, "different: 383 transfers are alike, 1 is not"}},
		{swapped, []string{`plate-1: id "K001" becomes "K038" at plate-1 A1, in transfer 1 `, `plate-2: id "K038" becomes "K001" at plate-2 E3, in transfer 38 `, "different: 382 transfers are alike, 2 are not"}},
	} {
		r := run("compare", plan, tt.other)
		lines := strings.Split(strings.TrimSpace(r.stdout), "\n")
		if r.status != 1 || len(lines) != 2+len(tt.want) {
			t.Fatalf("status %d\n%s%s", r.status, r.stdout, r.stderr)
		}
		for i, want := range tt.want {
			if !strings.HasPrefix(lines[2+i], want) {
				t.Errorf("told %q, wanted %q", lines[2+i], want)
			}
		}
	}
	sameAs(t, renamed, keep(t, mustRun(t, "write", plan, "--family", "iso6983", "-o", "-")), "--family", "iso6983")
}

// rewritten is a plan of the demos with one change, beside the demos' cells.
func rewritten(t *testing.T, plan, old, new string) string {
	t.Helper()
	return edited(t, plan, fileEdit{plan, old, new})
}

// fileEdit is a change in a file.
type fileEdit struct{ file, old, new string }

// edited is a plan of the demos among copies of all files there, with changes in some of these.
func edited(t *testing.T, plan string, edits ...fileEdit) string {
	t.Helper()
	folder := t.TempDir()
	plans, err := filepath.Glob("*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	tables, err := filepath.Glob("*.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range append(plans, tables...) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		text := string(data)
		for _, e := range edits {
			if e.file == name {
				if !strings.Contains(text, e.old) {
					t.Fatalf("%s holds no %q", name, e.old)
				}
				text = strings.Replace(text, e.old, e.new, 1)
			}
		}
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(folder, plan)
}

// TestCompareOtherFamilies: two programs of one plan are the same in whatever both
// families tell.
func TestCompareOtherFamilies(t *testing.T) {
	t.Chdir(demoFolder)
	for _, plan := range []string{"mortar-cubes.plan.yaml", "two-jaws.plan.yaml"} { // and behind a change of tool by hand
		blocks := keep(t, mustRun(t, "write", plan, "--family", "iso6983", "-o", "-"))
		for _, family := range []string{"listing", "st", "starter"} {
			other := keep(t, mustRun(t, "write", plan, "--family", family, "-o", "-"))
			sameAs(t, other, blocks, "--family", family, "--family-b", "iso6983", "--plan", plan)
		}
	}
}

func TestCompareStatus(t *testing.T) {
	t.Chdir(demoFolder)
	const plan = "mortar-cubes.plan.yaml"
	words := keep(t, mustRun(t, "write", plan, "--family", "listing", "-o", "-"))
	blocks := keep(t, mustRun(t, "write", plan, "--family", "iso6983", "-o", "-"))
	prog := keep(t, mustRun(t, "write", plan, "--family", "starter", "-o", "-"))
	for _, tt := range []struct {
		args   []string
		status int
		want   string
	}{
		{[]string{plan}, 2, "wants 2 arguments"},
		{[]string{plan, words}, 2, "name its family with --family"},
		{[]string{plan, "missing.nc", "--family", "iso6983"}, 2, "missing.nc"},
		{[]string{"-", "-", "--family", "iso6983"}, 2, "standard input"},
		{[]string{plan, plan, "--format", "xml"}, 2, "--format"},
		{[]string{plan, plan, "--set", "grids.tray.rows=0"}, 1, "grids.tray.rows=0"},
		{[]string{prog, prog, "--family", "starter"}, 1, "in a frame that the program does not define"},
		{[]string{"mortar-cubes-scale.plan.yaml", blocks, "--family", "iso6983"}, 1, "does not write"},
		{[]string{words, plan, "--family", "loops"}, 2, "programs of this family cannot be read"},
		{[]string{plan, plan, "--format", "json"}, 0, ""},
	} {
		r := run(append([]string{"compare"}, tt.args...)...)
		if r.status != tt.status || !strings.Contains(r.stderr, tt.want) {
			t.Errorf("%v: status %d, wanted %d with %q\n%s%s", tt.args, r.status, tt.status, tt.want, r.stdout, r.stderr)
		}
	}
}

// TestCompareWithAFamilyThatCannotRead: two files in which the family finds no move are
// not the same, not even a file and itself; nothing but the error is told.
func TestCompareWithAFamilyThatCannotRead(t *testing.T) {
	t.Chdir(demoFolder)
	const plan = "mortar-cubes.plan.yaml"
	program := mustRun(t, "write", plan, "--family", "iso6983", "-o", "-")
	blocks := keep(t, program)
	changed := keep(t, strings.Replace(program, "G4 P2.000", "G4 P2.500", 1))
	steps := keep(t, mustRun(t, "write", plan, "--family", "st", "-o", "-"))
	empty, hello, note := keep(t, ""), keep(t, "hello"), keep(t, "(M10)\nG21\n")
	for _, tt := range []struct {
		name, a, b, family, familyB string
		misread                     string // the file that is told
	}{
		{"blocks as a listing", blocks, changed, "listing", "", blocks},
		{"blocks as st", blocks, changed, "st", "", blocks},
		{"blocks as starter", blocks, changed, "starter", "", blocks},
		{"st as blocks", steps, steps, "iso6983", "", steps},
		{"empty files", empty, empty, "iso6983", "", empty},
		{"a word", hello, hello, "iso6983", "", hello},
		{"a word in a listing", hello, hello, "listing", "", hello},
		{"comments and settings", note, note, "iso6983", "", note},
		{"the second alone", blocks, hello, "iso6983", "", hello},
		{"the second of another family", blocks, steps, "iso6983", "listing", steps},
		{"a plan and a word", plan, hello, "iso6983", "", hello},
	} {
		family := tt.family
		if tt.familyB != "" {
			family = tt.familyB
		}
		want := tt.misread + ": nothing in it reads as a program of the family \"" + family + "\": name its family with --family"
		for _, format := range []string{"text", "json"} {
			r := run("compare", tt.a, tt.b, "--family", tt.family, "--family-b", tt.familyB, "--format", format)
			if r.status != 1 || r.stdout != "" || !strings.Contains(r.stderr, want) || strings.Count(r.stderr, "\n") != 1 {
				t.Errorf("%s, %s: status %d, wanted 1 and %q alone\n%s%s", tt.name, format, r.status, want, r.stdout, r.stderr)
			}
		}
	}
}

// TestCompareLinesThatNobodyReads: such lines differ wherever they stand, unless both
// sides have the same ones.
func TestCompareLinesThatNobodyReads(t *testing.T) {
	t.Chdir(demoFolder)
	const plan, line = "mortar-cubes.plan.yaml", "a line that the family does not know"
	for _, family := range []string{"iso6983", "starter"} {
		program := mustRun(t, "write", plan, "--family", family, "-o", "-")
		ends := func(first, last string) string { return keep(t, first+"\n"+program+last+"\n") }
		plain, one := keep(t, program), ends("", "hello")
		sameAs(t, one, one, "--family", family, "--plan", plan)
		for _, other := range []string{plain, ends("", "world"), ends("hello", ""), ends("hello", "hello"), ends("", "hello\nhello")} {
			r := run("compare", one, other, "--family", family, "--plan", plan)
			if r.status != 1 || !strings.Contains(r.stdout, line) {
				t.Errorf("%s: status %d, wanted 1 and %q\n%s%s", family, r.status, line, r.stdout, r.stderr)
			}
		}
	}
}
