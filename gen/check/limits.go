package check

import (
	"strings"

	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// limits says once what is not known and therefore not checked.
var limits = Rule{
	Finds: []manual.Page{{
		Name:     "limits-unknown",
		Severity: diag.Warning,
		Doc: `What the cell does not say about its machine is not checked. One finding lists
it all. "keep_out: {}" says that there is nothing to keep out of.`,
		Do: `Look up or measure what the machine allows, and write it under "machine" of the cell;
"keep_out: {}" says that nothing is in the way.`,
		Bad:  "-    rated_load: 3\n-  keep_out: {}\n",
		Good: "-  keep_out: {}\n+  keep_out: {post: {from: [-60, -60, 0], to: [60, 60, 400]}}\n",
	}},
	Layout: checkLimits,
}

func checkLimits(c *Context) {
	m := &c.Layout.Cell.Machine
	var unknown []string
	for _, limit := range []struct {
		name  string
		known bool
	}{
		{"rated_load", m.RatedLoad.IsSet()},
		{"speed", m.Speed.IsSet()},
		{"acceleration", m.Acceleration.IsSet()},
		{"reach", m.Radius.IsSet() && m.Height.IsSet()},
		{"keep_out", c.Layout.Cell.HasKeepOut},
	} {
		if !limit.known {
			unknown = append(unknown, limit.name)
		}
	}
	if len(unknown) > 0 {
		c.find("limits-unknown", c.Layout.Cell.Place, "the cell does not say, so it is not checked: %s", strings.Join(unknown, ", ")).
			hint("measure or look up what the machine allows and write it under \"machine\"; \"keep_out: {}\" says that nothing is in the way")
	}
}
