package pattern

import (
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/slot"
)

// stack is layers of boxes. Those of a layer are one row, in the order in which they are
// put down; the layers take turns between two lists of them.
type stack struct {
	extent Extent
	first  geom.Vec    // the corner of the footprint, at the TCP's height in the lowest layer
	high   float64     // of a box
	layers [2][]LayBox // layers 1, 3, 5 and so on, and 2, 4, 6

	lo, hi  geom.Vec
	pitch   float64
	corners [4]slot.Slot
}

// Stack is layers of boxes that are so high, as many in each. The corner of the footprint is
// at the height of the TCP in the lowest layer; layers 2, 4, 6 and so on may lie otherwise.
func Stack(layers int, corner geom.Vec, high float64, odd, even []LayBox) Pattern {
	s := &stack{extent: Even(1, len(odd), layers), first: corner, high: high, layers: [2][]LayBox{odd, even}}
	s.lo, s.hi = s.at(slot.Slot{}), s.at(slot.Slot{})
	for _, at := range s.Outline() {
		s.lo, s.hi = s.lo.Min(s.at(at)), s.hi.Max(s.at(at))
	}
	s.pitch = leastPitch(s, 0)
	for i := range s.corners {
		s.corners[i].Col = int32(toward(odd, float64(i%2*2-1), float64(i/2*2-1)))
	}
	return s
}

// toward is the box that lies farthest in a direction.
func toward(boxes []LayBox, x, y float64) int {
	farthest := 0
	for i, b := range boxes {
		far := func(b LayBox) float64 { return float64(x*b.X) + float64(y*b.Y) }
		if far(b) > far(boxes[farthest]) {
			farthest = i
		}
	}
	return farthest
}

func (s *stack) layer(layer int32) []LayBox { return s.layers[layer%2] }

func (s *stack) Extent() Extent { return s.extent }

func (s *stack) At(at slot.Slot) (geom.Vec, float64) {
	return s.at(at), s.layer(at.Layer)[at.Col].Turned
}

func (s *stack) at(at slot.Slot) geom.Vec {
	b := s.layer(at.Layer)[at.Col]
	return geom.Vec{X: s.first.X + b.X, Y: s.first.Y + b.Y, Z: s.height(int(at.Layer))}
}

func (s *stack) height(layer int) float64 { return s.first.Z + float64(float64(layer)*s.high) }

func (s *stack) Lie(at slot.Slot) geom.Rot { return geom.RotZ(s.layer(at.Layer)[at.Col].Turned) }

func (s *stack) Bounds() (lo, hi geom.Vec) { return s.lo, s.hi }

func (s *stack) Level(layer int) (lo, hi float64) { return s.height(layer), s.height(layer) }

func (s *stack) RowsIn(layer int, lo, hi geom.Vec) (first, last int) {
	if z := s.height(layer); z < lo.Z || z > hi.Z {
		return 0, -1
	}
	return 0, 0
}

// ColumnsIn looks at every box of the layer: they are in the order in which they are put
// down, which says little of where they are, and there are not many.
func (s *stack) ColumnsIn(_, layer int, lo, hi geom.Vec) (first, last int) {
	first, last = 0, -1
	for i := range s.layer(int32(layer)) {
		at := s.at(slot.Slot{Col: int32(i), Layer: int32(layer)})
		if at.X < lo.X || at.X > hi.X || at.Y < lo.Y || at.Y > hi.Y {
			continue
		}
		if last < 0 {
			first = i
		}
		last = i
	}
	return first, last
}

// Outline is the two lowest and the two highest layers.
func (s *stack) Outline() []slot.Slot {
	var all []slot.Slot
	n := s.extent.Layers
	for _, layer := range slices.Compact([]int{0, min(1, n-1), max(min(1, n-1), n-2), n - 1}) {
		for i := range s.extent.Columns {
			all = append(all, slot.Slot{Col: int32(i), Layer: int32(layer)})
		}
	}
	return all
}

func (s *stack) Corners() [4]slot.Slot { return s.corners }

func (s *stack) Pitch() float64 { return s.pitch }

// Form says nothing in short: the slots are shown one by one.
func (s *stack) Form() Form { return Form{} }
