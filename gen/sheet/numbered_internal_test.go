package sheet

import "testing"

// A digit of Arial is 0.556 of its size wide (the font's metrics, from memory): numbers of 3 mm stay inside
// their fields, which fill 0.8 of a cell.
func TestNumbersFitTheirFields(t *testing.T) {
	for digits := 1; digits <= 7; digits++ {
		for cell := 1.0; cell <= widest; cell += 0.01 {
			c := chart{block: 1, cell: cell, digits: digits}
			if room := 0.8 * cell; c.numbered() && room < 0.556*3*float64(digits) {
				t.Fatalf("%d digits stand in a field of %.2f mm", digits, room)
			}
		}
		if c := (chart{block: 1, cell: widest, digits: digits}); !c.numbered() && digits < 7 {
			t.Errorf("%d digits have no room in the widest field", digits)
		}
	}
}
