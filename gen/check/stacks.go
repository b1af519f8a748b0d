package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/pattern"
	"gridferry/plan/wording"
)

// Stacked is what a stack of boxes amounts to with a box in each of its slots.
type Stacked struct {
	Grid   *layout.Grid
	Share  float64          // of the footprint that the boxes of a layer cover, 0 to 1
	Height float64          // mm
	Mass   float64          // kg
	Centre geom.Vec         // of gravity, mm from the corner of the footprint; boxes are taken as even all through
	On     *pattern.Overlap // how layer 2 rests on layer 1, and so on; nil for one layer, or where that is too much work
	boxes  int
	names  []string // of the grids, where several are taken together
}

// mostOverlaps is the looks that are spent on how layers rest on each other, as package pattern
// counts them: some tenths of a second.
const mostOverlaps = 100_000_000

// Stacks are the plan's stacks of boxes.
func Stacks(l *layout.Layout) (all []Stacked) {
	looks := pattern.Looks{Left: mostOverlaps}
	for _, g := range l.Grids {
		if g.Stacked() {
			all = append(all, stacked(g, &looks))
		}
	}
	return all
}

func stacked(g *layout.Grid, looks *pattern.Looks) Stacked {
	s, size := Stacked{Grid: g}, g.Part.Size
	var sum geom.Vec
	for i := range g.Size() {
		if g.Missing.Has(i) {
			continue
		}
		middle := g.Pose(g.Slot(i), g.Part, nil).T.Sub(g.PalletCorner())
		sum, s.Height = sum.Add(middle), max(s.Height, middle.Z+size.Z/2)
		s.boxes++
	}
	s.Share = float64(g.PerLayer()) * size.X * size.Y / (g.Stack.Footprint[0] * g.Stack.Footprint[1])
	s.Mass = float64(s.boxes) * g.Part.Mass
	if s.boxes > 0 {
		s.Centre = sum.Scale(1 / float64(s.boxes))
	}
	if g.Layered() {
		if on := g.Stack.Overlap(g.Stack.Layers[0], g.Stack.Layers[1], looks); !looks.Over() {
			s.On = &on
		}
	}
	return s
}

// Together is stacks on one footprint, such as those of a mixed pallet.
func Together(all []Stacked) (piles []Stacked) {
	for _, pile := range onOneFootprint(all) {
		piles = append(piles, asOne(pile))
	}
	return piles
}

// onOneFootprint is the stacks that stand on one footprint, wherever there are several.
func onOneFootprint(all []Stacked) (piles [][]Stacked) {
	type footprint struct {
		frame *layout.Frame
		x, y  float64
		size  [2]float64
	}
	by, order := map[footprint][]Stacked{}, []footprint{}
	for _, s := range all {
		corner := s.Grid.PalletCorner()
		f := footprint{s.Grid.Frame, corner.X, corner.Y, s.Grid.Stack.Footprint}
		if by[f] == nil {
			order = append(order, f)
		}
		by[f] = append(by[f], s)
	}
	for _, f := range order {
		if len(by[f]) > 1 {
			piles = append(piles, by[f])
		}
	}
	return piles
}

// asOne is one stack in the place of several; its grid is the lowest one's.
func asOne(all []Stacked) Stacked {
	low := slices.MinFunc(all, func(a, b Stacked) int { return cmp.Compare(a.Grid.PalletCorner().Z, b.Grid.PalletCorner().Z) })
	sum := Stacked{Grid: low.Grid}
	for i := range all {
		s := &all[i]
		off := s.Grid.PalletCorner().Sub(low.Grid.PalletCorner())
		sum.boxes += s.boxes
		sum.Mass += s.Mass
		sum.Height = max(sum.Height, s.Height+off.Z)
		sum.Centre = sum.Centre.Add(s.Centre.Add(off).Scale(s.Mass))
		sum.names = append(sum.names, s.Grid.Name)
	}
	if sum.Mass > 0 {
		sum.Centre = sum.Centre.Scale(1 / sum.Mass)
	}
	return sum
}

// StackNote is a sentence about the stack of a grid.
type StackNote struct{ Grid, Text string }

// StackNotes are sentences about the plan's stacks of boxes.
func StackNotes(l *layout.Layout) (notes []StackNote) {
	all := Stacks(l)
	for i := range all {
		for _, words := range all[i].Words() {
			notes = append(notes, StackNote{all[i].Grid.Name, words})
		}
	}
	for _, s := range Together(all) {
		others := slices.DeleteFunc(s.names, func(name string) bool { return name == s.Grid.Name })
		notes = append(notes, StackNote{s.Grid.Name, fmt.Sprintf("together with %s %s: %s", wording.List(others, 6), wording.Number(s.boxes, "box", "boxes"), s.body())})
	}
	return notes
}

// Words are sentences about the stack.
func (s *Stacked) Words() []string {
	g := s.Grid
	words := []string{fmt.Sprintf("%s a layer, %s of the footprint %s; %s in %s: %s",
		wording.Number(g.PerLayer(), "box", "boxes"), percent(s.Share), g.Source.Pallet.Name.V, wording.Number(s.boxes, "box", "boxes"), wording.Count(g.Layers, "layer"), s.body())}
	if s.On != nil {
		words = append(words, s.rests())
	}
	return words
}

// body is how high and how heavy the stack is, and where its centre of gravity is.
func (s *Stacked) body() string {
	c := s.Centre
	return fmt.Sprintf("%s mm high, %s kg, centre of gravity at %s, %s, %s mm from the corner of the footprint",
		figure(s.Height), figure(s.Mass), tenths(c.X), tenths(c.Y), tenths(c.Z))
}

// rests is how the layers lie on each other.
func (s *Stacked) rests() string {
	per := s.Grid.PerLayer()
	share := "its whole base"
	if least := s.On.Least(); least < 0.9999 {
		share = percent(least) + " of its base or more"
	}
	text := "every box rests on the layer below with " + share
	if s.On.Tied() == 0 {
		return text + ", but none on more than one box: nothing ties the layers together"
	}
	text += fmt.Sprintf(", %d of %d on more than one box", s.On.Tied(), per)
	if s.On.Joints > 0 {
		text += fmt.Sprintf("; %s of the joints run through two layers", percent(s.On.Through/s.On.Joints))
	}
	return text
}

// percent is a share for people, never rounded up to a whole that it is not.
func percent(share float64) string {
	return fmt.Sprintf("%.0f %%", math.Floor(100*share+0.01))
}

// tenths is a length for people that nobody knows more exactly.
func tenths(x float64) string { return figure(math.Round(10*x) / 10) }

// figure is a length or a mass for people.
func figure(x float64) string { return strconv.FormatFloat(math.Round(x*1000)/1000+0, 'f', -1, 64) }
