package timing

// highest is the highest value from low to high that is not too much, where low
// counts as good. The excess grows with the value and is above 0 where that is too
// much. The answer is good, and the highest but for a few of the last bits; the same
// question has the same answer on every machine.
//
// The Pegasus method (M. Dowell and P. Jarratt, BIT 12, 1972, 503-508, from memory):
// the line between the two ends says where to look next. Where the same end moves
// twice, the other one's excess is scaled down, so that it moves too.
func highest(low, high float64, excess func(float64) float64) float64 {
	if high <= low {
		return low
	}
	over := excess(high)
	if over <= 0 {
		return high
	}
	under, last := min(excess(low), 0), 0
	for look := range mostLooks {
		grain := high * finest
		if high-low <= 2*grain {
			break
		}
		v := low + (high-low)/2
		if look%middle < middle-1 && under < 0 {
			v = low + float64((high-low)*(under/(under-over)))
		}
		v = max(low+grain, min(v, high-grain))
		switch e := excess(v); {
		case e > 0:
			if last > 0 {
				under *= over / (over + e)
			}
			high, over, last = v, e, 1
		default:
			if last < 0 && e < 0 {
				over *= under / (under + e)
			}
			low, under, last = v, e, -1
		}
	}
	return low
}

const (
	// finest is what part of a value its last bits are.
	finest = 0x1p-51
	// middle says how often one looks in the middle, which bounds the number of looks
	// where the excess is nearly a step; it takes a dozen mostly.
	middle    = 6
	mostLooks = 60 * middle
)
