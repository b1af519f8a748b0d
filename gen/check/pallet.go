package check

import (
	"fmt"
	"strconv"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// pallet compares the parts of a grid with the footprint that they stand on.
var pallet = Rule{
	Finds: []manual.Page{{
		Name:     "part-over-edge",
		Severity: diag.Error,
		Doc: `A part comes to lie over the edge of its grid's "pallet", or lies there from the start.
The pallet reaches from the frame's origin along +X and +Y, in a size of ISO 6780; a part
that is put down lies as the tool turned it on the way ("part-turned").`,
		Do:   `Move "first", change the pitch, leave slots out, or turn the parts.`,
		Bad:  palletGrid("[15, 14.5, 15]"),
		Good: palletGrid("[15, 15, 15]"),
	}, {
		Name:     "pallet-unchecked",
		Severity: diag.Warning,
		Doc: `A grid with "pallet" does not say which part it holds, or that part has no size, so
that only the middles of the slots can be held to the pallet's edge.`,
		Do:   `Write "part" into the grid, and "size" into the part.`,
		Bad:  "-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}\n+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], pallet: 1200x800}\n",
		Good: palletGrid("[15, 15, 15]"),
	}},
	Watch: watchPallets,
}

// palletGrid is the example plan with its rack on a pallet, slot A1 where it is said.
func palletGrid(first string) manual.Example {
	return manual.Example(`-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: ` + first + `, part: block, pallet: 1200x800}
`)
}

// edges holds the parts of one grid to the pallet under them.
type edges struct {
	*layout.Grid
	worst slot.Slot
	over  float64 // there
	count int     // parts that are over an edge
}

type palletWatcher struct {
	c    *Context
	all  []*edges
	edge map[*layout.Grid]*edges
}

func watchPallets(c *Context) Watcher {
	w := &palletWatcher{c, nil, map[*layout.Grid]*edges{}}
	for _, g := range c.Layout.Grids {
		if g.Source.Pallet == nil {
			continue
		}
		if !g.Part.Sized() {
			c.find("pallet-unchecked", g.Source.Pallet.Name.Place, "the parts of the grid %q have no known size, so only their middles are held to the pallet", g.Name).
				hint("add \"part:\" to the grid, and the part's \"size\" under \"parts\"")
		}
		e := &edges{Grid: g}
		w.all = append(w.all, e)
		w.edge[g] = e
		for i := range g.Size() {
			if g.Full.Has(i) {
				e.see(g.Slot(i), g.Part, g.Lies.Way(g.Lies.At(i)))
			}
		}
	}
	if w.all == nil {
		return nil
	}
	return w
}

func (w *palletWatcher) Kinds() []move.Kind { return []move.Kind{move.Release} }

func (w *palletWatcher) See(m *move.Move, s *Scene) {
	if s.Grid == nil {
		return
	}
	if e := w.edge[s.Grid.Grid]; e != nil && e.see(m.Target.Slot, s.Gripper.Part, s.lie(m)) {
		w.c.harm[m.Place] = true
	}
}

func (w *palletWatcher) Done() {
	for _, e := range w.all {
		if name := e.Source.Pallet.Name; e.count > 0 {
			w.c.find("part-over-edge", name.Place, "the grid %q has %s over the edge of the pallet %s, by %s mm at %q",
				e.Name, wording.Count(e.count, "part"), name.V, strconv.FormatFloat(e.over, 'f', 2, 64), e.Label(e.worst)).
				hint("%s", e.overEdge())
		}
	}
}

// overEdge is what to do about parts over the edge.
func (e *edges) overEdge() string {
	if e.Stacked() {
		return "the boxes of the pattern are not over it: turn the tool alike at both ends, or take \"offsets\" back"
	}
	return fmt.Sprintf("the pallet reaches from the origin of the frame %q along +X and +Y: move \"first\", change the pitch, leave slots out, or turn the tool otherwise", e.Frame.Name)
}

// see takes in a part that lies so in a slot; true where it is over the edge.
func (e *edges) see(at slot.Slot, p *layout.Part, lie *layout.Lie) bool {
	middle, half, corner := e.At(at), geom.Vec{}, e.PalletCorner()
	if p.Sized() {
		box := p.Solid(e.Pose(at, p, lie))
		middle, half = box.Centre, box.Reach()
	}
	middle, size := middle.Sub(corner), e.Source.Pallet.Size
	over := max(half.X-middle.X, middle.X+half.X-size[0], half.Y-middle.Y, middle.Y+half.Y-size[1])
	if over <= touch {
		return false
	}
	if e.count++; over > e.over {
		e.worst, e.over = at, over
	}
	return true
}
