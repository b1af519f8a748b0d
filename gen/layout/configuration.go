package layout

import (
	"gridferry/gen/arm"
	"gridferry/plan"
	"gridferry/plan/wording"
)

// configuration is the one that a motion asks for.
func (r *resolver) configuration(asked plan.Text) arm.Configuration {
	if !asked.IsSet() {
		return 0
	}
	if r.out.Arm == nil {
		r.list.Errorf("arm-unknown", asked.Place, "a configuration is asked for, but the cell does not say what the arm is").
			WithHint("give the arm in the cell, under \"arm\"")
		return 0
	}
	c, ok := r.out.Arm.Words(asked.V)
	if !ok {
		found := r.list.Errorf("no-such-configuration", asked.Place, "the arm has no configuration %q", asked.V)
		if all := r.out.Arm.Configurations(); len(all) == 0 {
			found.WithHint("an arm of its kind has no words for its configurations; leave the key out")
		} else {
			found.WithHint("it has %s", wording.List(arm.Texts(all), len(all)))
		}
	}
	return c
}
