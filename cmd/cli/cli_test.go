package cli_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/cmd/cli"
	"gridferry/gen"
	"gridferry/gen/move"
	"gridferry/templates"
)

// result is what one command line gives.
type result struct {
	status   int
	out, err string
}

func gridferry(stdin string, args ...string) result {
	var out, errs bytes.Buffer
	status := cli.Main(args, strings.NewReader(stdin), &out, &errs)
	return result{status, out.String(), errs.String()}
}

// starter puts the starter plan into a new folder and goes there.
func starter(t *testing.T) string {
	t.Helper()
	t.Setenv("NO_COLOR", "")
	t.Chdir(t.TempDir())
	if r := gridferry("", "new"); r.status != 0 {
		t.Fatal(r.err)
	}
	return "first.plan.yaml"
}

// listing is the names of the files below the present folder.
func listing(t *testing.T) []string {
	t.Helper()
	var names []string
	err := filepath.WalkDir(".", func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			names = append(names, filepath.ToSlash(path))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

func TestNewWorksAsItIs(t *testing.T) {
	plan := starter(t)
	if got := listing(t); !slices.Equal(got, []string{"bench.cell.yaml", "first.plan.yaml"}) {
		t.Fatalf("new wrote %v", got)
	}
	r := gridferry("", "check", plan)
	if r.status != 0 || r.out != "" || strings.Contains(r.err, "warning") || !strings.Contains(r.err, "no error in") {
		t.Errorf("check of the starter plan: %+v", r)
	}
	if r := gridferry("", "write", plan, "--family", "all", "-o", "out"); r.status != 0 {
		t.Errorf("write of the starter plan: %+v", r)
	}
	if got := listing(t); len(got) != 2+len(templates.All()) {
		t.Errorf("write --family all left %v, wanted a program for each of %v", got, templates.All())
	}
}

func TestNewOverwritesNothing(t *testing.T) {
	plan := starter(t)
	if err := os.WriteFile(plan, []byte("mine\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove("bench.cell.yaml"); err != nil {
		t.Fatal(err)
	}
	r := gridferry("", "new")
	if r.status != 1 || !strings.Contains(r.err, "first.plan.yaml is there already") {
		t.Errorf("new over a file: %+v", r)
	}
	if got := listing(t); !slices.Equal(got, []string{plan}) {
		t.Errorf("new wrote although it failed: %v", got)
	}
	if data, _ := os.ReadFile(plan); string(data) != "mine\n" {
		t.Errorf("new changed a file: %q", data)
	}
	if r := gridferry("", "new", "deep/er"); r.status != 0 || !slices.Contains(listing(t), "deep/er/bench.cell.yaml") {
		t.Errorf("new in a folder that is not there: %+v", r)
	}
}

func TestExitStatuses(t *testing.T) {
	plan := starter(t)
	if err := os.Mkdir("folder", 0o777); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		status int
		says   string // on standard error
		args   []string
	}{
		{0, "", []string{}},
		{0, "", []string{"--help"}},
		{0, "", []string{"help", "write"}},
		{0, "no error", []string{"check", plan}},
		{0, "[near-over-travel]", []string{"check", plan, "--set", "motion.speed.near=300", "--set", "motion.speed.travel=250"}}, // a warning
		{1, "[not-whole-number]", []string{"check", plan, "--set", "grids.tray.rows=1.5"}},
		{1, "[not-whole-number]", []string{"moves", plan, "--set", "grids.tray.rows=1.5"}},
		{1, "[not-whole-number]", []string{"write", plan, "--family", "st", "--set", "grids.tray.rows=1.5"}},
		{1, "[rated-load-exceeded]", []string{"write", plan, "--family", "st", "--set", "parts.block.mass=50"}},
		{1, "[set-path]", []string{"check", plan, "--set", "grids.trey.rows=1"}},
		{2, "there is no command", []string{"chek", plan}},
		{2, "has no flag --fast", []string{"check", plan, "--fast"}},
		{2, "", []string{"check"}},
		{2, "", []string{"moves", plan, plan}},
		{2, "no such file", []string{"check", "nowhere.plan.yaml"}},
		{2, "there is no plan in", []string{"check", "folder"}},
		{2, "is a folder", []string{"moves", "folder"}},
		{2, "--format", []string{"check", plan, "--format", "xml"}},
		{2, "--format", []string{"moves", plan, "--format", "json"}},
		{2, "--color", []string{"check", plan, "--color", "maybe"}},
		{2, `has no "="`, []string{"check", plan, "--set", "grids.tray.rows"}},
		{2, "--limit", []string{"check", plan, "--limit", "0"}},
		{2, "family", []string{"write", plan}},
		{2, `did you mean "starter"`, []string{"write", plan, "--family", "startre"}},
		{2, "there is no family folder", []string{"write", plan, "--family", "./nowhere"}},
		{2, "standard output takes one", []string{"write", plan, "--family", "all", "-o", "-"}},
		{2, "", []string{"families", "show"}},
		{2, "no shipped family", []string{"families", "show", "nowhere"}},
		{2, "", []string{"version", "now"}},
	} {
		r := gridferry("", c.args...)
		if r.status != c.status || !strings.Contains(r.err, c.says) {
			t.Errorf("%v: status %d, wanted %d with %q; standard error %q", c.args, r.status, c.status, c.says, r.err)
		}
		if c.status == 2 && (r.out != "" || !strings.HasPrefix(r.err, "gridferry: ")) {
			t.Errorf("%v: wrong use writes %q to standard output and %q to standard error", c.args, r.out, r.err)
		}
		if c.status == 1 && r.out != "" {
			t.Errorf("%v: data came out beside the errors: %q", c.args, r.out)
		}
	}
	if got := listing(t); len(got) != 2 {
		t.Errorf("commands that failed left %v", got)
	}
}

func TestStandardInput(t *testing.T) {
	plan := starter(t)
	text, err := os.ReadFile(plan)
	if err != nil {
		t.Fatal(err)
	}
	direct, through := gridferry("", "moves", plan, "--format", "csv"), gridferry(string(text), "moves", "-", "--format", "csv")
	if through.status != 0 || through.out != direct.out {
		t.Errorf("the plan from standard input gives another list: %+v", through)
	}
	if r := gridferry("grids: 1\n", "check", "-"); r.status != 1 || !strings.Contains(r.err, "<stdin>:1:") {
		t.Errorf("a bad plan from standard input: %+v", r)
	}
	if r := gridferry(string(text), "write", "-", "--family", "starter", "-o", "out"); r.status != 0 || !slices.ContainsFunc(listing(t), func(name string) bool { return strings.HasPrefix(name, "out/plan.") }) {
		t.Errorf("a program from standard input: %+v, %v", r, listing(t))
	}
}

func TestStreamsAndQuiet(t *testing.T) {
	plan := starter(t)
	for _, c := range []struct {
		quiet    bool
		args     []string
		out, err bool // whether something is written there
	}{
		{false, []string{"check", plan}, false, true},
		{true, []string{"check", plan}, false, false},
		{false, []string{"moves", plan}, true, false},
		{false, []string{"write", plan, "--family", "st", "-o", "-"}, true, false},
		{false, []string{"write", plan, "--family", "st", "-o", "out"}, false, true},
		{true, []string{"write", plan, "--family", "st", "-o", "out"}, false, false},
		{false, []string{"families", "list"}, true, false},
		{false, []string{"families", "show", "st"}, true, false},
		{true, []string{"new", "quiet"}, false, false},
		{false, []string{"version"}, true, false},
		{false, []string{"check", plan, "--set", "motion.speed.near=300"}, false, true}, // a warning
		{true, []string{"check", plan, "--set", "motion.speed.near=300"}, false, false},
		{true, []string{"check", plan, "--set", "motion.speed.near=0"}, false, true}, // an error
	} {
		args := c.args
		if c.quiet {
			args = append([]string{"--quiet"}, args...)
		}
		r := gridferry("", args...)
		if (r.out != "") != c.out || (r.err != "") != c.err {
			t.Errorf("%v writes %q to standard output and %q to standard error", args, r.out, r.err)
		}
	}
}

// TestCheckEndsWithWhatItDidNotLookAt: where no error is claimed, in every form; --quiet
// takes it away.
func TestCheckEndsWithWhatItDidNotLookAt(t *testing.T) {
	plan := starter(t)
	const words = "not looked at: fingers (no tool body), joints (no arm), paths of travels (joint paths need an arm)\n"
	for _, args := range [][]string{{}, {"--slots"}, {"--format", "json"}} {
		if r := gridferry("", append([]string{"check", plan}, args...)...); r.status != 0 || !strings.HasSuffix(r.err, words) {
			t.Errorf("check %v: status %d, %q, wanted it to end with %q", args, r.status, r.err, words)
		}
	}
	r := gridferry("", "check", plan, "--slots", "--format", "json")
	var data struct {
		Unlooked []string `json:"not_looked_at"`
	}
	if err := json.Unmarshal([]byte(r.out), &data); err != nil || r.err != "" || "not looked at: "+strings.Join(data.Unlooked, ", ")+"\n" != words {
		t.Errorf("as data: %v, %q, %q", err, r.err, data.Unlooked)
	}
	if r := gridferry("", "check", plan, "--set", "motion.clear=claer"); strings.Contains(r.err, "not looked at") {
		t.Errorf("beside an error: %q", r.err)
	}
}

func TestColour(t *testing.T) {
	plan := starter(t)
	bad := []string{"check", plan, "--set", "grids.tray.rows=x"}
	colored := func(args ...string) bool {
		return strings.Contains(gridferry("", append(args, bad...)...).err, "\x1b[")
	}
	if colored() {
		t.Error("colours although standard error is no terminal")
	}
	if !colored("--color", "always") {
		t.Error("no colours with --color always")
	}
	if colored("--color", "never") {
		t.Error("colours with --color never")
	}
	t.Setenv("NO_COLOR", "1")
	if colored() || colored("--color", "auto") {
		t.Error("colours in spite of NO_COLOR")
	}
	if !colored("--color", "always") {
		t.Error("NO_COLOR outdoes --color always, which was asked for by name") // no-color.org: the command line stands above it
	}
}

func TestFindingsAsJSON(t *testing.T) {
	plan := starter(t)
	type one struct {
		File, Severity, Rule, Message, Hint string
		Line, Column                        int
	}
	parse := func(text string) (found []one) {
		t.Helper()
		if err := json.Unmarshal([]byte(text), &found); err != nil || found == nil {
			t.Errorf("%q is no list of findings: %v", text, err)
		}
		return found
	}
	if found := parse(gridferry("", "check", plan, "--format", "json").out); len(found) != 0 {
		t.Errorf("a sound plan has the findings %+v", found)
	}
	r := gridferry("", "check", plan, "--format", "json", "--set", "motion.clear=claer")
	found := parse(r.out)
	if r.status != 1 || r.err != "" || len(found) != 1 {
		t.Fatalf("%+v", r)
	}
	want := one{"--set[1]", "error", "unknown-name", `there is no pose "claer"`, `did you mean "clear"?`, 1, 14}
	if found[0] != want {
		t.Errorf("found %+v, wanted %+v", found[0], want)
	}
	r = gridferry("", "write", plan, "--family", "st", "-o", "-", "--format", "json", "--set", "motion.clear=claer")
	if found := parse(r.err); r.status != 1 || r.out != "" || len(found) != 1 || found[0] != want {
		t.Errorf("write to standard output: %+v", r)
	}
}

func TestWriteReplacesWholeOrNothing(t *testing.T) {
	plan := starter(t)
	if r := gridferry("", "write", plan, "--family", "iso6983"); r.status != 0 {
		t.Fatal(r.err)
	}
	name := program(t)
	if want := gridferry("", "write", plan, "--family", "iso6983", "-o", "-").out; read(t, name) != want {
		t.Errorf("%s differs from what goes to standard output", name)
	}
	if err := os.Chmod(name, 0o600); err != nil {
		t.Fatal(err)
	}
	before := read(t, name)
	// The second family cannot write this, so that the first one must not either.
	tilted := "grids.tray={frame: left, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 20], rpy: [160, 0, 0], part: block, filled: all}"
	if r := gridferry("", "write", plan, "--family", "starter,iso6983", "--set", tilted); r.status != 1 || !strings.Contains(r.err, "[tool-tilted]") {
		t.Errorf("a tilted tool: %+v", r)
	}
	if got := listing(t); read(t, name) != before || len(got) != 3 {
		t.Errorf("with an error in one family %v is left, or %s is changed", got, name)
	}
	if r := gridferry("", "write", plan, "--family", "iso6983", "--set", "motion.speed.near=45"); r.status != 0 || !strings.Contains(read(t, name), "F2700") {
		t.Errorf("a program of ours is not replaced: %+v", r)
	}
	if info, err := os.Stat(name); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the mode of the file became %v (%v)", info.Mode(), err)
	}
}

// TestWriteKeepsWhatIsNotItsOwn: a file that Gridferry did not write, or that
// somebody changed, is replaced only when that is asked for, and then kept beside.
func TestWriteKeepsWhatIsNotItsOwn(t *testing.T) {
	plan := starter(t)
	if r := gridferry("", "write", plan, "--family", "iso6983"); r.status != 0 {
		t.Fatal(r.err)
	}
	name := program(t)
	changed := strings.Replace(read(t, name), "N10 G21", "N10 G20", 1)
	for _, text := range []string{"mine\n", changed} {
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		if r := gridferry("", "write", plan, "--family", "iso6983"); r.status != 1 || read(t, name) != text {
			t.Errorf("a file with %.20q is replaced: %+v", text, r)
		}
		files := len(listing(t))
		r := gridferry("", "write", plan, "--family", "iso6983", "--replace")
		kept := slices.ContainsFunc(listing(t), func(file string) bool { return read(t, file) == text })
		if r.status != 0 || read(t, name) == text || !kept || len(listing(t)) != files+1 {
			t.Errorf("with --replace: %+v, kept %v, %v", r, kept, listing(t))
		}
	}
}

// program is the name of the one file that is no YAML.
func program(t *testing.T) string {
	t.Helper()
	for _, file := range listing(t) {
		if !strings.HasSuffix(file, ".yaml") {
			return file
		}
	}
	t.Fatalf("no program among %v", listing(t))
	return ""
}

func read(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestFoldersThatCannotBeWritten(t *testing.T) {
	plan := starter(t)
	if err := os.WriteFile("taken", nil, 0o666); err != nil {
		t.Fatal(err)
	}
	if r := gridferry("", "write", plan, "--family", "st", "-o", "taken/deep"); r.status != 1 || !strings.Contains(r.err, "taken") {
		t.Errorf("a file in the way of a folder: %+v", r)
	}
	if r := gridferry("", "new", "taken"); r.status != 1 {
		t.Errorf("new into a file: %+v", r)
	}
	if got := listing(t); len(got) != 3 {
		t.Errorf("left behind: %v", got)
	}
}

func TestFamilies(t *testing.T) {
	plan := starter(t)
	list := gridferry("", "families", "list").out
	for _, name := range templates.All() {
		if !strings.Contains(list, name) {
			t.Errorf("families list does not name %s", name)
		}
		if r := gridferry("", "families", "copy", name, "mine/"+name); r.status != 0 {
			t.Fatal(r.err)
		}
		copied := gridferry("", "write", plan, "--family", "./mine/"+name, "-o", "-")
		shipped := gridferry("", "write", plan, "--family", name, "-o", "-")
		if copied.status != 0 || copied.out != shipped.out {
			t.Errorf("the copy of %s writes another program: %q", name, copied.err)
		}
	}
	before := listing(t)
	if r := gridferry("", "families", "copy", "st", "mine/st"); r.status != 1 || !strings.Contains(r.err, "is there already") {
		t.Errorf("a copy over files: %+v", r)
	}
	if !slices.Equal(before, listing(t)) {
		t.Errorf("a copy that failed left %v", listing(t))
	}
}

func TestMovesInThreeForms(t *testing.T) {
	plan := starter(t)
	csv := gridferry("", "moves", plan, "--format", "csv").out
	lines := strings.Split(strings.TrimSuffix(csv, "\n"), "\n")
	const header = "n,transfer,leg,action,target,frame,x,y,z,roll,pitch,yaw,base_x,base_y,base_z,base_roll,base_pitch,base_yaw,speed,fly_by,tool,load,signal,level,seconds,text,line,else,id,centre_x,centre_y,centre_z,inertia_x,inertia_y,inertia_z"
	if lines[0] != header {
		t.Errorf("header %s\nwanted %s", lines[0], header)
	}
	jsonl := strings.Split(strings.TrimSpace(gridferry("", "moves", plan, "--format", "jsonl").out), "\n")
	if len(jsonl) != len(lines)-1 {
		t.Errorf("%d JSON lines beside %d CSV lines", len(jsonl), len(lines)-1)
	}
	columns := strings.Split(header, ",")
	for i, line := range jsonl {
		var m map[string]any
		if err := json.Unmarshal([]byte(line), &m); err != nil {
			t.Fatalf("line %d: %v", i+1, err)
		}
		for key := range m {
			if !slices.Contains(columns, key) {
				t.Errorf("line %d has the key %q, which is no column", i+1, key)
			}
		}
	}
	table := gridferry("", "moves", plan).out
	if strings.Contains(table, "…") {
		t.Error("the table is cut although it goes to no terminal")
	}
	for _, kind := range []move.Kind{move.Select, move.Travel, move.Straight, move.Grip, move.Release, move.Dwell} {
		if !strings.Contains(table[strings.LastIndex(strings.TrimSpace(table), "\n"):], " "+kind.String()) {
			t.Errorf("the last line of the table does not count %s", kind)
		}
	}
}

func TestVersion(t *testing.T) {
	if r := gridferry("", "version"); r.out != "gridferry "+gen.Version+"\n" {
		t.Errorf("%+v", r)
	}
}

// full is a disk that is full from the start.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestStandardOutputThatFails(t *testing.T) {
	plan := starter(t)
	for _, args := range [][]string{
		{"moves", plan}, {"moves", plan, "--format", "csv"}, {"moves", plan, "--format", "jsonl"},
		{"write", plan, "--family", "st", "-o", "-"}, {"families", "list"}, {"families", "show", "st"}, {"version"},
		{"check", plan, "--format", "json"},
	} {
		var errs bytes.Buffer
		if status := cli.Main(args, strings.NewReader(""), full{}, &errs); status != 1 || !strings.Contains(errs.String(), "no space left") {
			t.Errorf("%v into a full disk: status %d, %q; wanted 1 with the reason", args, status, errs.String())
		}
	}
	if status := cli.Main([]string{"check", plan, "--set", "grids.tray.rows=x"}, strings.NewReader(""), io.Discard, full{}); status != 1 {
		t.Errorf("findings that cannot be printed: status %d", status)
	}
}
