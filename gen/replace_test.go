package gen_test

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"gridferry/gen"
	"gridferry/gen/draw"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// slower is the plan with a figure that every program of it shows.
var slower = strings.Replace(runPlan, "travel: 500", "travel: 400", 1)

// written writes a plan's programs of two families; between runs when these are complete
// and the old ones were looked at.
func written(t *testing.T, text string, o gen.Output, between func()) ([]string, error) {
	t.Helper()
	j := jobOf(t, text)
	families, err := j.OpenFamilies([]string{"listing", "st"})
	if err != nil {
		t.Fatal(err)
	}
	d, err := j.Programs(families, o, 1<<20)
	defer d.Discard()
	if err != nil || j.Findings.HasErrors() {
		t.Fatal(err, errorsOf(j))
	}
	between()
	return d.Finish(io.Discard)
}

// filesIn is the names and texts of a folder.
func filesIn(t *testing.T, folder string) map[string]string {
	t.Helper()
	files := map[string]string{}
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		files[e.Name()] = string(data)
	}
	return files
}

// change has a person change one figure of a file.
func change(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	changed := strings.Replace(string(text), "400", "399", 1)
	if changed == string(text) {
		t.Fatalf("no 400 in %s", name)
	}
	put(t, name, changed)
	return changed
}

func put(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

// TestChangedWhileTheProgramWasWritten: what a person does to a program after it was looked
// at counts as what was done before, and then none of the programs is replaced.
func TestChangedWhileTheProgramWasWritten(t *testing.T) {
	for _, name := range []string{"run.txt", "run.st"} {
		o := gen.Output{To: t.TempDir()}
		if _, err := written(t, slower, o, func() {}); err != nil {
			t.Fatal(err)
		}
		old := filesIn(t, o.To)
		file := filepath.Join(o.To, name)
		_, err := written(t, runPlan, o, func() { old[name] = change(t, file) })
		if err == nil || !strings.HasPrefix(err.Error(), file+": the program was changed by hand since Gridferry") || !strings.Contains(err.Error(), `nothing is written: "gridferry verify" shows the differences`) {
			t.Errorf("%s: said %v", name, err)
		}
		same(t, o.To, old)

		o.Replace = true
		said, err := written(t, runPlan, o, func() {})
		if err != nil || !slices.Contains(said, "kept "+file+".kept-1") {
			t.Errorf("%s: said %v, %v", name, said, err)
		}
		if got := filesIn(t, o.To)[name+".kept-1"]; got != old[name] {
			t.Errorf("%s: kept is\n%s", name, got)
		}
	}
}

// same holds a folder to files.
func same(t *testing.T, folder string, want map[string]string) {
	t.Helper()
	got := filesIn(t, folder)
	for name := range got {
		if got[name] != want[name] {
			t.Errorf("%s holds\n%s", name, got[name])
		}
	}
	if len(got) != len(want) {
		t.Errorf("there are %d files, wanted %d", len(got), len(want))
	}
}

// TestChangedWhileItIsReplaced: with --replace it is kept as it was last, though it was
// ours when it was looked at first.
func TestChangedWhileItIsReplaced(t *testing.T) {
	o := gen.Output{To: t.TempDir(), Replace: true}
	if _, err := written(t, slower, o, func() {}); err != nil {
		t.Fatal(err)
	}
	var changed string
	if _, err := written(t, runPlan, o, func() { changed = change(t, filepath.Join(o.To, "run.st")) }); err != nil {
		t.Fatal(err)
	}
	files := filesIn(t, o.To)
	if len(files) != 3 || files["run.st.kept-1"] != changed || files["run.st"] == changed {
		t.Errorf("there are %d files, kept is\n%s", len(files), files["run.st.kept-1"])
	}
}

// TestCameWhileTheProgramWasWritten: a file that was not there at first stays, too, unless
// it is a program that another run wrote.
func TestCameWhileTheProgramWasWritten(t *testing.T) {
	o := gen.Output{To: t.TempDir()}
	_, err := written(t, runPlan, o, func() { put(t, filepath.Join(o.To, "run.st"), "mine") })
	if err == nil || !strings.Contains(err.Error(), "a file of that name exists without a seal") {
		t.Errorf("said %v", err)
	}
	same(t, o.To, map[string]string{"run.st": "mine"})

	o.To = t.TempDir()
	_, err = written(t, runPlan, o, func() {
		if _, err := written(t, slower, o, func() {}); err != nil {
			t.Error(err)
		}
	})
	if err != nil || strings.Contains(filesIn(t, o.To)["run.txt"], "400") {
		t.Error("another run's program is not replaced:", err)
	}
}

// TestCameWhileThePageWasDrawn is the same for a page.
func TestCameWhileThePageWasDrawn(t *testing.T) {
	o := gen.Output{To: filepath.Join(t.TempDir(), "run.svg")}
	j := jobOf(t, runPlan)
	d, err := j.Page(gen.Picture, o, func(w io.Writer) error { return j.Draw(w, draw.Options{}) })
	defer d.Discard()
	if err != nil || j.Findings.HasErrors() {
		t.Fatal(err, errorsOf(j))
	}
	put(t, o.To, "mine")
	if _, err := d.Finish(io.Discard); err == nil || !strings.Contains(err.Error(), "that is not a picture by Gridferry") {
		t.Errorf("said %v", err)
	}
	if got, err := os.ReadFile(o.To); err != nil || string(got) != "mine" {
		t.Errorf("it holds %q, %v", got, err)
	}
}

// varied writes one variant of a plan and its table; missing hears when all is ready, and
// before the first file changes.
func varied(t *testing.T, text, folder string, missing func(string)) (programs, tables error) {
	t.Helper()
	var opened gen.Job
	families, err := opened.OpenFamilies([]string{"listing", "st"})
	if err != nil {
		t.Fatal(err)
	}
	f := gen.Folders{Output: gen.Output{To: folder}, Families: families.All, MostBytes: 1 << 20, Missing: missing}
	var found diag.List
	if err := f.Open(nil, &found); err != nil || found.HasErrors() {
		t.Fatal(err, found.Sorted())
	}
	defer f.Close()
	v := gen.Variation{
		Source:   plan.Source{File: "run.plan.yaml", Data: []byte(text), Dir: "."},
		Variants: []plan.Variant{{Name: "one"}},
		Write:    f.Write,
		Done:     func(int) {},
	}
	all := v.Run()
	_, tables = f.WriteTables(f.TableOf("run.plan.yaml", all), gen.WasRead(all)...)
	return gen.NotWritten(all), tables
}

// TestChangedWhileVariantsAreWritten: a variant's program, or a table, that a person
// changes after they were looked at stays.
func TestChangedWhileVariantsAreWritten(t *testing.T) {
	for name, want := range map[string]string{
		"one/run.st":  "the program was changed by hand since Gridferry",
		"summary.txt": "was changed by somebody at this very moment",
	} {
		top := t.TempDir()
		if programs, tables := varied(t, slower, top, func(string) {}); programs != nil || tables != nil {
			t.Fatal(programs, tables)
		}
		file := filepath.Join(top, name)
		old := filesIn(t, filepath.Join(top, "one"))
		var once sync.Once
		programs, tables := varied(t, runPlan, top, func(string) {
			once.Do(func() { put(t, file, old["run.st"]+"mine") })
		})
		if programs == nil || !strings.HasPrefix(programs.Error(), `the variant "one" was not written: `+file) || !strings.Contains(programs.Error(), want) {
			t.Errorf("%s: of the programs it said %v", name, programs)
		}
		if isTable := name == "summary.txt"; isTable != (tables != nil) || isTable && !strings.Contains(tables.Error(), "not a table of variants by Gridferry") {
			t.Errorf("%s: of the tables it said %v", name, tables)
		}
		if got, err := os.ReadFile(file); err != nil || string(got) != old["run.st"]+"mine" {
			t.Errorf("%s is now %q, %v", name, got, err)
		}
		if got := filesIn(t, filepath.Join(top, "one")); got["run.txt"] != old["run.txt"] {
			t.Errorf("%s: the other program was replaced", name)
		}
	}
}
