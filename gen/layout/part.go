package layout

import (
	"cmp"

	"gridferry/gen/geom"
	"gridferry/gen/slot"
	"gridferry/gen/solid"
	"gridferry/plan/diag"
)

// Part is what is carried.
type Part struct {
	Name  string
	Place diag.Place
	Mass  float64 // kg
	// MassPlace is where the mass is written.
	MassPlace diag.Place
	Size      geom.Vec // mm; zero when not known
	Grip      float64  // mm, height of the TCP above the part's bottom when it is held
	Symmetry  string   // a word of the plan; "" goes by the size
}

// Sized reports whether the part and its size are known.
func (p *Part) Sized() bool { return p != nil && p.Size != (geom.Vec{}) }

// Middle is how far the part's middle is above the TCP that holds it.
func (p *Part) Middle() float64 { return p.Size.Z/2 - p.Grip }

// Solid is the part's body with its middle at a pose.
func (p *Part) Solid(middle geom.Pose) solid.Solid {
	half := p.Size.Scale(0.5)
	if p.Symmetry == "round" {
		return solid.Drum(middle, half)
	}
	return solid.Block(middle, half)
}

// alike is the turn about its Z, in degrees, after which a part looks the same; 0 for
// any turn.
func (p *Part) alike() float64 {
	switch {
	case p.Symmetry == "round":
		return 0
	case p.Symmetry == "quarter", p.Symmetry == "" && p.Size.X == p.Size.Y:
		return 90
	case p.Symmetry == "none":
		return 360
	}
	return 180
}

// PartIn is what stands in a grid: what the grid says, what is carried there, or
// what was found in it.
func (l *Layout) PartIn(g *Grid) *Part {
	switch {
	case g.Part != nil:
		return g.Part
	case g.ids != nil && g.Holds != nil: // by its table of contents
		return g.Holds
	}
	for _, e := range l.Entries {
		for i := range e.Legs {
			if leg := &e.Legs[i]; leg.To.Grid == g && leg.Part != nil {
				return leg.Part
			}
		}
	}
	return g.Holds
}

// Around is how far parts in the slots reach from the TCP that holds them, in the axes
// of the grid's frame, however the slots are turned and whichever way parts lie there.
func (g *Grid) Around(p *Part, ways []Lie) (lo, hi geom.Vec) {
	for _, s := range g.Pattern.Outline() {
		least, most := g.AroundSlot(s, p, ways)
		lo, hi = lo.Min(least), hi.Max(most)
	}
	return lo, hi
}

// AroundSlot is the same for a part in one slot.
func (g *Grid) AroundSlot(s slot.Slot, p *Part, ways []Lie) (lo, hi geom.Vec) {
	_, turned := g.Pattern.At(s)
	all := g.Corners(p, turned, nil)
	for i := range ways {
		all = append(all, g.Corners(p, turned, &ways[i])...)
	}
	for _, c := range all {
		lo, hi = lo.Min(c), hi.Max(c)
	}
	return lo, hi
}

// Corners are those of a part in a slot that is turned so far, from the TCP that holds
// it, in the axes of the grid's frame; lie is nil for one that lies as the slot says. A
// part of unknown size gets a flat sign that fits between the slots: a diamond, which no
// part is.
func (g *Grid) Corners(p *Part, turned float64, lie *Lie) []geom.Vec {
	turn := geom.Pose{R: geom.RotZ(turned)}
	if lie == nil && !p.Sized() {
		const alone = 40 // mm, between slots where there is but one
		r := 0.3 * cmp.Or(g.Pattern.Pitch(), alone)
		return moved(turn, []geom.Vec{{X: -r}, {Y: -r}, {X: r}, {Y: r}})
	}
	if lie != nil {
		return moved(turn.Mul(lie.Pose), lie.Part.corners())
	}
	return moved(turn.Mul(p.rightly()), p.corners())
}

func moved(by geom.Pose, all []geom.Vec) []geom.Vec {
	for i := range all {
		all[i] = by.Apply(all[i])
	}
	return all
}

// corners are those of a part about its middle; of a round one, points on its edges.
func (p *Part) corners() (all []geom.Vec) {
	for _, at := range p.Outline() {
		all = append(all, at.Add(geom.Vec{Z: -p.Size.Z / 2}), at.Add(geom.Vec{Z: p.Size.Z / 2}))
	}
	return all
}

// Outline is the part seen from above, about its middle, counter-clockwise.
func (p *Part) Outline() (all []geom.Vec) {
	half := p.Size.Scale(0.5)
	if p.Symmetry != "round" {
		return []geom.Vec{{X: -half.X, Y: -half.Y}, {X: half.X, Y: -half.Y}, {X: half.X, Y: half.Y}, {X: -half.X, Y: half.Y}}
	}
	const points = 24
	for i := range points {
		sin, cos := geom.SinCos(float64(i) * 360 / points)
		all = append(all, geom.Vec{X: float64(half.X * cos), Y: float64(half.Y * sin)})
	}
	return all
}
