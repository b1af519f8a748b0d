package cli_test

import (
	"encoding/json"
	"strings"
	"testing"
)

// TestSchemaOfEveryForm: what the Tab key offers is what there is, and what the help names.
func TestSchemaOfEveryForm(t *testing.T) {
	offered := gridferry("", "__complete", "schema", "")
	if offered.status != 0 {
		t.Fatalf("completion: status %d", offered.status)
	}
	help := gridferry("", "schema", "--help").out
	forms := 0
	for line := range strings.Lines(offered.out) {
		name, about, ok := strings.Cut(strings.TrimSpace(line), "\t")
		if !ok {
			continue
		}
		forms++
		r := gridferry("", "schema", name)
		var document struct {
			Schema string `json:"$schema"`
			Title  string `json:"title"`
		}
		if err := json.Unmarshal([]byte(r.out), &document); r.status != 0 || r.err != "" || err != nil {
			t.Errorf("%s: status %d, err %q, %v", name, r.status, r.err, err)
		}
		if document.Schema != "https://json-schema.org/draft/2020-12/schema" || document.Title != "Gridferry "+about {
			t.Errorf("%s: %+v, wanted the title %q", name, document, about)
		}
		if !strings.Contains(help, "  "+name+" ") || !strings.Contains(help, about) {
			t.Errorf("the help does not name %q", name)
		}
	}
	if forms != 11 {
		t.Errorf("%d forms are offered, wanted 11", forms)
	}
}

func TestSchemaUsedWrongly(t *testing.T) {
	for form, want := range map[string]string{
		"plam": `there is no schema "plam": did you mean "plan"?`,
		"xyz":  `there is no schema "xyz": there are plan, cell, measured, variants, slots, frame-points, tool-points, grid-points, family, case, findings`,
	} {
		if r := gridferry("", "schema", form); r.status != 2 || r.out != "" || !strings.Contains(r.err, want) {
			t.Errorf("%s: %+v", form, r)
		}
	}
	for _, args := range [][]string{{"schema"}, {"schema", "plan", "cell"}} {
		if r := gridferry("", args...); r.status != 2 || r.out != "" {
			t.Errorf("%q: %+v", args, r)
		}
	}
}
