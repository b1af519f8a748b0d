package order

import (
	"fmt"
	"io"
	"strings"

	"gridferry/gen/layout"
	"gridferry/plan"
)

// writeMotion writes what an entry itself says of how the arm moves.
func writeMotion(w io.Writer, e *layout.Entry) {
	if m := e.Own(); m != nil {
		fmt.Fprintf(w, "    motion: {%s}\n", strings.Join(motionKeys(m), ", "))
	}
}

func motionKeys(m *layout.Words) []string {
	var keys, speeds []string
	figure := func(to *[]string, key string, v plan.Real) {
		if v.IsSet() {
			*to = append(*to, key+": "+number(v.V))
		}
	}
	word := func(key string, t plan.Text) {
		if t.IsSet() {
			keys = append(keys, key+": "+t.V)
		}
	}
	figure(&keys, "approach", m.Approach)
	word("along", m.Along.Word)
	if d := m.Along.Direction; d.IsSet() {
		keys = append(keys, fmt.Sprintf("along: [%s, %s, %s]", number(d.V[0]), number(d.V[1]), number(d.V[2])))
	}
	figure(&speeds, "travel", m.Travel)
	figure(&speeds, "near", m.Near)
	figure(&speeds, "loaded", m.Loaded)
	if len(speeds) > 0 {
		keys = append(keys, "speed: {"+strings.Join(speeds, ", ")+"}")
	}
	figure(&keys, "fly_by", m.FlyBy)
	word("clear", m.Clear)
	if m.Entry.IsSet() {
		var names []string
		for _, p := range m.Entry.Poses {
			names = append(names, p.V)
		}
		keys = append(keys, "entry: ["+strings.Join(names, ", ")+"]")
	}
	word("configuration", m.Configuration)
	figure(&keys, "release_above", m.ReleaseAbove)
	word("optional_stop", m.OptionalStop)
	return keys
}
