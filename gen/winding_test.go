package gen_test

import (
	"bytes"
	"strings"
	"testing"

	"gridferry/gen"
)

// TestAxisIsReadBackStrictly: a turn that is a whole one off puts the tool where it has to
// be, but drives the axis round.
func TestAxisIsReadBackStrictly(t *testing.T) {
	text := strings.NewReplacer("height: [0, 400]}", "height: [0, 400]}, rotation: {range: [-360, 360]}", "300, 0, 300]", "300, 0, 300], rpy: [180, 0, 180]",
		"filled: all", "filled: all, rpy: [180, 0, 180]", "[300, 200, 20], part: block", "[300, 200, 20], part: block, rpy: [180, 0, -179.943]").Replace(runPlan)
	j := jobOf(t, text)
	f := loaded(t, j, "iso6983", "")
	var program bytes.Buffer
	if err := j.Write(&program, f); err != nil || !j.Check() {
		t.Fatal(err, errorsOf(j))
	}
	for old, same := range map[string]bool{"": true, "C180.057": false, "C180.000": false} {
		changed := program.String()
		if old != "" {
			changed = strings.ReplaceAll(changed, old, map[string]string{"C180.057": "C-179.943", "C180.000": "C-180.000"}[old])
		}
		v, err := j.Verify(f, []gen.ProgramFile{{Name: "a.nc", Text: strings.NewReader(changed)}})
		if err != nil || v == nil || v.Same() != same || (changed == program.String()) != same {
			t.Errorf("%q: %+v, %v\n%s", old, v, err, errorsOf(j))
		}
	}
}
