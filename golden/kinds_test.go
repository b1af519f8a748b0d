package golden

import (
	"encoding/csv"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/move"
	"gridferry/templates"
)

// TestEveryKindIsReached starts with every kind of move "not seen", and fails
// for one that no recorded list holds, or that a shipped family neither wrote
// in a recorded program nor lists under "cannot".
func TestEveryKindIsReached(t *testing.T) {
	listed := map[string]bool{}
	written := map[string]map[string]bool{} // by family
	for _, name := range templates.Names() {
		written[name] = map[string]bool{}
	}
	cases, err := os.ReadDir("demo")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range cases {
		kinds := kindsOf(t, filepath.Join("demo", c.Name(), "moves.csv"))
		for kind := range kinds {
			listed[kind] = true
		}
		for _, name := range templates.Names() {
			if _, err := os.Stat(filepath.Join("demo", c.Name(), name+".txt")); err == nil {
				for kind := range kinds {
					written[name][kind] = true
				}
			}
		}
	}
	for _, kind := range move.Kinds {
		if !listed[kind.String()] {
			t.Errorf("no recorded list of moves holds %q", kind)
		}
		for _, name := range templates.Names() {
			checkKind(t, loadFamily(t, name), kind, written[name][kind.String()])
		}
	}
}

func checkKind(t *testing.T, f *family.Family, kind move.Kind, written bool) {
	t.Helper()
	reason, cannot := f.Cannot[kind.String()]
	switch {
	case cannot && reason == "":
		t.Errorf("family %s cannot write %q and does not say why", f.Label, kind)
	case cannot && written:
		t.Errorf("family %s cannot write %q, but a recorded program of it holds that", f.Label, kind)
	case !cannot && !written:
		t.Errorf("family %s writes %q, but no recorded program of it holds that", f.Label, kind)
	case !cannot && !f.Has(kind.String()):
		t.Errorf("family %s has no block %q", f.Label, kind)
	}
}

// kindsOf is the kinds of move in a recorded list; of a shortened one, those
// of its ends.
func kindsOf(t *testing.T, file string) map[string]bool {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[string]bool{}
	for _, line := range strings.Split(strings.TrimSpace(string(data)), "\n")[1:] {
		if strings.HasPrefix(line, "…") {
			continue // stands for what was left out
		}
		record, err := csv.NewReader(strings.NewReader(line)).Read()
		if err != nil || len(record) < 4 {
			t.Fatalf("%s: %q: %v", file, line, err)
		}
		kinds[record[3]] = true
	}
	return kinds
}

func loadFamily(t *testing.T, name string) *family.Family {
	t.Helper()
	folder, err := fs.Sub(templates.FS, name)
	if err != nil {
		t.Fatal(err)
	}
	job := new(gen.Job)
	f, ok := job.LoadFamily(folder, name)
	if !ok {
		t.Fatalf("family %s does not load: %+v", name, job.Findings.Sorted())
	}
	return f
}
