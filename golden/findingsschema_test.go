package golden

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// TestFindingsFitTheirSchema holds what "check --format json" prints, of all that can be wrong and of all
// demos with their slots, to the schema that is printed.
func TestFindingsFitTheirSchema(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: all bad plans are checked")
	}
	schema := readSchema(t, "findings").whole
	demos := absolute(t, "../testdata/demo")
	t.Chdir(badFolder)
	all := checkedTogether("json").stdout
	if !fits(t, schema, all) {
		t.Error("the findings of the bad plans do not fit")
	}
	for was, is := range map[string]string{`"severity": "error"`: `"severity": "grave"`, `"rule": "`: `"rule": "R`, `"line": `: `"line": -`, `"message"`: `"massage"`, `"hint": "`: `"hint": "", "x": "`} {
		if fits(t, schema, strings.Replace(all, was, is, 1)) {
			t.Errorf("%s for %s fits", is, was)
		}
	}
	plans, err := filepath.Glob(filepath.Join(demos, "*.plan.yaml"))
	if err != nil || len(plans) == 0 {
		t.Fatal(err)
	}
	for _, plan := range append(plans, "columns-short.plan.yaml") {
		r := run("check", plan, "--slots", "--format", "json")
		if !fits(t, schema, r.stdout) {
			t.Errorf("%s does not fit: %s", plan, r.stderr)
		}
		if fits(t, schema, strings.Replace(r.stdout, `"grids"`, `"trays"`, 1)) {
			t.Errorf("%s fits without its grids", plan)
		}
	}
}

func fits(t *testing.T, schema *jsonschema.Schema, text string) bool {
	t.Helper()
	value, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return schema.Validate(value) == nil
}
