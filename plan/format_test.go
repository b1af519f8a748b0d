package plan_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Whoever leaves out the first line of a file is told what to write there.
func TestFirstLineThatIsMissing(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{"c.yaml": "name: bench\ntools: {}\nmeasured: m.yaml\n", "m.yaml": "frames: {}\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var list diag.List
	var sources diag.Sources
	source := func(text string) plan.Source { return plan.Source{File: "f.yaml", Data: []byte(text), Dir: dir} }
	plan.Read(source("title: x\ncell: c.yaml\n"), nil, &list, &sources)
	plan.ReadFound(source("slots: {}\n"), &list, &sources)
	plan.ReadVariants(source("variants: [{name: a}]\n"), &list, &sources)
	told := map[string]bool{}
	for _, f := range list.Sorted() {
		if strings.HasSuffix(f.Message, `needs "format"`) {
			told[f.Hint] = true
		}
	}
	for _, kind := range []string{"plan", "cell", "measured", "slots", "variants"} {
		if hint := `write "format: gridferry ` + kind + ` 1" as the first line`; !told[hint] {
			t.Errorf("no finding says %s", hint)
		}
	}
}

// Of a file of another kind it is told how it comes to a plan.
func TestOtherKindsInPlaceOfAPlan(t *testing.T) {
	for text, want := range map[string]string{
		"format: gridferry cell 1\n":     "name the plan: it says under \"cell\"",
		"format: gridferry measured 1\n": "name the plan: its cell says under \"measured\"",
		"format: gridferry slots 1\n":    "name the plan, and this file with --slots",
		"format: gridferry variants 1\n": "name the plan, and this file with --variants",
	} {
		var list diag.List
		var sources diag.Sources
		plan.Read(plan.Source{File: "f.yaml", Data: []byte(text), Dir: "."}, nil, &list, &sources)
		if got := list.Sorted(); len(got) != 1 || got[0].Rule != "bad-format" || !strings.HasPrefix(got[0].Hint, want) {
			t.Errorf("%s: got %+v, want one finding with the hint %s", text, got, want)
		}
	}
}

// Rows are bounded where their letters end.
func TestMostRows(t *testing.T) {
	if plan.MostRows != slot.MaxRows {
		t.Errorf("got %d, want %d", plan.MostRows, slot.MaxRows)
	}
}
