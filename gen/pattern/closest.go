package pattern

import (
	"cmp"
	"math"
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/slot"
)

// Closest is the two slots of a layer that are nearest to each other, by their numbers, and
// their distance in mm; infinite where there is one slot only.
//
// Points are halved by X and each half is asked; then what lies across the cut is looked
// at by Y (Shamos and Hoey, Closest-point problems, 1975; from memory).
func Closest(p Pattern, layer int) (i, j int, distance float64) {
	extent := p.Extent()
	c := closest{distance: math.Inf(1)}
	for k := range extent.PerLayer() {
		k += layer * extent.PerLayer()
		at, _ := p.At(extent.Slot(k))
		c.points = append(c.points, numbered{k, at})
	}
	slices.SortFunc(c.points, func(a, b numbered) int { return cmp.Or(cmp.Compare(a.at.X, b.at.X), a.i-b.i) })
	c.among(c.points)
	if c.i > c.j {
		c.i, c.j = c.j, c.i
	}
	return c.i, c.j, c.distance
}

type numbered struct {
	i  int
	at geom.Vec
}

type closest struct {
	points, strip []numbered
	i, j          int
	distance      float64
}

func (c *closest) try(a, b numbered) {
	if d := a.at.Dist(b.at); d < c.distance {
		c.i, c.j, c.distance = a.i, b.i, d
	}
}

// among looks at points in the order of X, and leaves them in the order of Y.
func (c *closest) among(points []numbered) {
	byY := func(a, b numbered) int { return cmp.Or(cmp.Compare(a.at.Y, b.at.Y), a.i-b.i) }
	if len(points) < 2 {
		return
	}
	half := len(points) / 2
	cut := points[half].at.X
	c.among(points[:half])
	c.among(points[half:])
	slices.SortFunc(points, byY)
	c.strip = c.strip[:0]
	for _, p := range points {
		if math.Abs(p.at.X-cut) >= c.distance {
			continue
		}
		for k := len(c.strip) - 1; k >= 0 && p.at.Y-c.strip[k].at.Y < c.distance; k-- {
			c.try(p, c.strip[k])
		}
		c.strip = append(c.strip, p)
	}
}

// leastPitch is that distance, the least of some layers; 0 where there are no neighbours.
func leastPitch(p Pattern, layers ...int) float64 {
	least := math.Inf(1)
	for _, layer := range layers {
		_, _, distance := Closest(p, layer)
		least = min(least, distance)
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// outline is all slots of the lowest and of the highest layer.
func outline(extent *Extent) []slot.Slot {
	all := make([]slot.Slot, 0, 2*extent.PerLayer())
	for _, layer := range ends(extent.Layers) {
		for k := range extent.PerLayer() {
			s := extent.Slot(k)
			s.Layer = layer
			all = append(all, s)
		}
	}
	return all
}
