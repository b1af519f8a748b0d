package check

import "strings"

// limits says once what is not known and therefore not checked.
var limits = Rule{
	Names:  []string{"limits-unknown"},
	Doc:    "What the cell does not say about its machine is not checked. One warning lists it all.",
	Layout: checkLimits,
}

func checkLimits(c *Context) {
	m := &c.Layout.Cell.Machine
	var unknown []string
	for _, limit := range []struct {
		name  string
		known bool
	}{
		{"payload", m.Payload.IsSet()},
		{"speed", m.Speed.IsSet()},
		{"acceleration", m.Acceleration.IsSet()},
		{"reach", m.Radius.IsSet() && m.Height.IsSet()},
		{"keep_out", c.Layout.Cell.HasKeepOut},
	} {
		if !limit.known {
			unknown = append(unknown, limit.name)
		}
	}
	if unknown != nil {
		c.List.Warnf("limits-unknown", c.Layout.Cell.Place, "the cell does not say, so it is not checked: %s", strings.Join(unknown, ", ")).
			WithHint("measure or look up what the machine allows and write it under \"machine\"; \"keep_out: {}\" says that nothing is in the way")
	}
}
