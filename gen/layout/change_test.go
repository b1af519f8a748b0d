package layout_test

import (
	"testing"

	"gridferry/gen/layout"
)

// What a person does at a change of tool, by what the arm has steps for.
func TestByHand(t *testing.T) {
	step := []layout.Step{{}}
	for _, c := range []struct {
		leave, fetch []layout.Step
		want         string
	}{
		{nil, nil, "take jaw off, fit cup"},
		{step, nil, "fit cup"},
		{nil, step, "take jaw off"},
		{step, step, ""},
	} {
		change := layout.Change{From: &layout.Tool{Name: "jaw", Leave: c.leave, Fetch: step}, To: &layout.Tool{Name: "cup", Fetch: c.fetch, Leave: step}}
		if got := change.ByHand(); got != c.want {
			t.Errorf("%d steps to leave and %d to fetch: %q, wanted %q", len(c.leave), len(c.fetch), got, c.want)
		}
	}
	twin := &layout.Tool{Name: "twin left"}
	twin.Zones = []*layout.Tool{twin}
	if got := (&layout.Change{From: twin, To: &layout.Tool{Name: "cup"}}).ByHand(); got != "take twin off, fit cup" {
		t.Errorf("a tool with zones comes off as %q", got)
	}
}
