package layout

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/measure"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// pattern is how a grid lies, by the keys that say so; nil where they say nothing, or
// nothing that can be. What it rests on goes into the grid.
func (r *resolver) pattern(grid *Grid, g *plan.Grid) pattern.Pattern {
	switch {
	case g.Standard != nil:
		return r.standard(grid, g)
	case g.Corners != nil:
		return r.corners(grid, g)
	case g.Ring != nil:
		return r.ring(grid, g)
	case g.Places != nil:
		return r.places(grid, g)
	case g.Boxes != nil:
		return r.stack(grid, g)
	}
	return r.rows(grid, g)
}

func (r *resolver) rows(grid *Grid, g *plan.Grid) pattern.Pattern {
	extent, ok := r.extent(g, g.Rows, g.Columns)
	if !ok || !r.pitch(g) || !g.First.IsSet() {
		return nil
	}
	grid.Basis = []Basis{
		{"where its slot A1 is", always(g.First.Place)},
		{"from slot to slot", beside(g.Pitch.Place)},
		{"from layer to layer", above(g.LayerPitch.Place)},
	}
	if g.Stagger.V != 0 {
		grid.Basis = slices.Insert(grid.Basis, 2, Basis{"the shift of every second row", shifted(g.Stagger.Place)})
	}
	return pattern.Rows(extent, vec(g.First), geom.Vec{X: g.Pitch.V[0], Y: g.Pitch.V[1], Z: g.LayerPitch.V}, g.Stagger.V)
}

// standard is passed over without one of the two figures that it needs: that was said.
func (r *resolver) standard(grid *Grid, g *plan.Grid) pattern.Pattern {
	s := g.Standard
	if !s.Name.IsSet() || !s.Height.IsSet() || unread(g, "corner", s.Corner.IsSet()) {
		return nil
	}
	p := pattern.Standard(s.Name.V, s.Corner.V, s.Height.V, g.Layers.Or(1), g.LayerPitch.V)
	extent := p.Extent()
	if _, ok := r.extent(g, plan.Whole{V: extent.Rows, Place: s.Name.Place}, plan.Whole{V: extent.Columns, Place: s.Name.Place}); !ok {
		return nil
	}
	grid.Basis = []Basis{
		{"where its slot A1 is", always(s.Height.Place)},
		{"from slot to slot", beside(s.Name.Place)},
		{"from layer to layer", above(g.LayerPitch.Place)},
	}
	return p
}

func (r *resolver) corners(grid *Grid, g *plan.Grid) pattern.Pattern {
	extent, ok := r.extent(g, g.Rows, g.Columns)
	if !ok || grid.Frame == nil || unread(g, "corners_in", g.Corners.In.IsSet()) {
		return nil
	}
	grid.Fit = measure.Corners(grid.Name, g.Corners, measure.Size{Rows: extent.Rows, Columns: extent.Columns}, grid.Frame.Base, r.list)
	if grid.Fit == nil || extent.Layered() && !r.layersStep(grid, g, extent) {
		return nil
	}
	grid.Basis = []Basis{
		{"where the corners were touched", always(g.Corners.Place)},
		{"from layer to layer", above(g.LayerPitch.Place)},
	}
	return pattern.Corners(extent, grid.Fit.Surface, g.LayerPitch.V)
}

// ring is passed over where one of its figures was refused.
func (r *resolver) ring(grid *Grid, g *plan.Grid) pattern.Pattern {
	of := g.Ring
	if len(of.Radius) == 0 || len(of.Radius) != len(of.Places) || !g.First.IsSet() {
		return nil
	}
	start, started := eachOf(of, "start", of.Start)
	step, stepped := eachOf(of, "step", of.Step)
	extent, ok := r.uneven(g, of.Places)
	if !started || !stepped || of.Has("turned") && !of.Turned.IsSet() || of.Has("balance") && !of.Balance.IsSet() || !ok {
		return nil
	}
	circles := make([]pattern.Circle, len(of.Radius))
	for i := range circles {
		n := of.Places[i].V
		circles[i] = pattern.Circle{Radius: of.Radius[i].V, Places: n, Start: start(i).V, Turn: 360, Share: float64(n)}
		if step(i).IsSet() {
			circles[i].Turn, circles[i].Share = step(i).V, 1
			if !r.onceRound(grid, i, circles[i], step(i).Place) {
				return nil
			}
		}
	}
	grid.Basis = []Basis{
		{"where the centre of the ring is", always(g.First.Place)},
		{"the radius of the circle", func(s slot.Slot) diag.Place { return of.Radius[s.Row].Place }},
		{"how many places it has", func(s slot.Slot) diag.Place { return of.Places[s.Row].Place }},
		{"where its first place is", func(s slot.Slot) diag.Place { return start(int(s.Row)).Place }},
		{"the angle from place to place", func(s slot.Slot) diag.Place { return step(int(s.Row)).Place }},
		{"whether tool and part turn with the place", always(of.Turned.Place)},
		{"from layer to layer", above(g.LayerPitch.Place)},
	}
	grid.balance = of.Balance
	return r.apart(grid, pattern.Ring(extent, vec(g.First), circles, g.LayerPitch.V, of.Turned.V == plan.TurnedRadial), of.Radius[0].Place,
		"give each circle a radius of its own, or those of one radius other angles (\"start\")")
}

// eachOf gives the value of each circle, from one for all or one for each; false where they
// were refused.
func eachOf(of *plan.Ring, key string, values []plan.Real) (each func(row int) plan.Real, ok bool) {
	switch {
	case len(values) == 0:
		return func(int) plan.Real { return plan.Real{} }, !of.Has(key)
	case len(values) == 1:
		return func(int) plan.Real { return values[0] }, true
	}
	return func(row int) plan.Real { return values[row] }, len(values) == len(of.Radius)
}

const shareTurn = "leave \"step\" out, and they share a full turn: %.6g°"

// onceRound refuses a circle whose slots come round to the first one again.
func (r *resolver) onceRound(grid *Grid, row int, c pattern.Circle, at diag.Place) bool {
	const hair = 1e-6 // degrees
	turn := math.Abs(c.Turn) * float64(c.Places)
	switch {
	case c.Places > 1 && c.Turn == 0:
		r.list.Errorf("slots-coincide", at, "the row %s of the grid %q has %d places, but the step from place to place is 0", slot.Letters(row), grid.Name, c.Places).
			WithHint(shareTurn, 360/float64(c.Places))
	case turn > 360+hair:
		r.list.Errorf("slots-coincide", at, "the %d places of row %s of the grid %q go round by %g°, which is more than a full turn", c.Places, slot.Letters(row), grid.Name, turn).
			WithHint(shareTurn, 360/float64(c.Places))
	default:
		return true
	}
	return false
}

// places is passed over where a row was refused.
func (r *resolver) places(grid *Grid, g *plan.Grid) pattern.Pattern {
	var rows [][]pattern.Place
	var lengths []plan.Whole
	ok := len(g.Places.Rows) > 0
	for i, row := range g.Places.Rows {
		if letters := slot.Letters(i); row.Name.V != letters {
			f := r.list.Errorf("bad-row", row.Name.Place, "found the row %q, wanted %q: rows of places are lettered in order, from A", row.Name.V, letters)
			if i == 0 {
				f.WithHint("call it %q", letters)
			} else {
				f.WithHint("call it %q; the one before it is %q", letters, slot.Letters(i-1))
			}
			return nil
		}
		var places []pattern.Place
		for _, p := range row.Places {
			places = append(places, pattern.Place{At: vec(p.At), Turned: p.Turned.V})
		}
		ok = ok && !row.Unread
		rows, lengths = append(rows, places), append(lengths, plan.Whole{V: len(places), Place: row.Name.Place})
	}
	if !ok {
		return nil
	}
	if _, ok := r.uneven(g, lengths); !ok {
		return nil
	}
	at := func(s slot.Slot) plan.OnePlace { return g.Places.Rows[s.Row].Places[s.Col] }
	grid.Basis = []Basis{
		{"where the slot is", func(s slot.Slot) diag.Place { return at(s).At.Place }},
		{"how the slot is turned", func(s slot.Slot) diag.Place { return at(s).Turned.Place }},
		{"from layer to layer", above(g.LayerPitch.Place)},
	}
	p := pattern.Places(rows, g.Layers.Or(1), g.LayerPitch.V)
	extent := p.Extent()
	_, second, _ := pattern.Closest(p, 0)
	return r.apart(grid, p, at(extent.Slot(second)).At.Place, "correct where one of them is, or take it out of the row")
}

// apart refuses a pattern of which two slots are in one place, as far as the list tells
// places from each other; the hint is what to do about that.
func (r *resolver) apart(grid *Grid, p pattern.Pattern, at diag.Place, hint string) pattern.Pattern {
	const told = 0.001 // mm
	if extent := p.Extent(); extent.PerLayer() > 1 && p.Pitch() < told {
		i, j, _ := pattern.Closest(p, 0)
		r.list.Errorf("slots-coincide", at, "the slots %s and %s of the grid %q are in the same place", extent.Label(extent.Slot(i)), extent.Label(extent.Slot(j)), grid.Name).
			WithHint("%s", hint)
		return nil
	}
	return p
}

// where is a place that counts for some slots.
func where(counts func(slot.Slot) bool) func(diag.Place) func(slot.Slot) diag.Place {
	return func(at diag.Place) func(slot.Slot) diag.Place {
		return func(s slot.Slot) diag.Place {
			if counts(s) {
				return at
			}
			return diag.Place{}
		}
	}
}

// What a basis counts for.
var (
	always  = where(func(slot.Slot) bool { return true })
	beside  = where(func(s slot.Slot) bool { return s.Row > 0 || s.Col > 0 })
	shifted = where(func(s slot.Slot) bool { return s.Row%2 == 1 })
	above   = where(func(s slot.Slot) bool { return s.Layer > 0 })
)

// layersStep refuses layers on a surface that stands upright in its frame: there
// "on the side of +Z" says nothing.
func (r *resolver) layersStep(grid *Grid, g *plan.Grid, extent pattern.Extent) bool {
	const upright = 0.5 // the normal is more than 60° away from Z
	z := grid.Fit.Surface.Normal(float64(extent.Rows-1)/2, float64(extent.Columns-1)/2).Z
	if z > upright || z < -upright {
		return true
	}
	r.list.Errorf("bad-corners", g.Corners.Place, "the corners of the grid %q stand upright in its frame, so its layers have no direction", grid.Name).
		WithHint("place the grid in a frame whose Z is square to it")
	return false
}

// extent is rows, columns and layers, held to what memory allows and to what layers ask
// for.
func (r *resolver) extent(g *plan.Grid, rows, columns plan.Whole) (pattern.Extent, bool) {
	if !rows.IsSet() || !columns.IsSet() || unread(g, "layers", g.Layers.IsSet()) {
		return pattern.Extent{}, false
	}
	// Each factor is bounded by 10⁹ when it is read, so two of them multiply
	// without overflow, and the third is compared by division.
	flat, layers := int64(rows.V)*int64(columns.V), int64(g.Layers.Or(1))
	if !r.room(g, fmt.Sprintf("%d × %d × %d", rows.V, columns.V, layers), flat, g.Layers, largest(rows, columns, g.Layers)) {
		return pattern.Extent{}, false
	}
	return pattern.Even(rows.V, columns.V, int(layers)), r.layerPitch(g)
}

// uneven is the same for rows of so many slots each.
func (r *resolver) uneven(g *plan.Grid, rows []plan.Whole) (pattern.Extent, bool) {
	if unread(g, "layers", g.Layers.IsSet()) {
		return pattern.Extent{}, false
	}
	var each []int
	flat := int64(0)
	for _, n := range rows {
		each = append(each, n.V)
		flat += int64(n.V)
	}
	if !r.room(g, fmt.Sprintf("%d × %d", flat, g.Layers.Or(1)), flat, g.Layers, largest(append(rows, g.Layers)...)) {
		return pattern.Extent{}, false
	}
	return pattern.Uneven(each, g.Layers.Or(1)), r.layerPitch(g)
}

// room takes the slots of a grid, so many in a layer, off what is left of the limit. Where
// they are too many, the figure that makes them so is to blame.
func (r *resolver) room(g *plan.Grid, asked string, flat int64, layers, most plan.Whole) bool {
	high := int64(layers.Or(1))
	if flat <= int64(r.left)/high {
		r.left -= int(flat * high)
		return true
	}
	f := r.list.Errorf("too-many-slots", most.Place, "the grid %q asks for %s slots, but only %d are left of the limit", g.Name.V, asked, r.left)
	if float64(flat)*float64(high) <= withinReason*float64(r.left) {
		f.WithHint("\"--limit\" raises it")
	} else {
		f.WithHint("is %d meant?", most.V)
	}
	return false
}

// layerPitch asks for the step that layers need.
func (r *resolver) layerPitch(g *plan.Grid) bool {
	layers := g.Layers.Or(1)
	switch {
	case unread(g, "layer_pitch", g.LayerPitch.IsSet()):
	case layers > 1 && !g.LayerPitch.IsSet():
		r.list.Errorf("missing-key", g.Name.Place, "the grid %q has %d layers and needs \"layer_pitch\"", g.Name.V, layers)
	default:
		return true
	}
	return false
}

// withinReason is how many times the limit somebody may want to raise it to. Beyond
// it, a figure was mistyped.
const withinReason = 100

// largest is the figure of a grid's size that makes it so big.
func largest(of ...plan.Whole) plan.Whole {
	return slices.MaxFunc(of, func(a, b plan.Whole) int { return cmp.Compare(a.V, b.V) })
}

const pitchForm = "\"pitch\" is two figures: from column to column, and from row to row"

// pitch asks for the steps that rows and columns need.
func (r *resolver) pitch(g *plan.Grid) bool {
	rows, columns := g.Rows.V, g.Columns.V
	switch {
	case unread(g, "pitch", g.Pitch.IsSet()):
	case (rows > 1 || columns > 1) && !g.Pitch.IsSet():
		r.list.Errorf("missing-key", g.Name.Place, "the grid %q has several slots and needs \"pitch\"", g.Name.V)
	case columns > 1 && g.Pitch.V[0] == 0:
		r.list.Errorf("slots-coincide", g.Pitch.Place, "the grid %q has %d columns, but the pitch from column to column is 0", g.Name.V, columns).
			WithHint(pitchForm)
	case rows > 1 && g.Pitch.V[1] == 0:
		r.list.Errorf("slots-coincide", g.Pitch.Place, "the grid %q has %d rows, but the pitch from row to row is 0", g.Name.V, rows).
			WithHint(pitchForm)
	default:
		return true
	}
	return false
}

// unread reports whether a key was written, but with a value that was refused.
func unread(g *plan.Grid, key string, set bool) bool { return g.Written.Has(key) && !set }
