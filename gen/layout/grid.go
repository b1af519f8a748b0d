package layout

import (
	"cmp"
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/measure"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Grid is rows × columns × layers of slots, laid out in one frame.
type Grid struct {
	Name   string
	Place  diag.Place
	Source *plan.Grid // the places of the single values
	Frame  *Frame
	Part   *Part // what it holds; nil where the plan does not say

	Rows, Columns, Layers int
	Missing               Slots // slots that are not there; nil for none
	Full                  Slots // slots that hold a part at the start
	// FullPlace is where that is said, and Holds what stands there where Part
	// does not say it.
	FullPlace diag.Place
	Holds     *Part

	// Fit is where the slots are and what that is worth, where corners were
	// touched; nil otherwise.
	Fit *measure.Grid

	first      geom.Vec
	pitch      geom.Vec // column to column, row to row, layer to layer
	stagger    float64
	turn, base geom.RPY // the tool at a slot, in the frame and in the base
}

// Layered reports whether labels name the layer.
func (g *Grid) Layered() bool { return g.Layers > 1 }

// Size is the number of slots, missing ones too.
func (g *Grid) Size() int { return g.Rows * g.Columns * g.Layers }

// Index numbers the slots from 0, row by row, bottom layer first.
func (g *Grid) Index(s slot.Slot) int {
	return (int(s.Layer)*g.Rows+int(s.Row))*g.Columns + int(s.Col)
}

// Slot is the inverse of Index.
func (g *Grid) Slot(i int) slot.Slot {
	perLayer := g.Rows * g.Columns
	return slot.Slot{Row: int32(i % perLayer / g.Columns), Col: int32(i % g.Columns), Layer: int32(i / perLayer)}
}

// Label is the slot's name as this grid writes it.
func (g *Grid) Label(s slot.Slot) string { return s.Label(g.Layered()) }

// Has reports whether the slot is inside the grid and not missing.
func (g *Grid) Has(s slot.Slot) bool {
	return int(s.Row) < g.Rows && int(s.Col) < g.Columns && int(s.Layer) < g.Layers && !g.Missing.Has(g.Index(s))
}

// At is the TCP's position at a slot, in the grid's frame, mm.
func (g *Grid) At(s slot.Slot) geom.Vec {
	if g.Fit != nil {
		return g.Fit.At(s.Row, s.Col, s.Layer, g.pitch.Z)
	}
	x := g.first.X + float64(float64(s.Col)*g.pitch.X)
	if s.Row%2 == 1 {
		x += g.stagger
	}
	return geom.Vec{
		X: x,
		Y: g.first.Y + float64(float64(s.Row)*g.pitch.Y),
		Z: g.first.Z + float64(float64(s.Layer)*g.pitch.Z),
	}
}

// Points are the tool's pose at a slot, lifted by a distance along the +Z axis
// of the grid's frame: written in the frame, and in the base.
func (g *Grid) Points(s slot.Slot, lift float64) (in, base move.Point) {
	at := g.At(s)
	at.Z += lift
	return move.Point{Vec: at, RPY: g.turn}, move.Point{Vec: g.Frame.Base.Apply(at), RPY: g.base}
}

// Slots is a set of slots of one grid by index. The nil set is empty.
type Slots []uint64

// NewSlots is an empty set with room for n slots.
func NewSlots(n int) Slots { return make(Slots, (n+63)/64) }

// Has reports whether slot i is in the set.
func (s Slots) Has(i int) bool { return s != nil && s[i/64]&(1<<(i%64)) != 0 }

// Add puts slot i into the set.
func (s Slots) Add(i int) { s[i/64] |= 1 << (i % 64) }

// Remove takes slot i out of the set.
func (s Slots) Remove(i int) { s[i/64] &^= 1 << (i % 64) }

func (r *resolver) grids() {
	for _, g := range r.plan.Grids {
		grid := r.grid(g)
		r.gridOf[g.Name.V] = grid
		if grid != nil {
			r.out.Grids = append(r.out.Grids, grid)
		}
	}
}

func (r *resolver) grid(g *plan.Grid) *Grid {
	frame := r.frame(g.Frame)
	part := lookUp(r, "part", g.Part, r.partOf)
	if g.Standard != nil {
		g = standard(g)
	}
	if !r.gridSize(g) || !r.gridPitch(g) || frame == nil || !g.Frame.IsSet() || g.Corners == nil && !g.First.IsSet() {
		return nil
	}
	turn := pointingDown
	if g.RPY.IsSet() {
		turn = rpy(g.RPY)
	}
	grid := &Grid{
		Name: g.Name.V, Place: g.Name.Place, Source: g, Frame: frame, Part: part,
		Rows: g.Rows.V, Columns: g.Columns.V, Layers: g.Layers.Or(1),
		first: vec(g.First), pitch: geom.Vec{X: g.Pitch.V[0], Y: g.Pitch.V[1], Z: g.LayerPitch.V}, stagger: g.Stagger.V,
		turn: turn.Rot().RPY(), base: frame.Base.R.Mul(turn.Rot()).RPY(),
	}
	if g.Corners != nil && !r.corners(grid, g) {
		return nil
	}
	var missing, full bool
	grid.Missing, missing = r.slotSet(grid, g.Missing)
	grid.Full, full = r.full(grid, g)
	grid.FullPlace = g.Filled.Place
	if !missing || !full {
		return nil // how many slots or parts there are is anybody's guess
	}
	return grid
}

// gridSize holds the number of slots to what labels and memory allow.
func (r *resolver) gridSize(g *plan.Grid) bool {
	if !g.Rows.IsSet() || !g.Columns.IsSet() || unread(g, "layers", g.Layers.IsSet()) {
		return false
	}
	// Each factor is bounded by 10⁹ when it is read, so two of them multiply
	// without overflow, and the third is compared by division.
	flat, layers := int64(g.Rows.V)*int64(g.Columns.V), int64(g.Layers.Or(1))
	if flat > int64(r.left)/layers {
		most := largest(g.Rows, g.Columns, g.Layers)
		f := r.list.Errorf("too-many-slots", most.Place, "the grid %q asks for %d × %d × %d slots, but only %d are left of the limit",
			g.Name.V, g.Rows.V, g.Columns.V, layers, r.left)
		if float64(flat)*float64(layers) <= withinReason*float64(r.left) {
			f.WithHint("\"--limit\" raises it")
		} else {
			f.WithHint("is %d meant?", most.V)
		}
		return false
	}
	r.left -= int(flat * layers)
	return true
}

// withinReason is how many times the limit somebody may want to raise it to. Beyond
// it, a figure was mistyped.
const withinReason = 100

// largest is the figure of a grid's size that makes it so big.
func largest(of ...plan.Whole) plan.Whole {
	return slices.MaxFunc(of, func(a, b plan.Whole) int { return cmp.Compare(a.V, b.V) })
}

// gridPitch asks for the steps that the grid's size needs.
func (r *resolver) gridPitch(g *plan.Grid) bool {
	rows, columns, layers := g.Rows.V, g.Columns.V, g.Layers.Or(1)
	switch {
	case unread(g, "pitch", g.Pitch.IsSet()), unread(g, "layer_pitch", g.LayerPitch.IsSet()):
		return false
	case layers > 1 && !g.LayerPitch.IsSet():
		r.list.Errorf("missing-key", g.Name.Place, "the grid %q has %d layers and needs \"layer_pitch\"", g.Name.V, layers)
	case g.Corners != nil:
		return true
	case (rows > 1 || columns > 1) && !g.Pitch.IsSet():
		r.list.Errorf("missing-key", g.Name.Place, "the grid %q has several slots and needs \"pitch\"", g.Name.V)
	case columns > 1 && g.Pitch.V[0] == 0:
		r.list.Errorf("slots-coincide", g.Pitch.Place, "the grid %q has %d columns, but the pitch from column to column is 0", g.Name.V, columns)
	case rows > 1 && g.Pitch.V[1] == 0:
		r.list.Errorf("slots-coincide", g.Pitch.Place, "the grid %q has %d rows, but the pitch from row to row is 0", g.Name.V, rows)
	default:
		return true
	}
	return false
}

// unread reports whether a key was written, but with a value that was refused.
func unread(g *plan.Grid, key string, set bool) bool { return g.Written.Has(key) && !set }

// full is the set of slots that hold a part at the start.
func (r *resolver) full(grid *Grid, g *plan.Grid) (Slots, bool) {
	if g.Filled.Unread {
		return nil, false
	}
	if !g.Filled.All && g.Filled.Slots == nil {
		return NewSlots(grid.Size()), true
	}
	if !g.Part.IsSet() && !g.Written.Has("part") { // a part that was refused has its own finding
		r.list.Errorf("part-unknown", g.Filled.Place, "the grid %q is filled, but does not say with which part", grid.Name).
			WithHint("add \"part:\" to the grid")
	}
	return r.slotsOf(grid, g.Filled)
}

// slotsOf is the set that "filled" names.
func (r *resolver) slotsOf(g *Grid, filled plan.Filled) (Slots, bool) {
	if !filled.All {
		set, ok := r.slotSet(g, filled.Slots)
		if set == nil {
			set = NewSlots(g.Size())
		}
		return set, ok
	}
	full := NewSlots(g.Size())
	for i := range g.Size() {
		if !g.Missing.Has(i) {
			full.Add(i)
		}
	}
	return full, true
}

// slotSet is the set that one or several selections name; false when one of
// them is wrong.
func (r *resolver) slotSet(g *Grid, texts []plan.Text) (Slots, bool) {
	if texts == nil {
		return nil, true
	}
	set, good := NewSlots(g.Size()), true
	for _, text := range texts {
		rects, ok := r.selection(g, text, text.V)
		if !ok {
			good = false
			continue
		}
		each(g, rects, ByRow, false, func(s slot.Slot) bool { set.Add(g.Index(s)); return true })
	}
	return set, good
}
