package check

import (
	"strings"

	"gridferry/plan/diag"
)

// limits says once what is not known and therefore not checked.
var limits = Rule{
	Finds: []Find{{
		Name:     "limits-unknown",
		Severity: diag.Warning,
		Doc: `What the cell does not say about its machine is not checked. One finding lists
it all. "keep_out: {}" says that there is nothing to keep out of. The moment, which not
every maker states, is listed with the others and is no finding by itself.`,
		Bad:  "-    rated_load: 3\n-  keep_out: {}\n",
		Good: "-  keep_out: {}\n+  keep_out: {post: {from: [-60, -60, 0], to: [60, 60, 400]}}\n",
	}},
	Layout: checkLimits,
}

func checkLimits(c *Context) {
	m := &c.Layout.Cell.Machine
	var unknown []string
	needed := 0
	for _, limit := range []struct {
		name         string
		known, alone bool // alone: worth a finding by itself
	}{
		{"rated_load", m.RatedLoad.IsSet(), true},
		{"moment", m.Moment.IsSet(), false},
		{"speed", m.Speed.IsSet(), true},
		{"acceleration", m.Acceleration.IsSet(), true},
		{"reach", m.Radius.IsSet() && m.Height.IsSet(), true},
		{"keep_out", c.Layout.Cell.HasKeepOut, true},
	} {
		if !limit.known {
			unknown = append(unknown, limit.name)
			if limit.alone {
				needed++
			}
		}
	}
	if needed > 0 {
		c.find("limits-unknown", c.Layout.Cell.Place, "the cell does not say, so it is not checked: %s", strings.Join(unknown, ", ")).
			hint("measure or look up what the machine allows and write it under \"machine\"; \"keep_out: {}\" says that nothing is in the way")
	}
}
