package check_test

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/gen/manual"
)

// TestGramsForKilograms: grams are offered for a mass that would carry as so many, and
// not for a part that is merely too heavy for a machine that carries 3 kg.
func TestGramsForKilograms(t *testing.T) {
	for mass, want := range map[string]string{
		"150": `a bare number is kg; if grams are meant, write "150 g"`, "20 lb": "", "5": "", "9000": "",
	} {
		text := strings.Replace(manual.ExamplePlan, "block: {mass: 0.15,", "block: {mass: "+mass+",", 1)
		hints := map[string]int{}
		for _, f := range findings(t, text) {
			if f.Rule == "rated-load-exceeded" {
				hints[f.Hint]++
			}
		}
		if fmt.Sprint(hints) != fmt.Sprint(map[string]int{want: 1}) {
			t.Errorf("mass: %s: got the hints %v, wanted %q", mass, hints, want)
		}
	}
}
