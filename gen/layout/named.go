package layout

import (
	"slices"

	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Named is a part with an id, and where that is written.
type Named struct {
	ID        string
	Part      *Part // what it is; nil where the plan does not say
	file      *string
	line, col int32
}

// Place is where the id is written.
func (n *Named) Place() diag.Place {
	return plan.Field{V: n.ID, Line: n.line, Col: n.col}.In(*n.file).Place
}

// Named is the part with an id; nil where no part has it.
func (l *Layout) Named(id string) *Named {
	if k := l.byID[id]; k > 0 {
		return &l.named[k-1]
	}
	return nil
}

// IDs says which parts are in the slots of the grids while a job goes on: by grid and slot the number of a part
// with an id, 0 for one without.
type IDs struct {
	l  *Layout
	in map[*Grid][]int32
}

// IDs are those before the first move: of a resumed job, those that the transfers before it leave.
func (l *Layout) IDs() *IDs {
	d := l.FirstIDs()
	for _, g := range l.Grids {
		if g.present != nil {
			d.in[g] = slices.Clone(g.present)
		}
	}
	return d
}

// FirstIDs are those before the first transfer of the whole job.
func (l *Layout) FirstIDs() *IDs { return &IDs{l, map[*Grid][]int32{}} }

// Keep makes those of a grid what a resumed job begins with, as far as its slots are full.
func (d *IDs) Keep(g *Grid) {
	if !d.l.HasIDs() || g.Feeder() {
		return
	}
	g.present = make([]int32, g.Size())
	for i := range g.present {
		if g.Full.Has(i) {
			g.present[i] = d.At(g, i)
		}
	}
}

// At is the number of the part in a slot.
func (d *IDs) At(g *Grid, i int) int32 {
	if in, some := d.in[g]; some {
		return in[i]
	}
	if g.ids == nil {
		return 0
	}
	return g.ids[i]
}

// Put says that a part is in a slot now, or with 0 one without an id, or none.
func (d *IDs) Put(g *Grid, i int, number int32) {
	if g.Feeder() || number == d.At(g, i) {
		return
	}
	in, some := d.in[g]
	if !some {
		in = make([]int32, g.Size())
		copy(in, g.ids)
		d.in[g] = in
	}
	in[i] = number
}

// Number is that of the part with an id; 0 for nil.
func (l *Layout) Number(id *string) int32 {
	if id == nil {
		return 0
	}
	return l.byID[*id]
}

// ID is that of a part with a number; nil for none.
func (l *Layout) ID(number int32) *string {
	if number == 0 {
		return nil
	}
	return &l.named[number-1].ID
}

// PartOf is what the part with a number is, and otherwise for one without.
func (l *Layout) PartOf(number int32, otherwise *Part) *Part {
	if number == 0 {
		return otherwise
	}
	return l.named[number-1].Part
}

// HasIDs reports whether any part has one.
func (l *Layout) HasIDs() bool { return len(l.named) > 0 }

// name gives a part its id, and says its number; 0 where another one has it, which is reported.
func (r *resolver) name(file *string, id plan.Field, part *Part) int32 {
	l := r.out
	if was := l.Named(id.V); was != nil {
		r.list.Errorf("id-repeated", id.In(*file).Place, "the id %q is that of another part already", id.V).
			WithNote(was.Place(), "it is given here first").WithHint("give every part of the plan an id of its own")
		return 0
	}
	if l.byID == nil {
		l.byID = map[string]int32{}
	}
	l.named = append(l.named, Named{id.V, part, file, id.Line, id.Col})
	l.byID[id.V] = int32(len(l.named))
	return int32(len(l.named))
}

// contents is the slots of a grid that its table of contents fills, each with its part's id but for those that are
// broken today: what the table says of these is held to the plan, and nothing has the id.
func (r *resolver) contents(grid *Grid, g *plan.Grid, broken Slots) (Slots, bool) {
	c := g.Contents
	full, good := NewSlots(grid.Size()), !c.Unread
	grid.ids = make([]int32, grid.Size())
	first := map[int]plan.Field{} // by slot
	for i := range c.Lines {
		line := &c.Lines[i]
		if r.list.Full() {
			return nil, false
		}
		at, ok := r.single(grid, line.Slot.In(c.Shown), line.Slot.V)
		if !ok {
			good = false
			continue
		}
		k := grid.Index(at)
		if full.Has(k) {
			r.list.Errorf("slot-repeated", line.Slot.In(c.Shown).Place, "the slot %q of the grid %q is named twice", grid.Label(at), grid.Name).
				WithNote(first[k].In(c.Shown).Place, "it stands here first").WithHint("name every slot once")
			good = false
			continue
		}
		full.Add(k)
		first[k] = line.Slot
		part, known := r.partIn(grid, g, c, line)
		if broken.Has(k) {
			good = good && known
			continue
		}
		if grid.ids[k] = r.name(&c.Shown, line.ID, part); grid.ids[k] == 0 || !known {
			good = false
		}
	}
	r.kinds(grid)
	return full, good && r.asFilled(grid, g, full, first)
}

// kinds takes down what stands in a grid by its table of contents, where that is not the same in all slots.
func (r *resolver) kinds(g *Grid) {
	if g.Part != nil {
		return
	}
	for i, number := range g.ids {
		part := r.out.PartOf(number, nil)
		if part == nil {
			continue
		}
		if g.Holds == nil {
			g.Holds = part
			g.Lies.usual = part
		}
		if g.mixed = g.mixed || part != g.Holds; part.Sized() {
			g.Lies.Set(i, g.Size(), g.Lies.Number(&Lie{part, part.rightly()}))
		}
	}
}

// usual settles what usually stands in each grid, so that all else is told from it.
func (r *resolver) usual() {
	for _, g := range r.out.Grids {
		if part := r.out.PartIn(g); part.Sized() {
			g.Lies.usual = part
		}
	}
}

// stock is what all parts of a grid are at the start; nil where that is not known, or they are of several kinds.
func (g *Grid) stock() *Part {
	if g.Part == nil && !g.mixed {
		return g.Holds
	}
	return g.Part
}

// partIn is what stands in a slot, as its line says or the grid.
func (r *resolver) partIn(grid *Grid, g *plan.Grid, c *plan.Contents, line *plan.ContentsLine) (*Part, bool) {
	if line.Part.V == "" {
		if grid.Part == nil && !g.Written.Has("part") {
			r.list.Errorf("part-unknown", line.Slot.In(c.Shown).Place, "neither the line nor the grid %q says what stands in %q", grid.Name, line.Slot.V).
				WithHint("add \"part:\" to the grid, or a column \"part\" to the table")
			return nil, false
		}
		return grid.Part, true
	}
	part := lookUp(r, "part", line.Part.In(c.Shown), r.partOf)
	if part != nil && grid.Part != nil && part != grid.Part {
		r.list.Errorf("contents-differ", line.Part.In(c.Shown).Place, "the line says that %q holds a %q, but the grid holds the part %q", line.Slot.V, part.Name, grid.Part.Name).
			WithNote(g.Part.Place, "the grid's part is given here").WithHint("leave \"part\" out of a grid that holds more than one kind")
		return nil, false
	}
	return part, part != nil
}

// asFilled holds a table of contents to "filled", where both are written.
func (r *resolver) asFilled(grid *Grid, g *plan.Grid, full Slots, lines map[int]plan.Field) bool {
	if !g.Filled.Place.IsZero() {
		filled, ok := r.slotsOf(grid, g.Filled)
		for i := range grid.Size() {
			label := grid.Label(grid.Slot(i))
			switch {
			case !ok || g.Filled.Unread || filled.Has(i) == full.Has(i):
				continue
			case full.Has(i):
				r.list.Errorf("contents-differ", lines[i].In(g.Contents.Shown).Place, "the slot %q holds a part here, but not by \"filled\"", label).
					WithNote(g.Filled.Place, "\"filled\" stands here").WithHint("leave \"filled\" out: the slots that the table lists are filled")
			default:
				r.list.Errorf("contents-differ", g.Filled.Place, "the slot %q is filled here, but the table of contents does not list it", label).
					WithHint("leave \"filled\" out: the slots that the table lists are filled")
			}
			return false
		}
		return ok
	}
	return true
}

// single is the one slot that a text names; at is where it stands.
func (r *resolver) single(g *Grid, at plan.Text, written string) (slot.Slot, bool) {
	label, ok := slot.Parse(written)
	s := selector{r: r, grid: g}
	switch {
	case !ok:
		r.list.Errorf("bad-selection", at.Place, "found %q, wanted one slot such as %q", written, g.Label(g.Slot(0))).
			WithHint("%s", slotHint(written))
	case g.Layered() && !label.HasLayer:
		r.list.Errorf("bad-selection", at.Place, "found %q, wanted one slot: the grid %q has %d layers", written, g.Name, g.Layers).
			WithHint("name the layer, too: \"%s.1\"", written)
	case !g.Inside(label.Slot):
		s.outside(label, at.Place)
	case g.Missing.Has(g.Index(label.Slot)):
		s.missing(Rect{label.Slot, label.Slot}, at.Place)
	default:
		return label.Slot, true
	}
	return slot.Slot{}, false
}
