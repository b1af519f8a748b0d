package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/golden/outside"
)

// varyFolder is a folder with the demo's plan and cell in it; whose arm would be looked at in every variant.
func varyFolder(t *testing.T, variants string) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"mortar-cubes.plan.yaml", "bench.cell.yaml"} {
		data, err := os.ReadFile(filepath.Join("../../testdata/demo", name))
		if err != nil {
			t.Fatal(err)
		}
		head, arm, found := bytes.Cut(data, []byte("\narm:"))
		if found {
			data = append(head, arm[bytes.Index(arm, []byte("\ntools:")):]...)
		}
		put(t, filepath.Join(dir, name), data)
	}
	put(t, filepath.Join(dir, "v.yaml"), []byte("format: gridferry variants 1\nvariants:\n"+variants))
	return dir
}

func put(t *testing.T, name string, data []byte) {
	t.Helper()
	if err := os.WriteFile(name, data, 0o666); err != nil {
		t.Fatal(err)
	}
}

func vary(t *testing.T, dir string, more ...string) (status int, table, said string) {
	t.Helper()
	var out, errs bytes.Buffer
	args := append([]string{"vary", filepath.Join(dir, "mortar-cubes.plan.yaml"), "--variants", filepath.Join(dir, "v.yaml"),
		"--family", "listing,iso6983", "-o", filepath.Join(dir, "out"), "--format", "csv"}, more...)
	status = Main(args, strings.NewReader(""), &out, &errs)
	return status, out.String(), errs.String()
}

// TestVary: a variant with errors is reported, the others go on, each is what "write"
// with its settings gives, and a second run touches no file.
func TestVary(t *testing.T) {
	dir := varyFolder(t, `
  - {name: slow, set: {motion.speed.travel: 250}}
  - {name: wrong, set: {motion.speed.travl: 250}}
  - {each: {grids.tray.columns: [4, 5], motion.approach: [60, 70]}}
`)
	status, table, said := vary(t, dir)
	if status != 1 || strings.Count(table, "\n") != 7 || strings.Count(table, ",written,") != 5 || strings.Count(table, ",refused,") != 1 {
		t.Fatalf("status %d\n%s\n%s", status, table, said)
	}
	for _, want := range []string{`there is no "travl"`, "v.yaml:5:45: note: the variant \"wrong\" sets it here", `in the variant "wrong"`} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not in\n%s", want, said)
		}
	}
	sameAsWrite(t, dir, "columns-5-approach-60", "grids.tray.columns=5", "motion.approach=60")

	before := stamps(t, filepath.Join(dir, "out"))
	status, table, _ = vary(t, dir)
	if status != 1 || strings.Count(table, ",unchanged,") != 5 {
		t.Errorf("the second run: status %d\n%s", status, table)
	}
	for name, stamp := range stamps(t, filepath.Join(dir, "out")) {
		if before[name] != stamp {
			t.Errorf("%s was replaced without need", name)
		}
	}
	if len(before) != 5*2+3 {
		t.Errorf("there are %d files: %v", len(before), before)
	}
}

// sameAsWrite holds a variant's programs to those of "write --set".
func sameAsWrite(t *testing.T, dir, variant string, settings ...string) {
	t.Helper()
	args := []string{"write", filepath.Join(dir, "mortar-cubes.plan.yaml"), "--family", "listing,iso6983", "-o", filepath.Join(dir, "single"), "--quiet"}
	for _, s := range settings {
		args = append(args, "--set", s)
	}
	var errs bytes.Buffer
	if Main(args, strings.NewReader(""), &errs, &errs) != 0 {
		t.Fatal(errs.String())
	}
	files, err := os.ReadDir(filepath.Join(dir, "single"))
	if err != nil || len(files) != 2 {
		t.Fatal(files, err)
	}
	for _, f := range files {
		want, _ := os.ReadFile(filepath.Join(dir, "single", f.Name()))
		got, err := os.ReadFile(filepath.Join(dir, "out", variant, f.Name()))
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s/%s is not what \"write\" gives: %v", variant, f.Name(), err)
		}
	}
}

// stamps is when each file below a folder was changed, and its inode.
func stamps(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		if err == nil {
			all[path] = info.ModTime().String()
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// TestVaryKeepsChangedFiles: what somebody changed by hand is not replaced.
func TestVaryKeepsChangedFiles(t *testing.T) {
	dir := varyFolder(t, "  - {name: slow, set: {motion.speed.travel: 250}}\n  - {name: slower, set: {motion.speed.travel: 200}}\n")
	if status, _, said := vary(t, dir); status != 0 {
		t.Fatal(said)
	}
	name := filepath.Join(dir, "out", "slow", "mortar-cubes.txt")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	changed := bytes.Replace(text, []byte("250"), []byte("251"), 1)
	put(t, name, changed)
	put(t, filepath.Join(dir, "mortar-cubes.plan.yaml"), bytes.Replace(readAll(t, filepath.Join(dir, "mortar-cubes.plan.yaml")), []byte("fly_by: 15"), []byte("fly_by: 10"), 1))
	status, table, said := vary(t, dir)
	if status != 1 || !strings.Contains(said, "changed by hand") || !strings.Contains(table, "slower,motion.speed.travel=200,written") {
		t.Errorf("status %d\n%s\n%s", status, table, said)
	}
	if got := readAll(t, name); !bytes.Equal(got, changed) {
		t.Error("the file was replaced")
	}
}

func readAll(t *testing.T, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestVaryTheDemo: a hundred variants on one command.
func TestVaryTheDemo(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: a hundred variants are written")
	}
	var out, errs bytes.Buffer
	status := Main([]string{"vary", "../../testdata/demo/mortar-cubes.plan.yaml", "--variants", "../../testdata/demo/mortar-cubes.variants.yaml",
		"--family", "starter", "-o", t.TempDir()}, strings.NewReader(""), &out, &errs)
	if status != 0 || !strings.HasSuffix(out.String(), "\n100 variants: 100 written\n") {
		t.Errorf("status %d\n%s\n%s", status, out.String(), errs.String())
	}
}

func TestBarIsForTerminals(t *testing.T) {
	var errs bytes.Buffer
	(&streams{err: &errs}).newBar(3).step(1)
	if errs.Len() > 0 {
		t.Errorf("a bar in a log: %q", errs.String())
	}
	b := &bar{w: &errs, all: 4, shown: -1}
	for done := 1; done <= 4; done++ {
		b.step(done)
	}
	if !strings.Contains(errs.String(), "[##########..............................] 1 of 4") || !strings.HasSuffix(errs.String(), " \r") {
		t.Errorf("%q", errs.String())
	}
}

// TestVaryTellsOnceWhatCouldNotBeWritten: no variant's folder can be made, since files are
// where the folders should be.
func TestVaryTellsOnceWhatCouldNotBeWritten(t *testing.T) {
	dir := varyFolder(t, "  - {each: {grids.tray.columns: [4, 5, 6]}}\n")
	if err := os.Mkdir(filepath.Join(dir, "out"), 0o777); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"columns-4", "columns-5", "columns-6"} {
		put(t, filepath.Join(dir, "out", name), []byte("a file"))
	}
	status, table, said := vary(t, dir)
	if status != 1 || strings.Count(table, ",not written,") != 3 || strings.Contains(table, "refused") {
		t.Errorf("status %d\n%s", status, table)
	}
	if strings.Count(said, "gridferry: ") != 1 || !strings.Contains(said, `3 variants were not written, the first of them "columns-4": `) || strings.Contains(said, "error:") {
		t.Errorf("said\n%s", said)
	}
}

// TestVaryNeedsAFolder: where a file is in its place, that is said before the work.
func TestVaryNeedsAFolder(t *testing.T) {
	dir := varyFolder(t, "  - {name: slow, set: {motion.speed.travel: 250}}\n")
	put(t, filepath.Join(dir, "out"), []byte("a file"))
	status, table, said := vary(t, dir)
	if status != 1 || table != "" || !strings.Contains(said, "is a file, wanted a folder to write to") {
		t.Errorf("status %d\n%s\n%s", status, table, said)
	}
}

// TestVaryFollowsNoLink: a variant's folder that is a link is refused by its name, wherever
// it leads; the folder that was asked for may be one.
func TestVaryFollowsNoLink(t *testing.T) {
	dir := varyFolder(t, "  - {name: slow, set: {motion.speed.travel: 250}}\n  - {name: lost, set: {motion.speed.travel: 240}}\n  - {name: slower, set: {motion.speed.travel: 200}}\n")
	elsewhere := filepath.Join(dir, "elsewhere")
	for _, folder := range []string{"real", "elsewhere"} {
		if err := os.Mkdir(filepath.Join(dir, folder), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	for name, to := range map[string]string{"out": "real", "real/slow": elsewhere, "real/lost": "nowhere"} {
		if err := os.Symlink(to, filepath.Join(dir, name)); err != nil {
			outside.Missing(t, err)
		}
	}
	status, table, said := vary(t, dir)
	if status != 1 || strings.Count(table, ",not written,") != 2 || !strings.Contains(table, "slower,motion.speed.travel=200,written,") {
		t.Errorf("status %d\n%s", status, table)
	}
	if !strings.Contains(said, filepath.Join(dir, "out", "slow")+" is a link or a file, wanted a folder") {
		t.Errorf("said\n%s", said)
	}
	if left, err := os.ReadDir(elsewhere); err != nil || len(left) > 0 {
		t.Errorf("written through the link: %v, %v", left, err)
	}
}

// TestVaryGoesOnBesideOneThatCannotBeWritten: the others are written, and so is the
// summary.
func TestVaryGoesOnBesideOneThatCannotBeWritten(t *testing.T) {
	dir := varyFolder(t, "  - {each: {grids.tray.columns: [4, 5]}}\n  - {name: wrong, set: {motion.speed.travl: 250}}\n")
	if err := os.Mkdir(filepath.Join(dir, "out"), 0o777); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "out", "columns-4"), []byte("a file"))
	status, table, said := vary(t, dir)
	for _, want := range []string{"columns-4,grids.tray.columns=4,not written,", "columns-5,grids.tray.columns=5,written,", "wrong,motion.speed.travl=250,refused,"} {
		if !strings.Contains(table, want) {
			t.Errorf("no %q in\n%s", want, table)
		}
	}
	if status != 1 || strings.Count(said, "gridferry: ") != 1 || !strings.Contains(said, `the variant "columns-4" was not written: `) {
		t.Errorf("status %d\n%s", status, said)
	}
	if got := string(readAll(t, filepath.Join(dir, "out", "summary.csv"))); got != table {
		t.Errorf("the summary is\n%s\nshown was\n%s", got, table)
	}
}

// TestVaryShowsTheTableWithoutASummary: only the files of the table cannot be written.
func TestVaryShowsTheTableWithoutASummary(t *testing.T) {
	dir := varyFolder(t, "  - {name: slow, set: {motion.speed.travel: 250}}\n")
	if err := os.MkdirAll(filepath.Join(dir, "out", "summary.csv"), 0o777); err != nil {
		t.Fatal(err)
	}
	status, table, said := vary(t, dir)
	if status != 1 || !strings.Contains(table, ",written,") || strings.Count(said, "gridferry: ") != 1 || !strings.Contains(said, "summary.csv") {
		t.Errorf("status %d\n%s\n%s", status, table, said)
	}
}

func TestVaryRefusesStandardOutput(t *testing.T) {
	dir := varyFolder(t, "  - {name: slow, set: {motion.speed.travel: 250}}\n")
	here := t.TempDir()
	plan := filepath.Join(dir, "mortar-cubes.plan.yaml")
	t.Chdir(here)
	var out, errs bytes.Buffer
	status := Main([]string{"vary", plan, "--variants", filepath.Join(dir, "v.yaml"), "--family", "listing", "-o", "-"}, strings.NewReader(""), &out, &errs)
	if status != 2 || !strings.Contains(errs.String(), "name a folder with -o") || out.Len() > 0 {
		t.Errorf("status %d\n%s\n%s", status, out.String(), errs.String())
	}
	if left, err := os.ReadDir(here); err != nil || len(left) > 0 {
		t.Errorf("left are %v, %v", left, err)
	}
}

func TestVaryWithoutVariants(t *testing.T) {
	dir := varyFolder(t, "  []\n")
	status, table, said := vary(t, dir)
	if status != 1 || table != "" || !strings.Contains(said, "v.yaml:3:3: error: the list of variants is empty") {
		t.Errorf("status %d\n%s\n%s", status, table, said)
	}
	if _, err := os.Stat(filepath.Join(dir, "out")); err == nil {
		t.Error("a folder is made for nothing")
	}
}

// TestVaryTellsWhatIsWrongWithThePlan once for all variants, and in words about a plan.
func TestVaryTellsWhatIsWrongWithThePlan(t *testing.T) {
	for text, want := range map[string]string{
		"format: gridferry plan 7\nvariants: [{name: a}, {name: b}]\n":     `error: the format is "gridferry plan 7", wanted "gridferry plan 1" [bad-format]`,
		"format: gridferry variants 1\nvariants: [{name: a}, {name: b}]\n": `error: this is a file of variants, wanted a plan [bad-format]`,
	} {
		dir := t.TempDir()
		plan := filepath.Join(dir, "p.yaml")
		put(t, plan, []byte(text))
		status, _, said := command("vary", plan, "--family", "listing", "-o", filepath.Join(dir, "out"))
		if status != 1 || strings.Count(said, want) != 1 || strings.Count(said, "[bad-format]") != 1 {
			t.Errorf("%q: status %d\n%s", text, status, said)
		}
	}
}

// TestVaryKeepsNoOldSummary beside programs that it does not list, and leaves it where
// nothing changes.
func TestVaryKeepsNoOldSummary(t *testing.T) {
	dir := varyFolder(t, "  - {name: slow, set: {motion.speed.travel: 250}}\n")
	text, csv := filepath.Join(dir, "out", "summary.txt"), filepath.Join(dir, "out", "summary.csv")
	if status, _, said := vary(t, dir); status != 0 {
		t.Fatal(said)
	}
	if err := os.Remove(csv); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(csv, 0o777); err != nil { // so that no summary can be written
		t.Fatal(err)
	}
	if status, _, said := vary(t, dir); status != 1 || len(readAll(t, text)) == 0 {
		t.Errorf("nothing changed: status %d, %s", status, said)
	}
	if status, table, said := vary(t, dir, "--set", "motion.approach=71"); status != 1 || !strings.Contains(table, "slow,motion.speed.travel=250,written") {
		t.Errorf("status %d, %s%s", status, table, said)
	}
	if _, err := os.Stat(text); err == nil {
		t.Error("the old summary stands beside new programs")
	}
}

// TestVaryReplacesOnlyTables: a file of another kind in the place of a summary stays,
// and then nothing is written; with --replace it is kept.
func TestVaryReplacesOnlyTables(t *testing.T) {
	dir := varyFolder(t, "  - {name: slow, set: {motion.speed.travel: 250}}\n")
	out := filepath.Join(dir, "out")
	if status, _, said := vary(t, dir); status != 0 {
		t.Fatal(said)
	}
	for _, name := range []string{"summary.txt", "summary.csv", "summary.html"} {
		put(t, filepath.Join(out, name), []byte("variant, by hand\n"))
		before := stamps(t, out)
		status, table, said := vary(t, dir, "--set", "motion.approach=71")
		if status != 1 || table != "" || !strings.Contains(said, name+": error: a file of that name exists that is not a table of variants by Gridferry") {
			t.Errorf("%s: status %d, %s%s", name, status, table, said)
		}
		for file, stamp := range stamps(t, out) {
			if before[file] != stamp {
				t.Errorf("%s: %s is changed", name, file)
			}
		}
		if status, _, said := vary(t, dir, "--replace"); status != 0 || !strings.Contains(said, "kept "+filepath.Join(out, name)+".kept-1\n") {
			t.Errorf("%s --replace: status %d, %s", name, status, said)
		}
		if got := string(readAll(t, filepath.Join(out, name+".kept-1"))); got != "variant, by hand\n" {
			t.Errorf("%s: kept is %q", name, got)
		}
	}
}
