package golden

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"gridferry/cmd/cli"
	"gridferry/gen"
	client "gridferry/golden/editor"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// TestReplay: after thousands of random edits, and at moments between them, an editor has been told what "check" finds in
// the same texts, no more and no less, each at its place.
func TestReplay(t *testing.T) {
	t.Setenv(asCommand, "1")
	for seed, names := range [][]string{
		{"mortar-cubes.plan.yaml", "bench.cell.yaml"},
		{"worklist.plan.yaml", "worklist.cell.yaml", "worklist.csv", "worklist-rack-1.csv", "worklist-rack-2.csv", "worklist-rack-3.csv"},
	} {
		folder := t.TempDir()
		q := client.Question{Command: os.Args[0], Seed: seed + 1, Edits: 2500, Moments: 100}
		for _, name := range names {
			text := readText(t, filepath.Join("..", "testdata", "demo", name))
			q.Files = append(q.Files, client.File{Path: filepath.Join(folder, name), Text: text})
		}
		write(t, q.Files)
		r := client.Replay(t, q)
		if r.Status != 0 || len(r.Moments) != q.Moments+1 {
			t.Fatalf("status %d, %d moments", r.Status, len(r.Moments))
		}
		found := map[string]int{}
		for _, files := range r.Moments {
			compareWithCheck(t, files, found)
		}
		t.Logf("%s: %d rules at %d moments: %v", names[0], len(found), len(r.Moments), found)
		if len(found) < 10 {
			t.Errorf("only %d rules were broken: are the edits good?", len(found))
		}
	}
}

// write writes files.
func write(t *testing.T, files []client.File) {
	t.Helper()
	for _, f := range files {
		if err := os.WriteFile(f.Path, []byte(f.Text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

// finding is one as "check --format json" writes it.
type jsonFinding struct {
	File                          string
	Line, Column                  int
	Severity, Rule, Message, Hint string
	Notes                         []struct {
		File         string
		Line, Column int
		Message      string
	}
}

// compareWithCheck holds what an editor was told of some files, the first of which is the plan, to what "check" finds in
// them; a cell that the plan does not come to any more, to what is found in it alone.
func compareWithCheck(t *testing.T, files []client.File, rules map[string]int) {
	t.Helper()
	write(t, files)
	plan := files[0].Path
	wanted := checked(t, plan)
	read := namesOf(t, plan)
	for _, f := range files[1:] {
		if !slices.Contains(read, f.Path) && strings.Contains(f.Path, ".cell.") {
			wanted = append(wanted, checkedAlone(t, f.Path)...)
		}
	}
	texts := new(diag.Sources)
	for _, f := range files {
		texts.AddText(f.Path, f.Text)
	}
	got, want := map[string]bool{}, map[string]bool{}
	for _, f := range files {
		for _, d := range f.Diagnostics {
			rules[d.Code]++
			line := fmt.Sprintf("%s:%d:%d %d [%s] %s", f.Path, d.Range.Start.Line, d.Range.Start.Character, d.Severity, d.Code, d.Message)
			for _, r := range d.RelatedInformation {
				line += fmt.Sprintf(" (%s:%d:%d %s)", strings.TrimPrefix(r.Location.URI, "file://"), r.Location.Range.Start.Line, r.Location.Range.Start.Character, r.Message)
			}
			got[line] = true
		}
	}
	for _, f := range wanted {
		severity := map[string]int{"error": 1, "warning": 2}[f.Severity]
		message := strings.TrimSuffix(f.Message+"\n"+f.Hint, "\n")
		if f.File == "" {
			f.File = plan
		}
		line := fmt.Sprintf("%s:%s %d [%s] %s", f.File, inUnits(texts, f.File, f.Line, f.Column), severity, f.Rule, message)
		for _, n := range f.Notes {
			line += fmt.Sprintf(" (%s:%s %s)", n.File, inUnits(texts, n.File, n.Line, n.Column), n.Message)
		}
		want[line] = true
	}
	if !maps.Equal(got, want) {
		for line := range got {
			if !want[line] {
				t.Errorf("the editor was told, but check does not say: %s", line)
			}
		}
		for line := range want {
			if !got[line] {
				t.Errorf("check says, but the editor was not told: %s", line)
			}
		}
		t.Fatalf("the plan:\n%s", files[0].Text)
	}
}

// inUnits is a place as the protocol counts it.
func inUnits(texts *diag.Sources, file string, line, column int) string {
	text, _ := texts.Line(file, line)
	before := []rune(text)[:min(max(column-1, 0), len([]rune(text)))]
	return fmt.Sprintf("%d:%d", max(line-1, 0), len(utf16.Encode(before)))
}

func checked(t *testing.T, plan string) []jsonFinding {
	t.Helper()
	var out, said bytes.Buffer
	if status := cli.Main([]string{"check", "--format", "json", plan}, nil, &out, &said); status > 1 {
		t.Fatalf("status %d: %s", status, said.String())
	}
	return findingsIn(t, out.Bytes())
}

func findingsIn(t *testing.T, text []byte) (found []jsonFinding) {
	t.Helper()
	if err := json.Unmarshal(text, &found); err != nil {
		t.Fatal(err)
	}
	return found
}

// checkedAlone is what is found in a cell that no plan names.
func checkedAlone(t *testing.T, cell string) []jsonFinding {
	t.Helper()
	source, err := plan.Open(cell, nil)
	if err != nil {
		t.Fatal(err)
	}
	job := new(gen.Job)
	job.ReadBench(source)
	var out bytes.Buffer
	if err := diag.PrintJSON(&out, job.Findings.Sorted()); err != nil {
		t.Fatal(err)
	}
	return findingsIn(t, out.Bytes())
}

// namesOf is the files that a plan is read from, also those that it names and that are not there.
func namesOf(t *testing.T, file string) (names []string) {
	t.Helper()
	source, err := plan.Open(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	source.Read = func(n plan.Named) ([]byte, error) {
		names = append(names, n.File)
		return n.Read()
	}
	plan.Read(source, nil, new(diag.List), new(diag.Sources))
	return names
}
