package check_test

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/gen/manual"
)

// TestTurnedRanges holds the finding to stops where the sequence means something, and
// what it advises to what the range seems to say.
func TestTurnedRanges(t *testing.T) {
	const first, second = `  - {from: "tray A1:A3", to: "rack A1:A3"}`, `  - {from: "tray B1:B2", to: "pile A1.1, A1.2"}`
	for _, c := range []struct {
		first, second string
		want          string // column, hint; "" for no finding
	}{
		{first, second, ""},
		{`  - {from: "tray A3:A1", to: rack}`, second, `18 write "A1:A3" if that is meant; for another order list the slots: "A3, A2, A1"`},
		{`  - {from: tray A1:A3, to: rack A3:A1}`, second, `33 write "A1:A3" if that is meant; for another order list the slots: "A3, A2, A1"`},
		{`  - {from: "tray B1:A1", to: "rack A1, B1"}`, `  - {from: "tray B2", to: pile}`, `18 write "A1:B1" if that is meant; for another order list the slots: "B1, A1"`},
		{`  - {from: "tray B2:A1", to: rack}`, `  - {from: "tray A3", to: pile}`, `18 write "A1:B2" if that is meant; for another order list the slots`},
		{`  - {from: "tray A2:A2", to: rack}`, second, ""},
		{`  - {from: "tray A3:A1", to: rack, order: {from: shortest, to: by-row}}`, second, ""}, // nobody asks for a sequence
		{`  - {from: "tray A3:A1", to: rack, order: {from: shortest, to: by-row}, take: 2}`, second, `18 write "A1:A3" if that is meant; for another order list the slots: "A3, A2, A1"`},
		{first, `  - {from: "tray B1:B2", to: "pile A1.2:A1.1"}`, `36 write "A1.1:A1.2": a stop is filled from the bottom layer up`},
		{first, `  - {from: "tray B1:B2", to: "pile A2.1:A1.1"}`, `36 write "A1.1:A2.1" if that is meant; for another order list the slots: "A2.1, A1.1"`},
		{first, `  - {chain: ["tray B1:B2", "pile A1.1:A1.2", rack B1:B2]}`, ""},
		{`  - {chain: ["tray B1:B2", "pile A1.1:A1.2", rack B1:B2]}`, `  - {from: "rack B2:B1", to: "tray B1:B2"}`, `18 write "B1:B2" if that is meant; for another order list the slots: "B2, B1"`},
		{`  - {from: "tray B1:B2", to: "pile A1.1:A1.2"}`, `  - {from: "pile A1.2:A1.1", to: "rack A1:A2"}`, ""}, // as it is done anyhow
	} {
		text := strings.Replace(strings.Replace(manual.ExamplePlan, first, c.first, 1), second, c.second, 1)
		got := ""
		for _, f := range findings(t, text) {
			switch {
			case f.Rule == "range-turned" && got == "":
				got = fmt.Sprintf("%d %s", f.Place.Col, f.Hint)
			case f.Rule == "range-turned":
				t.Errorf("%s %s: a second finding at %s", c.first, c.second, f.Place)
			}
		}
		if got != c.want {
			t.Errorf("%s\n%s: got %q, wanted %q", c.first, c.second, got, c.want)
		}
	}
}
