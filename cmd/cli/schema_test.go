package cli_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"gridferry/cmd/cli"
)

func run(args ...string) (status int, out, err string) {
	var o, e bytes.Buffer
	status = cli.Main(args, strings.NewReader(""), &o, &e)
	return status, o.String(), e.String()
}

// TestSchemaOfEveryForm: what the Tab key offers is what there is, and what the help names.
func TestSchemaOfEveryForm(t *testing.T) {
	status, offered, _ := run("__complete", "schema", "")
	if status != 0 {
		t.Fatalf("completion: status %d", status)
	}
	_, help, _ := run("schema", "--help")
	forms := 0
	for line := range strings.Lines(offered) {
		name, about, ok := strings.Cut(strings.TrimSpace(line), "\t")
		if !ok {
			continue
		}
		forms++
		status, out, err := run("schema", name)
		var document struct {
			Schema string `json:"$schema"`
			Title  string `json:"title"`
		}
		if e := json.Unmarshal([]byte(out), &document); status != 0 || err != "" || e != nil {
			t.Errorf("%s: status %d, err %q, %v", name, status, err, e)
		}
		if document.Schema != "https://json-schema.org/draft/2020-12/schema" || document.Title != "Gridferry "+about {
			t.Errorf("%s: %+v, wanted the title %q", name, document, about)
		}
		if !strings.Contains(help, "  "+name+" ") || !strings.Contains(help, about) {
			t.Errorf("the help does not name %q", name)
		}
	}
	if forms != 10 {
		t.Errorf("%d forms are offered, wanted 10", forms)
	}
}

func TestSchemaUsedWrongly(t *testing.T) {
	for form, want := range map[string]string{
		"plam": `there is no schema "plam": did you mean "plan"?`,
		"xyz":  `there is no schema "xyz": there are plan, cell, measured, variants, slots, frame-points, tool-points, grid-points, family, case`,
	} {
		if status, out, err := run("schema", form); status != 2 || out != "" || !strings.Contains(err, want) {
			t.Errorf("%s: status %d, out %q, err %q", form, status, out, err)
		}
	}
	for _, args := range [][]string{{"schema"}, {"schema", "plan", "cell"}} {
		if status, out, _ := run(args...); status != 2 || out != "" {
			t.Errorf("%q: status %d, out %q", args, status, out)
		}
	}
}
