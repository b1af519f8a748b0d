package layout

import (
	"fmt"
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/pattern"
	"gridferry/plan"
)

// layers lays the boxes of a stack; nil where that was refused.
func (r *resolver) layers(grid *Grid, g *plan.Grid) *Stack {
	if r.laying.Over() {
		return nil // that was said
	}
	s := &Stack{Floor: pattern.Floor{Footprint: g.Pallet.Size, Base: [2]float64{grid.Part.Size.X, grid.Part.Size.Y}, Gap: g.Boxes.Gap.V}}
	layer, ok := r.writtenOut(grid, g)
	if g.Boxes.Out == nil {
		layer, ok = r.laid(grid, g, s.Floor)
	}
	if !ok || !r.stackFits(g, len(layer)) {
		return nil
	}
	second := layer
	switch g.Boxes.Alternate.V {
	case "turn":
		second = s.HalfTurn(layer)
	case "mirror":
		second = s.Mirror(layer)
	}
	from := side(grid, g)
	s.From = [2]float64{from.X, from.Y}
	s.Layers = [2][]pattern.LayBox{r.inTurn(s, layer), r.inTurn(s, second)}
	if !r.laidInBounds(g) {
		return nil
	}
	return s
}

// inTurn is a layer in the order in which its boxes are put down.
func (r *resolver) inTurn(s *Stack, layer []pattern.LayBox) []pattern.LayBox {
	var all []pattern.LayBox
	for _, i := range s.Sequence(layer, s.From, &r.laying) {
		all = append(all, layer[i])
	}
	return all
}

// laidInBounds reports layers that take more work than all of them may.
func (r *resolver) laidInBounds(g *plan.Grid) bool {
	if r.laying.Over() {
		r.list.Errorf("too-much-choice", g.Boxes.Place, "up to here the plan's stacks of boxes take as much work as laying them may").
			WithHint("write larger boxes or fewer stacks, or \"pattern: columns\"")
	}
	return !r.laying.Over()
}

// laid is the boxes of a pattern that has a name.
func (r *resolver) laid(grid *Grid, g *plan.Grid, floor pattern.Floor) ([]pattern.LayBox, bool) {
	if most := floor.AreaBound(); most > pattern.MostBoxes {
		r.list.Errorf("too-many-slots", g.Pallet.Name.Place, "a layer of %q might have %d boxes, more than the %d that are laid out", grid.Name, most, pattern.MostBoxes).
			WithNote(grid.Part.Place, "their size is written here").WithHint("write \"rows\", \"columns\" and \"pitch\" for parts that are so small")
		return nil, false
	}
	var all []pattern.LayBox
	switch word := g.Boxes.Pattern.Or(plan.BoxPatterns[0]); word {
	case "best":
		all = floor.Best(&r.laying)
	case "brick":
		all = floor.Brick(&r.laying)
	case "columns":
		all = floor.Columns()
	case "pinwheel":
		all = floor.Pinwheel(&r.laying)
	}
	if !r.laidInBounds(g) {
		return nil, false
	}
	if all == nil {
		r.noBoxes(grid, g, floor)
	}
	return all, all != nil
}

// noBoxes says why a pattern has no box at all.
func (r *resolver) noBoxes(grid *Grid, g *plan.Grid, floor pattern.Floor) {
	at, size := g.Pallet.Name, grid.Part.Size
	if floor.Columns() != nil {
		r.list.Errorf("no-pattern", g.Boxes.Pattern.Place, "boxes of %g by %g mm do not make a %s on the pallet %s", size.X, size.Y, g.Boxes.Pattern.V, at.V).
			WithNote(grid.Part.Place, "their size is written here").WithHint("\"pattern: best\" finds as many as five blocks hold")
		return
	}
	r.list.Errorf("box-over-edge", at.Place, "not one box of %g by %g mm fits on the pallet %s", size.X, size.Y, at.V).
		WithNote(grid.Part.Place, "their size is written here").WithHint("name a larger pallet, or look whether the size is in mm")
}

// stackFits holds the slots of a stack to what may be.
func (r *resolver) stackFits(g *plan.Grid, boxes int) bool {
	layers := g.Boxes.Layers
	counted := plan.Whole{V: boxes, Place: g.Boxes.Place}
	return r.room(g, fmt.Sprintf("%d × %d", boxes, layers.Or(1)), int64(boxes), layers, largest(counted, layers))
}

// writtenOut is the boxes that the plan lists, none over the edge and no two in each other.
func (r *resolver) writtenOut(grid *Grid, g *plan.Grid) (all []pattern.LayBox, ok bool) {
	if n := len(g.Boxes.Out); n > pattern.MostBoxes {
		r.list.Errorf("too-many-slots", g.Boxes.OutPlace, "a layer of %q has %d boxes, more than the %d that are laid out", grid.Name, n, pattern.MostBoxes).
			WithHint("write several grids of fewer boxes, or \"rows\", \"columns\" and \"pitch\"")
		return nil, false
	}
	ok = true
	for i := range g.Boxes.Out {
		out := &g.Boxes.Out[i]
		box := pattern.LayBox{X: out.At.V[0], Y: out.At.V[1], Turned: float64(out.Turned.V)}
		if over := overEdge(box, grid.Part.Size, g.Pallet.Size); over > touching {
			r.list.Errorf("box-over-edge", out.Place, "the box stands %.2f mm over the edge of the pallet %s", over, g.Pallet.Name.V).
				WithHint("\"at\" is the middle of the box, from the corner of the pallet at the origin of the frame or at \"first\"")
			ok = false
			continue
		}
		for k := range all {
			if in := depth(box, all[k], grid.Part.Size); in > touching {
				r.list.Errorf("boxes-overlap", out.Place, "the box reaches %.2f mm into another one", in).
					WithNote(g.Boxes.Out[k].Place, "the other one stands here").
					WithHint("\"at\" is the middle of a box; \"turned: 90\" lays its X, %g mm, along Y", grid.Part.Size.X)
				ok = false
				break
			}
		}
		all = append(all, box)
	}
	return all, ok
}

// touching is how far boxes that are written out may be over the edge or in each other, mm:
// they are written in tenths or hundredths of a millimetre.
const touching = 0.01

// half is how far a box of a size reaches from its middle along X and Y.
func half(b pattern.LayBox, size geom.Vec) (x, y float64) {
	if b.Turned == 90 {
		return size.Y / 2, size.X / 2
	}
	return size.X / 2, size.Y / 2
}

// overEdge is how far a box stands over the edge of a footprint; below 0 for one within.
func overEdge(b pattern.LayBox, size geom.Vec, footprint [2]float64) float64 {
	x, y := half(b, size)
	return max(x-b.X, b.X+x-footprint[0], y-b.Y, b.Y+y-footprint[1])
}

// depth is how far one box reaches into another one of its size; below 0 for none.
func depth(a, b pattern.LayBox, size geom.Vec) float64 {
	ax, ay := half(a, size)
	bx, by := half(b, size)
	return min(ax+bx-math.Abs(a.X-b.X), ay+by-math.Abs(a.Y-b.Y))
}
