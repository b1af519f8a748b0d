package check

import (
	"fmt"
	"strings"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
)

// turned looks for ranges of slots that are written the other way round.
var turned = Rule{
	Finds: []manual.Page{{
		Name:     "range-turned",
		Severity: diag.Warning,
		Doc: `A stop of a transfer names a range such as "A3:A1". Two corners make a rectangle,
whichever comes first: it is visited in the entry's order, from A1 on, and not
from A3 back. Slots in a list keep the list's order. In a source, "A1.3:A1.1" is what
is done anyhow, from the top layer down.`,
		Do: `Write the corners in the order of rows and columns if that is meant; for another order
list the slots one by one.`,
		Bad:  "-  - {from: \"tray A1:A3\", to: \"rack A1:A3\"}\n+  - {from: \"tray A3:A1\", to: \"rack A1:A3\"}\n",
		Good: "-  - {from: \"tray A1:A3\", to: \"rack A1:A3\"}\n+  - {from: \"tray A3, A2, A1\", to: \"rack A1:A3\"}\n",
	}},
	Layout: func(c *Context) {
		for _, e := range c.Layout.Entries {
			for i := range e.Stops {
				for _, t := range e.Stops[i].Turned {
					checkTurned(c, &e.Stops[i], &t)
				}
			}
		}
	},
}

func checkTurned(c *Context, s *layout.Stop, t *layout.Turned) {
	lowest, highest := label(t, t.Rect.Lo), label(t, t.Rect.Hi)
	f := c.find("range-turned", t.Place, "%q is the rectangle %s:%s, taken in the order of the entry", t.Written, lowest, highest)
	if t.Layer {
		f.hint("write \"%s:%s\": a stop is filled from the bottom layer up", lowest, highest)
		return
	}
	f.hint("write \"%s:%s\" if that is meant; for another order list the slots%s", lowest, highest, listed(s.Grid, t))
}

// label writes a slot with its layer where the range that was written has one.
func label(t *layout.Turned, at slot.Slot) string {
	return at.Label(strings.Contains(t.Written, "."))
}

// listed is the slots of a short row or column as the range seems to mean them,
// ready to be copied; "" where that is not plain.
func listed(g *layout.Grid, t *layout.Turned) string {
	const most = 12
	lo, hi := t.Rect.Lo, t.Rect.Hi
	if lo.Row != hi.Row && lo.Col != hi.Col || lo.Layer != hi.Layer || t.Rect.Size() > most {
		return ""
	}
	var names []string
	for k := t.Rect.Size() - 1; k >= 0; k-- {
		at := slot.Slot{Row: lo.Row, Col: lo.Col + int32(k), Layer: lo.Layer}
		if lo.Col == hi.Col {
			at.Row, at.Col = lo.Row+int32(k), lo.Col
		}
		if g.Has(at) {
			names = append(names, label(t, at))
		}
	}
	return fmt.Sprintf(": \"%s\"", strings.Join(names, ", "))
}
