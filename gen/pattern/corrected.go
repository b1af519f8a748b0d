package pattern

import (
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/slot"
)

// corrected is another pattern of which single slots are off their places.
type corrected struct {
	Pattern
	extent Extent
	off    map[int]geom.Vec // by slot
	slots  []slot.Slot      // that are off, in their order

	least, most geom.Vec // how far any slot is off, 0 included
	pitch       float64
}

// Corrected is a pattern with single slots moved, by their numbers.
func Corrected(p Pattern, off map[int]geom.Vec) Pattern {
	c := &corrected{Pattern: p, extent: p.Extent(), off: off}
	for i, by := range off {
		c.slots = append(c.slots, c.extent.Slot(i))
		c.least, c.most = c.least.Min(by), c.most.Max(by)
	}
	slices.SortFunc(c.slots, func(a, b slot.Slot) int { return c.extent.Index(a) - c.extent.Index(b) })
	c.pitch = c.beside()
	return c
}

// Uncorrected is a pattern without the corrections of single slots, and how far these go, mm.
func Uncorrected(p Pattern) (Pattern, float64) {
	c, is := p.(*corrected)
	if !is {
		return p, 0
	}
	most := 0.0
	for _, by := range c.off {
		most = max(most, by.Norm())
	}
	return c.Pattern, most
}

// Corrections is a pattern without the corrections of single slots, and the slots that have one.
func Corrections(p Pattern) (Pattern, []slot.Slot) {
	if c, is := p.(*corrected); is {
		return c.Pattern, c.slots
	}
	return p, nil
}

func (c *corrected) At(s slot.Slot) (geom.Vec, float64) {
	at, turned := c.Pattern.At(s)
	return at.Add(c.off[c.extent.Index(s)]), turned
}

func (c *corrected) Bounds() (lo, hi geom.Vec) {
	lo, hi = c.Pattern.Bounds()
	for _, s := range c.slots {
		at, _ := c.At(s)
		lo, hi = lo.Min(at), hi.Max(at)
	}
	return lo, hi
}

func (c *corrected) Level(layer int) (lo, hi float64) {
	lo, hi = c.Pattern.Level(layer)
	for _, s := range c.slots {
		if int(s.Layer) == layer {
			at, _ := c.At(s)
			lo, hi = min(lo, at.Z), max(hi, at.Z)
		}
	}
	return lo, hi
}

// Where a slot is in the box, its place without the correction is at most so far outside.

func (c *corrected) RowsIn(layer int, lo, hi geom.Vec) (first, last int) {
	return c.Pattern.RowsIn(layer, lo.Sub(c.most), hi.Sub(c.least))
}

func (c *corrected) ColumnsIn(row, layer int, lo, hi geom.Vec) (first, last int) {
	return c.Pattern.ColumnsIn(row, layer, lo.Sub(c.most), hi.Sub(c.least))
}

// Outline has the slots that are off, and those that are the farthest in place of one that
// was: beside it, or two rows on, where every second row is shifted.
func (c *corrected) Outline() []slot.Slot {
	all := append(c.Pattern.Outline(), c.slots...)
	seen := map[int]bool{}
	for i := 0; i < len(all); i++ {
		at := c.extent.Index(all[i])
		if _, off := c.off[at]; !off || seen[at] {
			continue
		}
		seen[at] = true
		all = append(all, c.around(all[i], slot.Slot{Row: 1}, slot.Slot{Row: 2}, slot.Slot{Col: 1}, slot.Slot{Layer: 1})...)
	}
	return all
}

// around is the slots so many rows, columns and layers before and behind another one.
func (c *corrected) around(s slot.Slot, ways ...slot.Slot) (all []slot.Slot) {
	for _, way := range ways {
		for _, sign := range [...]int32{-1, 1} {
			at := slot.Slot{Row: s.Row + sign*way.Row, Col: s.Col + sign*way.Col, Layer: s.Layer + sign*way.Layer}
			if min(at.Row, at.Col, at.Layer) >= 0 && c.extent.Inside(at) {
				all = append(all, at)
			}
		}
	}
	return all
}

func (c *corrected) Pitch() float64 { return c.pitch }

// beside is the pitch: where rows are straight, the neighbours of each slot that is off count
// beside those of all others.
func (c *corrected) beside() float64 {
	if !c.Pattern.Form().Even() {
		return leastPitch(c, c.layers()...)
	}
	least := c.Pattern.Pitch()
	for _, s := range c.slots {
		at, _ := c.At(s)
		for _, beside := range c.around(s, slot.Slot{Row: 1}, slot.Slot{Col: 1}) {
			there, _ := c.At(beside)
			least = min(least, at.Dist(there))
		}
	}
	return least
}

// layers are those with slots that are off, and one of the others.
func (c *corrected) layers() []int {
	all, plain := []int{}, true
	for layer := range c.extent.Layers {
		off := slices.ContainsFunc(c.slots, func(s slot.Slot) bool { return int(s.Layer) == layer })
		if off || plain {
			all = append(all, layer)
		}
		plain = plain && off
	}
	return all
}

// Form says nothing in short: the slots are shown one by one.
func (c *corrected) Form() Form { return Form{} }
