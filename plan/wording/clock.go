package wording

import (
	"fmt"
	"math"
)

// Clock is a time as people say it: "0.8 s", "59.9 s", "1 min 03 s", "2 h 05 min".
func Clock(seconds float64) string {
	const tenths = 59.95 // from here on they would read "60.0 s"
	whole := int64(math.Round(seconds))
	minutes := int64(math.Round(seconds / 60))
	switch {
	case seconds < tenths:
		return fmt.Sprintf("%.1f s", seconds)
	case whole < 3600:
		return fmt.Sprintf("%d min %02d s", whole/60, whole%60)
	}
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}

// Lasts is a clock with the waits that it does not hold, in the same breath.
func Lasts(seconds float64, waits int) string {
	if waits == 0 {
		return Clock(seconds)
	}
	return fmt.Sprintf("%s and %s of unknown length", Clock(seconds), Count(waits, "wait"))
}
