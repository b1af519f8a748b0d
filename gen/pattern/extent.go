package pattern

import (
	"fmt"
	"slices"
	"strconv"

	"gridferry/gen/slot"
)

// Extent is how many slots a pattern has: lettered rows with some slots in each, layer
// upon layer. Slots are numbered from 0, row by row, the lowest layer first.
type Extent struct {
	Rows, Columns, Layers int // Columns is the slots of the longest row

	// begins is how many slots of a layer come before each row, with the slots of a
	// whole layer at the end; nil where all rows are as long.
	begins []int
}

// Even is the extent of rows of one length.
func Even(rows, columns, layers int) Extent {
	return Extent{Rows: rows, Columns: columns, Layers: layers}
}

// Uneven is the extent of rows with so many slots each.
func Uneven(rows []int, layers int) Extent {
	s := Extent{Rows: len(rows), Columns: slices.Max(rows), Layers: layers, begins: []int{0}}
	for _, n := range rows {
		s.begins = append(s.begins, s.begins[len(s.begins)-1]+n)
	}
	return s
}

// PerLayer is the number of slots of a layer.
func (s *Extent) PerLayer() int { return s.before(s.Rows) }

// before is the number of slots of a layer that come before a row.
func (s *Extent) before(row int) int {
	if s.begins == nil {
		return row * s.Columns
	}
	return s.begins[row]
}

// Size is the number of slots.
func (s *Extent) Size() int { return s.PerLayer() * s.Layers }

// Across is how many slots a row has: "12", or "6 to 12" where rows are not all as long.
func (s *Extent) Across() string {
	least := s.Columns
	for row := range s.Rows {
		least = min(least, s.Length(row))
	}
	if least < s.Columns {
		return fmt.Sprintf("%d to %d", least, s.Columns)
	}
	return strconv.Itoa(s.Columns)
}

// Length is the number of slots in a row.
func (s *Extent) Length(row int) int { return s.before(row+1) - s.before(row) }

// Index is a slot's number.
func (s *Extent) Index(at slot.Slot) int {
	if s.begins == nil {
		return (int(at.Layer)*s.Rows+int(at.Row))*s.Columns + int(at.Col)
	}
	return int(at.Layer)*s.PerLayer() + s.begins[at.Row] + int(at.Col)
}

// Slot is the inverse of Index.
func (s *Extent) Slot(i int) slot.Slot {
	layer, i := i/s.PerLayer(), i%s.PerLayer()
	row := i / s.Columns
	if s.begins != nil {
		row, _ = slices.BinarySearch(s.begins, i+1)
		row--
	}
	return slot.Slot{Row: int32(row), Col: int32(i - s.before(row)), Layer: int32(layer)}
}

// Inside reports whether there is a slot of that name.
func (s *Extent) Inside(at slot.Slot) bool {
	return int(at.Row) < s.Rows && int(at.Layer) < s.Layers && int(at.Col) < s.Length(int(at.Row))
}

// Layered reports whether labels name the layer.
func (s *Extent) Layered() bool { return s.Layers > 1 }

// Label is a slot's name.
func (s *Extent) Label(at slot.Slot) string { return at.Label(s.Layered()) }
