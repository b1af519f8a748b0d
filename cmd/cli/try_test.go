package cli_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"gridferry/gen/family/blocks"
	"gridferry/templates"
)

// Every shipped family can be tried as it is, with every kind of move that it
// writes, and nothing is left on the disk.
func TestTryShippedFamilies(t *testing.T) {
	t.Setenv("NO_COLOR", "1")
	t.Chdir(t.TempDir())
	for _, name := range templates.Names() {
		r := gridferry("", "families", "try", name)
		if r.status != 0 || !strings.Contains(strings.ToLower(r.out), "try-out (every kind of move)") && !strings.Contains(r.out, "Try-out [every kind of move]") {
			t.Errorf("%s: status %d\n%s%.200s", name, r.status, r.err, r.out)
		}
		for _, block := range []string{"travel", "straight", "grip", "release", "dwell", "note"} {
			if !strings.Contains(r.err, "block "+block+" ") || strings.Contains(r.err, "block "+block+"  unused") {
				t.Errorf("%s: nothing is said of %q\n%s", name, block, r.err)
			}
		}
	}
	if left := listing(t); len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}
}

// The authoring loop: copy, break, try, mend, try.
func TestTryTellsWhatIsWrong(t *testing.T) {
	plan := starter(t)
	if r := gridferry("", "families", "copy", "starter", "mine"); r.status != 0 || !strings.Contains(r.err, "gridferry families try ./mine") {
		t.Fatal(r.err)
	}
	file := "mine/program.tmpl"
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for old, c := range map[string]struct{ now, want string }{
		"dwell seconds={{.Seconds}}": {"dwell seconds={{.Sekunds}}", ":17: error: block \"dwell\" has no field \"Sekunds\" [unknown-field]"},
		`{{define "grip"}}`:          {`{{define "gripp"}}`, ":34:1: error: unknown block \"gripp\": Gridferry never writes it, and no other block uses it [unknown-block]"},
		"{{comment .Title}}":         {"{{coment .Title}}", "[unknown-function]"},
		"grip output={{.Signal}}":    {"grip output={{index .Level 99}}", "[template-failed]"},
	} {
		if strings.Count(string(whole), old) == 0 {
			t.Fatalf("the starter family holds no %q", old)
		}
		if err := os.WriteFile(file, []byte(strings.Replace(string(whole), old, c.now, 1)), 0o666); err != nil {
			t.Fatal(err)
		}
		r := gridferry("", "families", "try", "./mine", plan)
		if r.status != 1 || !strings.Contains(r.err, c.want) {
			t.Errorf("%s: status %d, %s", c.now, r.status, r.err)
		}
		if strings.Contains(c.want, "-failed") == (r.out == "") {
			t.Errorf("%s: a text comes out only where the family could run:\n%.100s", c.now, r.out)
		}
	}
	if err := os.WriteFile(file, whole, 0o666); err != nil {
		t.Fatal(err)
	}
	r := gridferry("", "families", "try", "./mine", plan)
	if r.status != 0 || !strings.Contains(r.err, "block set       not used: no move of this plan needs it") {
		t.Errorf("status %d, %s", r.status, r.err)
	}
}

func TestTryAsData(t *testing.T) {
	var trial struct {
		Text   string
		Blocks []struct {
			Block, State, Why string
			Times             int
		}
	}
	r := gridferry("", "families", "try", "iso6983", "--format", "json")
	if err := json.Unmarshal([]byte(r.out), &trial); err != nil || r.status != 0 {
		t.Fatal(err, r.err)
	}
	states := map[string]string{}
	for _, b := range trial.Blocks {
		states[b.Block] = b.State
		if (b.State == "written") != (b.Times > 0) || (b.State == "cannot") != (b.Why != "") {
			t.Errorf("%+v", b)
		}
	}
	if len(states) != len(blocks.OfMoves) || states["travel"] != "written" || states["set"] != "cannot" || states["call"] != "left out" || !strings.Contains(trial.Text, "G21\n") {
		t.Errorf("%v", states)
	}
}

func TestFieldsAsData(t *testing.T) {
	var fields []blocks.ViewField
	r := gridferry("", "families", "fields", "--format", "json")
	if err := json.Unmarshal([]byte(r.out), &fields); err != nil {
		t.Fatal(err)
	}
	seen := map[string]string{}
	for _, f := range fields {
		if f.Type == "" || f.Doc == "" || seen[f.Block+f.Name] != "" {
			t.Errorf("%+v", f)
		}
		seen[f.Block+f.Name] = f.Type + "; " + f.When
	}
	for field, want := range map[string]string{
		"travel.X": "a word; ", "travel.N": "a whole number; ", "travel.QW": "a word; rotation: quaternion", "dwell.Seconds": "a word; time_unit: s",
		"begin.Frames": "a list of items; ", "note.Lines": "a list, each a text; ", "entry of Tools.Mass": "a word; ", "straight.Stops": "a condition; ",
	} {
		if seen[field] != want {
			t.Errorf("%s is %q, want %q", field, seen[field], want)
		}
	}
	table := gridferry("", "families", "fields").out
	if n := strings.Count(table, "\n"); n != len(fields)+1 {
		t.Errorf("the table has %d lines for %d fields", n, len(fields))
	}
}

func TestMaxOutput(t *testing.T) {
	plan := starter(t)
	for _, c := range []struct {
		most   string
		status int
		want   string
	}{
		{"1KB", 1, "the program is longer than 1000 bytes [output-too-large]"},
		{"1MB", 0, "wrote "},
		{"0", 2, "wanted a size from 1 byte to 1000GB"},
		{"much", 2, "wanted a size"},
		{"9999GB", 2, "wanted a size"},
	} {
		r := gridferry("", "write", plan, "--family", "listing", "-o", "out", "--max-output", c.most)
		if r.status != c.status || !strings.Contains(r.err, c.want) {
			t.Errorf("%s: status %d, %s", c.most, r.status, r.err)
		}
		if _, err := os.Stat("out"); (err == nil) != (c.status == 0) {
			t.Errorf("%s: a folder is there: %v", c.most, err == nil)
		}
		os.RemoveAll("out")
	}
}

// All shipped families go into one folder: no two want the same file.
func TestAllFamiliesTogether(t *testing.T) {
	plan := starter(t)
	if r := gridferry("", "write", plan, "--family", "all", "-o", "out"); r.status != 0 {
		t.Fatalf("status %d, %s", r.status, r.err)
	}
}

// A template that runs and says something else than the moves is reported, with its text
// to look at.
func TestTryReadsBack(t *testing.T) {
	plan := starter(t)
	if r := gridferry("", "families", "copy", "starter", "mine"); r.status != 0 {
		t.Fatal(r.err)
	}
	whole, err := os.ReadFile("mine/program.tmpl")
	if err != nil {
		t.Fatal(err)
	}
	swapped := strings.Replace(string(whole), "x={{.X}} y={{.Y}}", "x={{.Y}} y={{.X}}", 1)
	if swapped == string(whole) {
		t.Fatal("the starter family writes its axes in another way")
	}
	if err := os.WriteFile("mine/program.tmpl", []byte(swapped), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"families", "try", "./mine"}, {"families", "try", "./mine", plan}} {
		r := gridferry("", args...)
		if r.status != 1 || !strings.Contains(r.err, "[read-back-differs]") || !strings.Contains(r.out, "travel x=") {
			t.Errorf("%q: status %d, %s%.300s", args, r.status, r.err, r.out)
		}
	}
}

// Try tells what no reading back would see: a family without "reads", a field that is
// read as anything, a frame beside points of the base.
func TestTryTellsWhatGoesUnseen(t *testing.T) {
	t.Chdir(t.TempDir())
	gridferry("", "families", "copy", "starter", "mine")
	whole, err := os.ReadFile("mine/family.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for old, c := range map[string]struct{ now, want string }{
		"dwell seconds={time}":      {"dwell seconds=.*", "dwell: time is not compared\n"},
		"speed={speed} fly_by=":     {"speed=.* fly_by=", "travel: speed is not compared\nstraight: speed is not compared\n"},
		"level={level}( seconds={t": {"level=[a-z]+( seconds={t", "await: level is not compared\n"},
		"reads:":                    {"", "warning: the family does not say how its lines read, so that its programs are not read back [no-read-back]"},
		"coordinates: frame":        {"coordinates: base", "[frame-beside-base]"},
	} {
		text := strings.ReplaceAll(string(whole), old, c.now)
		if old == "reads:" {
			text, _, _ = strings.Cut(string(whole), old) // and all that follows
		}
		if text == string(whole) {
			t.Fatalf("the starter family holds no %q", old)
		}
		if err := os.WriteFile("mine/family.yaml", []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		if r := gridferry("", "families", "try", "./mine"); r.status != 0 || !strings.Contains(r.err, c.want) {
			t.Errorf("%s: status %d, wanted %q in\n%s", old, r.status, c.want, r.err)
		}
	}
}
