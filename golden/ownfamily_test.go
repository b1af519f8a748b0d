package golden

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// edit is one change of a file: the text goes, another comes. Without a text the
// other one is put behind the file's end.
type edit struct{ gone, come string }

// parts is what a family needs that writes programs in several files.
const parts = "{{define \"call\"}}\ncall\n{{end}}\n{{define \"part\"}}\npart\n{{end}}\n{{define \"part-end\"}}\npart-end\n{{end}}\n"

// ownFamilies breaks what only a family of one's own can ask for: the starter,
// changed, and the starter plan.
var ownFamilies = []struct {
	rule      string
	rules     []edit // of family.yaml
	templates string // behind the templates
	args      []string
}{
	{"figure-too-wide", []edit{{"", "numbers: {width: {length: 6}}\n"}}, "", nil},
	{"letter-not-allowed", []edit{{"", "letters: \"A-Za-z0-9_=#.\"\n"}}, "", nil}, // no minus
	{"rounds-too-coarsely", []edit{{"length: 3,", "length: 1,"}, {"", "length_unit: inch\n"}}, "", nil},
	{"rounds-too-coarsely", []edit{{"length: 3,", "length: 1,"}, {"", "length_unit: inch\n"}}, "", []string{"--prove-out"}},
	{"rounds-too-coarsely", []edit{{"length: 3,", "length: 1,"}, {"", "length_unit: inch\n"}}, "", []string{"--from", "2"}},
	{"machine-speed-unknown", []edit{{"speed_unit: mm/s", "speed_unit: percent"}}, "", []string{"--set", "cell.machine={rated_load: 3}"}},
	{"line-too-long", []edit{{"longest_line: 120", "longest_line: 40"}}, "", nil},
	{"transfer-too-long", []edit{{"longest_line: 120", "longest_line: 120\nmost_lines: 50"}}, parts,
		[]string{"--set", "transfers.1.to={grid: rack, then: [" + strings.Repeat("{note: look}, ", 60) + "{note: done}]}"}},
	{"too-many-parts", []edit{{"longest_line: 120", "longest_line: 120\nmost_lines: 50"}}, parts,
		[]string{"--set", "grids.tray.rows=15", "--set", "grids.rack.rows=15", "--set", "cell.machine={rated_load: 3}",
			"--set", "transfers.1.to={grid: rack, then: [" + strings.Repeat("{note: look}, ", 17) + "{note: done}]}"}},
	{"output-too-large", nil, "", []string{"--max-output", "1kB"}},
	{"name-not-unique", []edit{{"letters: A-Za-z0-9_, replace: _,", "letters: A-Za-z, replace: \"\","}}, // tray A1 and tray A2 are both traya
		"{{define \"transfer\"}}\n{{comment (name .From)}}\n{{end}}\n", nil},
	{"template-failed", nil, "{{define \"dwell\"}}\n{{slice .Seconds 99}}\n{{end}}\n", nil},
}

// TestRulesOfOwnFamilies: each of these families is refused while it writes, with one
// rule, and no program comes out.
func TestRulesOfOwnFamilies(t *testing.T) {
	for _, c := range ownFamilies {
		t.Run(c.rule, func(t *testing.T) {
			t.Chdir(t.TempDir())
			mustRun(t, "new")
			mustRun(t, "families", "copy", "starter", "mine")
			change(t, "mine/family.yaml", c.rules)
			if c.templates != "" {
				replaceBlocks(t, c.templates)
			}
			r := run(append([]string{"write", "first.plan.yaml", "--family", "./mine", "-o", "-", "--format", "json"}, c.args...)...)
			if found := errorsIn(t, r.stderr); !slices.Equal(found, []string{c.rule}) || r.status != 1 || r.stdout != "" {
				t.Errorf("status %d with %v and %d bytes of program, wanted %s alone\n%s", r.status, found, len(r.stdout), c.rule, r.stderr)
			}
		})
	}
}

// warnedFamilies is what a family of one's own is warned of: the starter, changed as a
// bad example and as a good one, and the starter plan.
var warnedFamilies = []struct {
	rule      string
	bad, good []edit // of family.yaml
	args      []string
}{
	{"speed-cut-short",
		[]edit{{"speed_unit: mm/s", "speed_unit: m/s"}},
		[]edit{{"speed_unit: mm/s", "speed_unit: m/s"}, {"speed: 1,", "speed: 3,"}},
		[]string{"--set", "motion.speed.travel=250", "--set", "motion.speed.near=100"}},
	{"frame-beside-base", []edit{{"coordinates: frame", "coordinates: base"}}, nil, nil},
}

// TestWarningsOfOwnFamilies: the bad example is written, with that one warning; the good
// one without.
func TestWarningsOfOwnFamilies(t *testing.T) {
	for _, c := range warnedFamilies {
		t.Run(c.rule, func(t *testing.T) {
			t.Chdir(t.TempDir())
			mustRun(t, "new")
			for name, edits := range map[string][]edit{"bad": c.bad, "good": c.good} {
				mustRun(t, "families", "copy", "starter", name)
				change(t, name+"/family.yaml", edits)
				r := run(append([]string{"write", "first.plan.yaml", "--family", "./" + name, "-o", "-", "--format", "json"}, c.args...)...)
				warned := strings.Count(r.stderr, `"`+c.rule+`"`)
				if r.status != 0 || r.stdout == "" || (warned == 1) != (name == "bad") || warned > 1 {
					t.Errorf("%s: status %d, %d warnings\n%s", name, r.status, warned, r.stderr)
				}
			}
		})
	}
}

func change(t *testing.T, file string, edits []edit) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for _, e := range edits {
		switch {
		case e.gone == "":
			text += e.come
		case !strings.Contains(text, e.gone):
			t.Fatalf("%s holds no %q", file, e.gone)
		default:
			text = strings.Replace(text, e.gone, e.come, 1)
		}
	}
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

// replaceBlocks puts blocks into the family, in place of those of the same name.
func replaceBlocks(t *testing.T, blocks string) {
	t.Helper()
	files, err := filepath.Glob("mine/*.tmpl")
	if err != nil || len(files) == 0 {
		t.Fatalf("no templates: %v", err)
	}
	if strings.Contains(blocks, `define "dwell"`) {
		data, err := os.ReadFile(files[0])
		if err != nil {
			t.Fatal(err)
		}
		_, block, _ := strings.Cut(string(data), `{{define "dwell"}}`)
		block, _, _ = strings.Cut(block, "{{end}}")
		change(t, files[0], []edit{{`{{define "dwell"}}` + block + "{{end}}", ""}})
	}
	change(t, files[0], []edit{{"", blocks}})
}

// errorsIn is the rules of the errors in a list of findings, each once.
func errorsIn(t *testing.T, text string) []string {
	t.Helper()
	var found []finding
	if err := json.Unmarshal([]byte(text), &found); err != nil {
		t.Fatal(fmt.Errorf("%w: %s", err, text))
	}
	var rules []string
	for _, f := range found {
		if f.Severity == "error" && !slices.Contains(rules, f.Rule) {
			rules = append(rules, f.Rule)
		}
	}
	return rules
}
