package check

import (
	"fmt"

	"gridferry/gen/balance"
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// rotors looks at how rings that turn stand at the end of the job.
var rotors = Rule{
	Finds: []manual.Page{{
		Name:     "rotor-unbalanced",
		Severity: diag.Warning,
		Doc: `A ring that is to be in balance ("balance", or "order: balanced") is not at the end
of the job: the sum of mass times position of what stands in it, about its axis, is more
than "balance" says. Only masses and positions of the plan count: an empty rotor counts as
in balance, and so do parts that are filled alike. How a rotor may be filled, its maker's
manual says. While a ring is filled, or emptied, it may be out of balance by one part.`,
		Do: `Fill it in opposite pairs, as "order: balanced" does; how a rotor may be filled, the manual
of its maker says.`,
		Bad: `-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
+  rack: {frame: right, first: [80, 60, 15], ring: {radius: 50, places: 6, balance: 1 g}, part: block}
`,
		Good: `-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
+  rack: {frame: right, first: [80, 60, 15], ring: {radius: 50, places: 6, balance: 1 g}, part: block}
-  - {from: "tray A1:A3", to: "rack A1:A3"}
+  - {from: "tray A1:A3", to: "rack A1, A3, A5"}
`,
	}},
	Watch: watchRotors,
}

// spinning is a rotor and what stands on it.
type spinning struct {
	*layout.Rotor
	grids []*layout.Grid
	parts map[*layout.Grid]map[int]*layout.Part
}

type rotorWatcher struct {
	c   *Context
	all []*spinning
	of  map[*layout.Rotor]*spinning
}

func watchRotors(c *Context) Watcher {
	w := &rotorWatcher{c, nil, map[*layout.Rotor]*spinning{}}
	ids := c.Layout.IDs()
	for _, g := range c.Layout.Grids {
		if g.Rotor == nil || g.Rotor.Asked.IsZero() {
			continue
		}
		t := w.of[g.Rotor]
		if t == nil {
			t = &spinning{g.Rotor, nil, map[*layout.Grid]map[int]*layout.Part{}}
			w.of[g.Rotor] = t
			w.all = append(w.all, t)
		}
		t.grids = append(t.grids, g)
		t.parts[g] = map[int]*layout.Part{}
		for i := range g.Size() {
			if g.Full.Has(i) {
				t.parts[g][i] = c.Layout.PartOf(ids.At(g, i), g.Part)
			}
		}
	}
	if w.all == nil {
		return nil
	}
	return w
}

// Kinds is what changes slots.
func (w *rotorWatcher) Kinds() []move.Kind { return move.Handlings }

func (w *rotorWatcher) See(m *move.Move, s *Scene) {
	if s.Grid == nil {
		return
	}
	t := w.of[s.Grid.Grid.Rotor]
	switch {
	case t == nil:
	case m.Takes():
		delete(t.parts[s.Grid.Grid], s.Slot)
	default:
		t.parts[s.Grid.Grid][s.Slot] = s.Gripper.Part
	}
}

func (w *rotorWatcher) Done() {
	for _, t := range w.all {
		t.report(w.c)
	}
}

// load is one part on a rotor.
type load struct {
	grid   *layout.Grid
	slot   int
	moment balance.Moment
}

// loads are the parts on the rotor, grid by grid, slot by slot.
func (t *spinning) loads() (all []load) {
	for _, g := range t.grids {
		for i := range g.Size() {
			if p, full := t.parts[g][i]; full {
				all = append(all, load{g, i, t.Moment(g, g.Slot(i), p)})
			}
		}
	}
	return all
}

func (t *spinning) report(c *Context) {
	loads := t.loads()
	var sum balance.Moment
	one := 0.0
	for _, l := range loads {
		sum = sum.Add(l.moment)
		one = max(one, l.moment.Size())
	}
	if size := sum.Size(); size > t.Within && !balance.Balanced(size-t.Within, one) {
		c.find("rotor-unbalanced", t.Asked, "at the end of the job the ring %s is out of balance by %.6g g·mm, as %.4g g at its radius of %.6g mm: %s",
			t.names(), size, size/t.Radius, t.Radius, t.alone(loads)).
			hint("%s", t.remedy(sum, one))
	}
}

// names are the grids of the rotor.
func (t *spinning) names() string {
	var names []string
	for _, g := range t.grids {
		names = append(names, fmt.Sprintf("%q", g.Name))
	}
	return wording.List(names, 4)
}

// label is a slot, with its grid where the rotor has several.
func (t *spinning) label(g *layout.Grid, i int) string {
	if len(t.grids) > 1 {
		return g.Name + " " + g.Label(g.Slot(i))
	}
	return g.Label(g.Slot(i))
}

// alone says which parts have none as heavy opposite them.
func (t *spinning) alone(loads []load) string {
	const most = 500 // parts that are compared with each other
	words := wording.Count(len(loads), "part") + " stand in it"
	if len(loads) == 1 {
		words = "one part stands in it"
	}
	if len(loads) > most {
		return words
	}
	var names []string
	paired := make([]bool, len(loads)) // each with one other: layers have several in one direction
	for i, a := range loads {
		for k := i + 1; k < len(loads) && !paired[i]; k++ {
			if b := loads[k]; !paired[k] && balance.Balanced(a.moment.Add(b.moment).Size(), a.moment.Size()) {
				paired[i], paired[k] = true, true
			}
		}
		if !paired[i] && a.moment.Size() > 0 { // one in the axis needs none
			names = append(names, t.label(a.grid, a.slot))
		}
	}
	return words + ", with none opposite " + wording.List(names, 8)
}

// remedy is a slot in which one more part, or one less, would bring balance.
func (t *spinning) remedy(sum balance.Moment, one float64) string {
	const manual = "how it may be filled, the manual of its maker says"
	for _, g := range t.grids {
		for i := range g.Size() {
			p, full := t.parts[g][i]
			if g.Missing.Has(i) {
				continue
			}
			if !full {
				p = g.Part
			}
			if p == nil {
				continue
			}
			moment, words := t.Moment(g, g.Slot(i), p), "one more %q in %s would balance it"
			if full {
				moment, words = balance.Moment{}.Sub(moment), "without the %q in %s it would be in balance"
			}
			if left := sum.Add(moment).Size(); left <= t.Within || balance.Balanced(left, one) {
				return fmt.Sprintf(words, p.Name, t.label(g, i)) + "; " + manual
			}
		}
	}
	return "\"order: balanced\" fills and empties a ring so that it stays in balance, where that can be; " + manual
}
