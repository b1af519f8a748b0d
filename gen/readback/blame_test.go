package readback_test

import (
	"strings"
	"testing"

	"gridferry/gen/readback"
)

// TestOneCauseOneFinding: a slip in a template is told where the template has it, once,
// however many kinds of move and fields it spoils, with the move that showed it.
func TestOneCauseOneFinding(t *testing.T) {
	const point = "x={{.X}} y={{.Y}} z={{.Z}}"
	for _, c := range []struct {
		name, old, with string
		places, say     []string // of each finding
	}{
		{"two axes", point, "x={{.Y}} y={{.X}} z={{.Z}}", []string{"31:23"}, []string{"x and y have changed places: move 2 (travel to clear) has x "}},
		{"three axes", point, "x={{.Y}} y={{.Z}} z={{.X}}", []string{"31:23"}, []string{"move 2 (travel to clear) has x "}},
		{"two angles", "roll={{.Roll}} pitch={{.Pitch}}", "roll={{.Pitch}} pitch={{.Roll}}", []string{"31:53"}, []string{"roll and pitch have changed places: "}},
		{"an output", "grip output={{.Signal}}", "grip output={{plus .Signal 1}}", []string{"35:20"}, []string{"has signal 7, but line "}},
		{"two blocks", "speed={{.Speed}}", "speed=1{{.Speed}}", []string{"22:40", "27:42"}, []string{"(travel to clear) has speed", "(straight to "}},
		{"a level that is always on", "release output={{.Signal}} level={{.Level}}", "release output={{.Signal}} level=on", []string{"38:1"}, []string{"has level off, but line "}},
		{"another move", "grip output={{.Signal}}", "release output={{.Signal}}", []string{"34:1"}, []string{"is grip at open A1, but line "}},
	} {
		f, j := load(t, starterWith(t, c.old, c.with), "own"), job(t, demos+"/tube-rack.plan.yaml")
		if _, ok := write(t, j, f); ok {
			t.Errorf("%s goes unseen", c.name)
			continue
		}
		found := j.Findings.Sorted()
		if len(found) != len(c.places) {
			t.Errorf("%s: %d findings\n%s", c.name, len(found), told(&j.Findings))
			continue
		}
		for i, f := range found {
			if f.Rule != readback.RuleDiffers || f.Place.String() != "own/program.tmpl:"+c.places[i] || !strings.Contains(f.Message, c.say[i]) ||
				len(f.Notes) != 1 || !strings.HasPrefix(f.Notes[0].Place.String(), demos+"/tube-rack.plan.yaml:") {
				t.Errorf("%s: %+v, wanted it at %s with %q", c.name, f, c.places[i], c.say[i])
			}
		}
	}
}
