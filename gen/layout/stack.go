package layout

import (
	"cmp"
	"math"
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Stack is how the boxes of a grid are laid.
type Stack struct {
	pattern.Floor
	From   [2]float64          // points to the side over which the tool comes
	Layers [2][]pattern.LayBox // layers 1, 3, 5 and so on, and 2, 4, 6, in the order in which boxes are put down
}

// Alike reports whether the boxes of all layers stand on those with the same slots below.
func (s *Stack) Alike() bool {
	return slices.EqualFunc(s.Layers[0], s.Layers[1], func(a, b pattern.LayBox) bool {
		return a.Turned == b.Turned && max(math.Abs(a.X-b.X), math.Abs(a.Y-b.Y)) <= touching
	})
}

// stack is layers of the part's boxes on the footprint of a pallet.
func (r *resolver) stack(grid *Grid, g *plan.Grid) pattern.Pattern {
	b, p := g.Boxes, grid.Part
	if p == nil || g.Pallet == nil || grid.Frame == nil || b.Unread || unread(g, "first", g.First.IsSet()) {
		return nil
	}
	if !p.Sized() {
		r.list.Errorf("missing-key", g.Part.Place, "the grid %q is a stack of %q, which has no size", grid.Name, p.Name).
			WithNote(p.Place, "the part is defined here").WithHint("add \"size: [x, y, z]\" to the part")
		return nil
	}
	stack := r.layers(grid, g)
	if stack == nil {
		return nil
	}
	grid.Stack = stack
	grid.Basis = []Basis{
		{"the corner of the footprint", always(g.First.Place)},
		{"the footprint of the stack", always(g.Pallet.Name.Place)},
		{"how the boxes of a layer lie", always(cmp.Or(b.Pattern.Place, b.OutPlace, b.Place))},
		{"the room between boxes", always(b.Gap.Place)},
		{"how every second layer lies", second(b.Alternate.Place)},
		{"the side over which the tool comes", always(b.Side.Place)},
		{"how large a box is, and where it is held", always(p.Place)},
	}
	return pattern.Stack(b.Layers.Or(1), vec(g.First).Add(geom.Vec{Z: p.Grip}), p.Size.Z, stack.Layers[0], stack.Layers[1])
}

// second is the place of what only layers 2, 4, 6 and so on rest on.
func second(at diag.Place) func(slot.Slot) diag.Place {
	return func(s slot.Slot) (of diag.Place) {
		if s.Layer%2 == 1 {
			of = at
		}
		return of
	}
}

// Stacked reports whether the grid is a stack of boxes, which are put down in the order of
// their slots and taken in the reverse of that.
func (g *Grid) Stacked() bool { return g.Stack != nil }

// Piled reports whether slots of one row and column lie above each other in all layers.
func (g *Grid) Piled() bool { return !g.Stacked() || g.Stack.Alike() }

// PalletCorner is the corner of the pallet that the grid's parts stand on, in its frame.
func (g *Grid) PalletCorner() geom.Vec {
	if g.Stacked() {
		return vec(g.Source.First)
	}
	return geom.Vec{}
}

// side is the direction of the side over which the tool comes: the one that is written, or
// the one that the machine's base is farthest outside of.
func side(grid *Grid, g *plan.Grid) geom.Vec {
	ways := map[string]geom.Vec{"-x": {X: -1}, "+x": {X: 1}, "-y": {Y: -1}, "+y": {Y: 1}}
	if g.Boxes.Side.IsSet() {
		return ways[g.Boxes.Side.V]
	}
	half := geom.Vec{X: g.Pallet.Size[0] / 2, Y: g.Pallet.Size[1] / 2}
	base := grid.Frame.Base.Inverse().T.Sub(vec(g.First)).Sub(half)
	farthest, way := math.Inf(-1), geom.Vec{}
	for _, word := range plan.Sides {
		w := ways[word]
		if outside := w.Dot(base) - math.Abs(w.Dot(half)); outside > farthest {
			farthest, way = outside, w
		}
	}
	return way
}
