// Package pattern is how the slots of a grid lie in its frame: a file a pattern. All
// who need more of a grid than the labels of its slots ask its pattern, and nobody
// else knows how it lies. A pattern is values only: it knows no plan and no findings.
package pattern

import (
	"gridferry/gen/geom"
	"gridferry/gen/slot"
)

// Pattern is how slots lie. Every slot stands in a row, but rows need not be straight,
// nor all as long; layers lie above each other and have the same rows. Lengths are in
// mm, angles in degrees, all in the grid's frame.
type Pattern interface {
	// Extent is how many slots there are and how they are numbered.
	Extent() Extent
	// At is where the TCP is at a slot, and how far tool and part are turned there
	// about the frame's +Z.
	At(s slot.Slot) (at geom.Vec, turned float64)
	// Lie is how a part lies in a slot: turned as the slot is, and tilted with all others.
	Lie(s slot.Slot) geom.Rot
	// Bounds are the least and the greatest coordinates of all slots, and Level the least
	// and the greatest Z of a layer's.
	Bounds() (lo, hi geom.Vec)
	Level(layer int) (lo, hi float64)
	// RowsIn are the first and the last row of a layer that may have slots between two
	// corners of a box, and ColumnsIn the first and the last slot of such a row that
	// may be there. Nothing is left out; where there is nothing, last is less than first.
	RowsIn(layer int, lo, hi geom.Vec) (first, last int)
	ColumnsIn(row, layer int, lo, hi geom.Vec) (first, last int)
	// Outline is slots among which are the farthest ones in every direction, and one of
	// every turn.
	Outline() []slot.Slot
	// Corners are four slots of the lowest layer that show people how it lies: where
	// rows are straight, the ends of the first row and then those of the last one.
	Corners() [4]slot.Slot
	// Pitch is the least distance between neighbours in a layer; 0 where there are none.
	Pitch() float64
	// Form is how the pattern is written down in short.
	Form() Form
}

// Form is how a pattern is written down in short: by its pitch, by its corners, or slot
// by slot where it has neither.
type Form struct {
	Pitched  bool // slots lie along X, Y and Z from the first one on
	Cornered bool // the slots of a layer lie evenly between its corners
	Fixed    bool // a standard says so: nobody sets them farther apart

	Column, Row float64 // the pitch along X and along Y
	Layer       float64 // along Z, or square to what the corners span
	Stagger     float64 // of rows B, D, F and so on along X
}

// Even reports whether the slots lie evenly between the corners of the lowest and of the
// highest layer, but for the stagger of every second row.
func (f Form) Even() bool { return f.Pitched || f.Cornered }
