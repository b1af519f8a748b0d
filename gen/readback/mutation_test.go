package readback_test

import (
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/templates"
)

// matters tells which bytes of a line a machine, or a person at the bench, acts
// on. It is written down here from what the families' texts mean, not from what
// family.yaml says about reading them.
var matters = map[string]func(line string) (from, to int){
	"iso6983": func(line string) (int, int) {
		if strings.HasPrefix(line, "(") || line == "%" {
			return 0, 0
		}
		return strings.Index(line, " ") + 1, len(line) // behind the block number
	},
	"starter": func(line string) (int, int) {
		code, _, _ := strings.Cut(line, "#")
		return 0, len(strings.TrimRight(code, " "))
	},
	"listing": func(line string) (int, int) {
		if strings.HasPrefix(line, "seal ") {
			return 0, 0
		}
		if m := regexp.MustCompile(`^ *[0-9]+  `).FindString(line); m != "" {
			code, _, _ := strings.Cut(line, " (") // the gripper's name, for people: the output or the input tells which
			return len(m), len(code)
		}
		return 0, len(line)
	},
	"st": func(line string) (int, int) {
		code, _, _ := strings.Cut(line, "(*")
		return 0, len(strings.TrimRight(code, " "))
	},
}

// postures are families in testdata whose programs say how the arm stands.
var postures = []string{"knuckles", "stance"}

func init() {
	for _, name := range postures {
		matters[name] = func(line string) (int, int) {
			code, _, _ := strings.Cut(line, "#")
			if strings.HasPrefix(code, "way ") {
				return 0, 0 // the program's name, for people
			}
			return 0, len(strings.TrimRight(code, " "))
		}
	}
}

// stColumns is the columns that the loop of the Structured Text looks at, by the
// kind in the first one.
var stColumns = map[string][]int{
	"1.0": {0, 1, 2, 3, 4, 5, 6, 7, 8, 12, 15}, "2.0": {0, 3, 4, 5, 6, 7, 8, 9}, "3.0": {0, 3, 4, 5, 6, 7, 8, 9},
	"4.0": {0, 11, 12}, "5.0": {0, 11, 12}, "6.0": {0, 11, 12}, "7.0": {0, 11, 12, 13}, "8.0": {0, 13}, "9.0": {0}, "0.0": {0},
}

// actedOn reports whether somebody or something acts on the byte at i.
func actedOn(family, line string, i int) bool {
	from, to := matters[family](line)
	if i < from || i >= to {
		return false
	}
	if columns := strings.Split(line[:to], ","); family == "st" && len(columns) >= 16 {
		column := strings.Count(line[:i], ",")
		for _, c := range stColumns[strings.TrimSpace(columns[0])] {
			if c == column {
				return true
			}
		}
		return false
	}
	return true
}

// mutation is one change to one line, and what to call it.
type mutation struct {
	name string
	make func(r *rand.Rand, family, line string) (string, bool)

	without map[string]bool // families in whose text there is no such thing
}

var mutations = []mutation{
	{name: "a digit", make: func(r *rand.Rand, family, line string) (string, bool) {
		i := r.IntN(len(line))
		if line[i] < '0' || line[i] > '9' || !actedOn(family, line, i) {
			return line, false
		}
		return line[:i] + string('0'+(line[i]-'0'+1+byte(r.IntN(9)))%10) + line[i+1:], true
	}},
	{name: "a sign", make: func(r *rand.Rand, family, line string) (string, bool) {
		at := regexp.MustCompile(`-?[0-9]+\.[0-9]+`).FindAllStringIndex(line, -1)
		if len(at) == 0 {
			return line, false
		}
		span := at[r.IntN(len(at))]
		number := line[span[0]:span[1]]
		if !actedOn(family, line, span[0]) || strings.Trim(number, "-0.") == "" {
			return line, false // there is no other zero
		}
		if strings.Trim(number, "-.0") == "18" && family != "iso6983" {
			return line, false // half a turn either way is the same pose
		}
		if strings.HasPrefix(number, "-") {
			return line[:span[0]] + number[1:] + line[span[1]:], true
		}
		return line[:span[0]] + "-" + number + line[span[1]:], true
	}},
	{name: "a level", without: map[string]bool{"st": true}, make: func(_ *rand.Rand, family, line string) (string, bool) {
		for _, pair := range [][2]string{{"level=on", "level=off"}, {"level=off", "level=on"}, {"on (", "off ("}, {"off (", "on ("}, {"on.", "off."}, {"off.", "on."}, {"M10", "M11"}, {"M11", "M10"},
			{"take 1 on", "take 1 off"}, {"give 1 off", "give 1 on"}} {
			if i := strings.Index(line, pair[0]); i >= 0 && actedOn(family, line, i) {
				return strings.Replace(line, pair[0], pair[1], 1), true
			}
		}
		return line, false
	}},
	{name: "a line less", make: func(_ *rand.Rand, family, line string) (string, bool) {
		from, to := matters[family](line)
		return "", strings.TrimSpace(line[from:to]) != ""
	}},
	{name: "a line twice", make: func(_ *rand.Rand, family, line string) (string, bool) {
		from, to := matters[family](line)
		return line + "\n" + line, strings.TrimSpace(line[from:to]) != ""
	}},
	{name: "a line that is a remark now", without: map[string]bool{"listing": true}, make: func(_ *rand.Rand, family, line string) (string, bool) {
		marks, ok := map[string][2]string{"iso6983": {"(", ")"}, "starter": {"#", ""}, "st": {"(*", "*)"}, "knuckles": {"#", ""}, "stance": {"#", ""}}[family]
		from, to := matters[family](line)
		return marks[0] + line[:to] + marks[1], ok && strings.TrimSpace(line[from:to]) != ""
	}},
}

// TestMutations plants single faults all over programs; verify has to notice
// every one of them.
func TestMutations(t *testing.T) {
	t.Parallel()
	for _, name := range templates.Names() {
		if matters[name] == nil {
			t.Errorf("nobody says what matters in the text of family %s", name)
			continue
		}
		f := shipped(t, name)
		long, small := 8, 60
		if testing.Short() {
			long, small = 1, 10
		}
		plant(t, f, job(t, demos+"/tube-rack.plan.yaml"), long)
		plant(t, f, hostileJob(t, "two pegs"), small)
	}
}

// TestMutationsOfPostures does the same to programs that say how the arm stands.
func TestMutationsOfPostures(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: other families stand for them")
	}
	t.Parallel()
	long := 60
	if testing.Short() {
		long = 5
	}
	for _, name := range postures {
		plant(t, load(t, os.DirFS("../../testdata/families/"+name), name), job(t, demos+"/mortar-cubes.plan.yaml"), long)
	}
}

// TestMutationsOfAStopForAPerson: a program that does not stop where a person changes the tool, or
// stops where nobody does, is another program.
func TestMutationsOfAStopForAPerson(t *testing.T) {
	t.Parallel()
	j := job(t, demos+"/lids.plan.yaml")
	for name, stop := range map[string][2]string{
		"listing": {"Stop: fit hook, then go on. Select", "Select"},
		"starter": {"stop # fit hook\n", ""},
		"st":      {"0.0, 1.0,      0.0, 0.0,   0.250, (* 169", "0.0, 0.0,      0.0, 0.0,   0.250, (* 169"},
	} {
		f := shipped(t, name)
		program, ok := write(t, j, f)
		if !ok || strings.Count(program, stop[0]) != 1 {
			t.Fatalf("%s: %q stands in the program %d times, wanted once: %v", name, stop[0], strings.Count(program, stop[0]), told(&j.Findings))
		}
		for _, changed := range []string{
			strings.Replace(program, stop[0], stop[1], 1),
			map[string]string{
				"listing": strings.Replace(program, "  Select frame", "  Stop: fit hook, then go on. Select frame", 1),
				"starter": strings.Replace(program, "\nselect", "\nstop # fit hook\nselect", 1),
				"st":      strings.Replace(program, "\n    1.0, 1.0, 1.0,      0.000,      0.000,     62.000,  0.000000,  0.000000,  0.000000,       0.0,      0.0,    0.0, 0.0,", "\n    1.0, 1.0, 1.0,      0.000,      0.000,     62.000,  0.000000,  0.000000,  0.000000,       0.0,      0.0,    0.0, 1.0,", 1),
			}[name],
		} {
			if changed == program {
				t.Errorf("%s: nothing was changed", name)
			} else if v := verify(t, j, f, changed); v.Same() {
				t.Errorf("%s: a stop for a person more or less goes unseen", name)
			}
		}
	}
}

// plant makes so many faults of each sort, one at a time.
func plant(t *testing.T, f *family.Family, j *gen.Job, each int) {
	t.Helper()
	program, ok := write(t, j, f)
	if !ok {
		t.Fatal(told(&j.Findings))
	}
	lines := strings.Split(program, "\n")
	r := rand.New(rand.NewPCG(6983, 1))
	for _, m := range mutations {
		made := 0
		for tries := 0; made < each && tries < 20_000; tries++ {
			at := r.IntN(len(lines))
			if lines[at] == "" || strings.Contains(lines[at], "seal ") {
				continue
			}
			changed, ok := m.make(r, f.Label, lines[at])
			if !ok || changed == lines[at] {
				continue
			}
			made++
			all := slices.Clone(lines)
			if all[at] = changed; changed == "" {
				all = slices.Delete(all, at, at+1)
			}
			if v := verify(t, j, f, strings.Join(all, "\n")); v.Same() {
				t.Errorf("%s, %s: line %d %q in place of %q goes unseen", f.Label, m.name, at+1, changed, lines[at])
			}
		}
		if made < each && !m.without[f.Label] {
			t.Errorf("%s: %s was planted %d times, wanted %d", f.Label, m.name, made, each)
		}
	}
}

// TestOneLineLessIsOneDifference: what stands behind it is found again, after a
// line, a transfer or several.
func TestOneLineLessIsOneDifference(t *testing.T) {
	f, j := shipped(t, "starter"), job(t, demos+"/mortar-cubes.plan.yaml")
	program, _ := write(t, j, f)
	lines := strings.SplitAfter(program, "\n")
	for _, less := range []int{1, 2, 7, 18, 40, 150} {
		for _, at := range []int{12, 100, 333, 600} {
			v := verify(t, j, f, strings.Join(lines[:at], "")+strings.Join(lines[at+less:], ""))
			gone := 0
			for _, line := range lines[at : at+less] {
				if !strings.HasPrefix(line, "#") {
					gone++
				}
			}
			if v.Missing != gone || v.Changed != 0 || v.Extra != 0 || v.Others != 0 {
				t.Errorf("%d lines less from line %d on:\n%s", less, at+1, words(t, v))
			}
		}
	}
}

// TestFolds: a change that runs through a program is told once.
func TestFolds(t *testing.T) {
	f, j := shipped(t, "starter"), job(t, demos+"/mortar-cubes.plan.yaml")
	program, _ := write(t, j, f)
	v := verify(t, j, f, strings.ReplaceAll(program, "speed=80.0", "speed=60.0"))
	if len(v.Differences) != 1 || v.Differences[0].Times != 185 || v.Changed != 185 {
		t.Errorf("wanted one difference 185 times:\n%s", words(t, v))
	}
	if text := words(t, v); !strings.Contains(text, "speed is 60.0000 mm/s instead of 80.0000 mm/s (-20.0000)") {
		t.Errorf("the words are\n%s", text)
	}
}
