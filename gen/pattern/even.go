package pattern

import (
	"math"

	"gridferry/gen/slot"
)

// What patterns with rows of one length have in common.

// ends are the first and the last of n things.
func ends(n int) []int32 {
	if n == 1 {
		return []int32{0}
	}
	return []int32{0, int32(n - 1)}
}

// corners are those of rows of one length.
func (s *Extent) corners() [4]slot.Slot {
	row, col := int32(s.Rows-1), int32(s.Columns-1)
	return [4]slot.Slot{{}, {Col: col}, {Row: row}, {Row: row, Col: col}}
}

// pitch is the least distance from the first slot to the next one in its row and to the
// first one of the next row.
func pitch(p Pattern) float64 {
	extent, least := p.Extent(), math.Inf(1)
	first, _ := p.At(slot.Slot{})
	for _, next := range [...]slot.Slot{{Col: 1}, {Row: 1}} {
		if extent.Inside(next) {
			at, _ := p.At(next)
			least = min(least, at.Dist(first))
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// span is the range of k in [0, n) for which k·pitch comes between two figures, and
// perhaps some just outside.
func span(n int, pitch, lo, hi float64) (first, last int) {
	const little = 0.01 // of the pitch: more than rounding does to a slot's position
	switch {
	case math.Abs(pitch) >= 1e-9:
	case lo > 0 || hi < 0:
		return 0, -1
	default:
		return 0, n - 1
	}
	if lo, hi = lo/pitch, hi/pitch; lo > hi {
		lo, hi = hi, lo
	}
	return max(0, int(math.Ceil(min(lo-little, float64(n))))), min(n-1, int(math.Floor(max(hi+little, -1))))
}
