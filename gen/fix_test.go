package gen_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/names"
)

// findings are those of a plan that is read and resolved.
func findings(source plan.Source) *gen.Job {
	j := new(gen.Job)
	j.Read(source, nil, layout.Options{Slots: layout.DefaultSlots})
	return j
}

// TestFixesMend: where a hint offers one text in the place of another, the finding is gone once that stands there.
func TestFixesMend(t *testing.T) {
	plans, err := filepath.Glob(filepath.Join("..", "testdata", "bad", "*.plan.*"))
	if err != nil || len(plans) < 60 {
		t.Fatal(plans, err)
	}
	fixed, rules := 0, map[string]bool{}
	for _, file := range plans {
		source, err := plan.Open(file, nil)
		if err != nil {
			t.Fatal(err)
		}
		j := findings(source)
		for _, f := range j.Findings.Sorted() {
			at, ok := j.Sources.Fixed(&f)
			if !ok {
				near, isNear := strings.CutPrefix(f.Hint, "did you mean \"")
				near, _, _ = strings.Cut(near, "\"")
				if there := strings.Contains(string(source.Data), near+":"); isNear && !(f.Rule == "unknown-key" && there) { // it would be there twice
					t.Errorf("%v: the hint %q is no edit", f.Place, f.Hint)
				}
				continue
			}
			after := findings(rewritten(t, source, []names.Edit{{Place: at, Text: f.Fix.Put}}))
			same := func(g diag.Finding) bool { return g.Place == f.Place && g.Rule == f.Rule && g.Message == f.Message }
			if slices.ContainsFunc(after.Findings.Sorted(), same) {
				t.Errorf("%v: %s is there with %q, too", f.Place, f.Message, f.Fix.Put)
			}
			fixed++
			rules[f.Rule] = true
		}
	}
	if fixed < 20 || len(rules) < 4 {
		t.Errorf("only %d findings were mended, of the rules %v", fixed, rules)
	}
}
