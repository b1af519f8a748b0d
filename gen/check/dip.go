package check

import (
	"fmt"
	"math"

	"gridferry/gen/layout"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
)

// stops goes through the grids at which the arm stops with a part, by the figures that
// rule there, each together once.
func (c *Context) stops(look func(c *Context, p *layout.Part, g *layout.Grid, by *layout.Figures)) {
	type stop struct {
		part *layout.Part
		grid *layout.Grid
		by   *layout.Figures
	}
	seen := map[stop]bool{}
	for _, e := range c.Layout.Entries {
		for i := range e.Stops {
			for _, part := range e.Kinds() {
				now := stop{part, e.Stops[i].Grid, c.Layout.Figures(e, e.Stops[i].Grid)}
				if e.Parts > 0 && part.Sized() && !seen[now] {
					seen[now] = true
					look(c, now.part, now.grid, now.by)
				}
			}
		}
	}
}

// checkDip looks at the room that is left where the approach point is passed by. The curve is
// taken to begin and to end "fly_by" away from the corner (PLCopen, Function blocks for
// motion control, Part 4, names such transitions by their corner distance: from memory) and
// the way beside to be level, which is the worst that is usual: from a clear pose it falls.
func checkDip(c *Context, p *layout.Part, g *layout.Grid, f *layout.Figures) {
	// Along a slanted approach all heights are as much less.
	up := f.Away(g, g.Slot(0)).Z
	if up < 0.5 {
		return // it goes in from the side, and nothing is known of what is lower there
	}
	lift, high, r := f.Approach.V*up, p.Size.Z, f.FlyBy.V
	gap := gapOf(g, p)
	if gap >= r || lift < high+headroom { // or said already
		return
	}
	root := 1 - math.Sqrt(gap/r)
	parabola, most := float64(r*root)*root*up, (r-gap)*up
	if lift-parabola >= high+headroom-hair && lift-most >= high-hair {
		return
	}
	over := lift - high
	c.find("approach-tight", f.Approach.Place, "the fly-by of %g mm at approach points of %q cuts the corner: %.1f mm beside its slot the part %q is %s its neighbours' tops on a parabola, and may be %s them",
		r, g.Name, gap, p.Name, aboveOrBelow(over-parabola), aboveOrBelow(over-most)).
		note(f.FlyBy.Place, "the fly-by is given here").
		note(p.Place, "the part is defined here").
		hint("an approach of %g mm or more leaves room for any curve, and so does a fly-by of %g mm",
			math.Ceil(10*(max(high+headroom+parabola, high+most)/up-hair))/10, math.Floor(10*((over-headroom)/up+gap+hair))/10)
}

// aboveOrBelow is a height above something in words.
func aboveOrBelow(h float64) string {
	if h < 0 {
		return fmt.Sprintf("%.1f mm below", -h)
	}
	return fmt.Sprintf("%.1f mm above", h)
}

// gapOf is the least gap between parts in a layer of a grid, mm; infinite where a slot
// has no neighbour.
func gapOf(g *layout.Grid, p *layout.Part) float64 {
	plain, off := pattern.Uncorrected(g.Pattern)
	return max(0, gapIn(plain, g.Extent, p)-2*off)
}

func gapIn(in pattern.Pattern, extent pattern.Extent, p *layout.Part) float64 {
	pitch := in.Pitch()
	if pitch == 0 {
		return math.Inf(1)
	}
	if !in.Form().Even() { // however they are turned
		return max(0, pitch-math.Hypot(p.Size.X, p.Size.Y))
	}
	const few = 3 // rows and columns, which show how all others lie
	least, turn := math.Inf(1), in.Lie(slot.Slot{}).T()
	for i := range few * few {
		for k := range i {
			a, b := slot.Slot{Row: int32(i / few), Col: int32(i % few)}, slot.Slot{Row: int32(k / few), Col: int32(k % few)}
			if extent.Inside(a) && extent.Inside(b) {
				from, _ := in.At(a)
				to, _ := in.At(b)
				way := turn.Apply(from.Sub(to))
				least = min(least, math.Hypot(max(0, math.Abs(way.X)-p.Size.X), max(0, math.Abs(way.Y)-p.Size.Y)))
			}
		}
	}
	return least
}
