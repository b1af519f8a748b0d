package check

import (
	"slices"

	"gridferry/gen/arm"
	"gridferry/gen/layout"
	"gridferry/plan/wording"
)

// NotLookedAt is what no rule looked at, each with why: "no error" claims nothing about
// it. What limits-unknown reports is not said again.
func NotLookedAt(l *layout.Layout) []string {
	parts := append(fingerless(l), jointless(l)...)
	for _, more := range []struct {
		what, lacks string
		names       []string
	}{
		{"width of the tool", "radius", bare(l)},
		{"room of parts", "size", unsized(l)},
	} {
		if len(more.names) > 0 {
			parts = append(parts, more.what+" (no "+more.lacks+" of "+wording.List(more.names, 6)+")")
		}
	}
	if !l.Cell.Machine.Moment.IsSet() {
		parts = append(parts, "moment on the flange (no machine.moment)")
	}
	return parts
}

// jointless says what is not known of the joints.
func jointless(l *layout.Layout) []string {
	if l.Arm == nil {
		return []string{"joints (no arm)", "paths of travels (joint paths need an arm)"}
	}
	var parts []string
	for _, more := range []struct {
		what, lacks string
		has         func(joint int) bool
	}{
		{"speeds of joints", "speed of", func(i int) bool { return l.Arm.Speeds[i] > 0 }},
		{"room of the arm", "links behind", func(i int) bool { return len(l.Arm.Shapes[i+1]) > 0 }},
	} {
		var names []string
		for i, j := range l.Arm.Joints {
			if !more.has(i) {
				names = append(names, j.Name)
			}
		}
		if len(names) > 0 {
			parts = append(parts, more.what+" (no "+more.lacks+" "+wording.List(names, arm.MaxJoints)+")")
		}
	}
	return parts
}

// fingerless says that nothing is known of fingers, of all the tools or of some.
func fingerless(l *layout.Layout) []string {
	var names []string
	used := l.UsedTools()
	for _, t := range used {
		if t.Body == nil {
			names = append(names, t.Name)
		}
	}
	switch len(names) {
	case 0:
		return nil
	case len(used):
		return []string{"fingers (no tool body)"}
	}
	return []string{"fingers (no body of " + wording.List(names, 6) + ")"}
}

// bare is the tools of which only the TCP is known.
func bare(l *layout.Layout) (names []string) {
	for _, t := range l.UsedTools() {
		if t.Radius == 0 && t.Body == nil {
			names = append(names, t.Name)
		}
	}
	return names
}

// unsized is the parts that stand somewhere and may reach anywhere.
func unsized(l *layout.Layout) (names []string) {
	for _, g := range l.Grids {
		if p := l.PartIn(g); p != nil && !p.Sized() && !slices.Contains(names, p.Name) {
			names = append(names, p.Name)
		}
	}
	return names
}
