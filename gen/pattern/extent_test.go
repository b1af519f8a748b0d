package pattern_test

import (
	"testing"

	"gridferry/gen/pattern"
	"gridferry/gen/slot"
)

// Slots are numbered row by row, layer upon layer, and their numbers lead back to them.
func TestSlotsAreNumberedRowByRow(t *testing.T) {
	for _, c := range []struct {
		extent pattern.Extent
		rows   []int
	}{
		{pattern.Even(1, 1, 1), []int{1}}, {pattern.Even(3, 4, 2), []int{4, 4, 4}}, {pattern.Even(26, 1, 3), []int{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}},
		{pattern.Uneven([]int{3, 1, 5}, 1), []int{3, 1, 5}}, {pattern.Uneven([]int{2, 7, 2, 1}, 3), []int{2, 7, 2, 1}}, {pattern.Uneven([]int{4, 4}, 2), []int{4, 4}},
	} {
		i := 0
		for layer := range c.extent.Layers {
			for row, n := range c.rows {
				if got := c.extent.Length(row); got != n {
					t.Errorf("%v: row %d has %d slots, wanted %d", c.rows, row, got, n)
				}
				for col := range c.extent.Columns + 1 {
					s := slot.Slot{Row: int32(row), Col: int32(col), Layer: int32(layer)}
					if c.extent.Inside(s) != (col < n) {
						t.Errorf("%v: %v is inside: %v", c.rows, s, !(col < n))
					}
					if col >= n {
						continue
					}
					if got := c.extent.Index(s); got != i || c.extent.Slot(i) != s {
						t.Errorf("%v: %v has number %d, and %d is %v", c.rows, s, got, i, c.extent.Slot(i))
					}
					i++
				}
			}
		}
		if c.extent.Size() != i || c.extent.PerLayer()*c.extent.Layers != i {
			t.Errorf("%v: %d slots, wanted %d", c.rows, c.extent.Size(), i)
		}
		if c.extent.Inside(slot.Slot{Row: int32(len(c.rows))}) || c.extent.Inside(slot.Slot{Layer: int32(c.extent.Layers)}) {
			t.Errorf("%v: a row or a layer too many", c.rows)
		}
	}
}
