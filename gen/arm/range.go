package arm

import "math"

// Unit is what stands behind a figure of a joint's readings.
func (j *Joint) Unit() string {
	if j.Slides {
		return " mm"
	}
	return "°"
}

// hair is how far outside of a range a reading may lie, for rounding: degrees or mm.
const hair = 1e-6

// Within returns the lowest reading in a joint's range that is the given one or, of a joint that turns, lies
// whole turns off it, and how many such readings there are: each 360° above the one before.
func (j *Joint) Within(reading float64) (lowest float64, count int) {
	if j.Slides {
		if reading < j.Lo-hair || reading > j.Hi+hair {
			return reading, 0
		}
		return reading, 1
	}
	lowest = reading + float64(360*math.Ceil((j.Lo-hair-reading)/360))
	if lowest > j.Hi+hair {
		return lowest, 0
	}
	return lowest, 1 + int((j.Hi+hair-lowest)/360)
}

// Nearest returns the reading in a joint's range that is the given one but for whole turns and lies
// nearest to where the joint was; false where none is in the range.
func (j *Joint) Nearest(reading, was float64) (float64, bool) {
	lowest, count := j.Within(reading)
	if count == 0 {
		return reading, false
	}
	turns := math.Round((was - lowest) / 360)
	return lowest + float64(360*min(max(turns, 0), float64(count-1))), true
}

// Beyond is how far a reading lies outside of a joint's range, on the turn where that is least; 0 inside.
func (j *Joint) Beyond(reading float64) float64 {
	if _, count := j.Within(reading); count > 0 {
		return 0
	}
	if j.Slides {
		return max(j.Lo-reading, reading-j.Hi)
	}
	above := reading + float64(360*math.Ceil((j.Hi-reading)/360)) // the first above the range
	return min(above-j.Hi, j.Lo-(above-360))
}

// Way is how far a joint has to go from one reading to another one, on whatever turns of both: by which it goes least.
func (j *Joint) Way(from, to float64) float64 {
	if j.Slides {
		return to - from
	}
	from, most := j.Within(from)
	to, more := j.Within(to)
	turns := math.Round((from - to) / 360)
	return to - from + float64(360*min(max(turns, float64(1-most)), float64(more-1)))
}

// InRange returns readings on the turns nearest to others; false where a joint has none in its range.
func (a *Arm) InRange(r, near Readings) (Readings, bool) {
	for i := range a.Joints {
		var ok bool
		if r[i], ok = a.Joints[i].Nearest(r[i], near[i]); !ok {
			return r, false
		}
	}
	return r, true
}

// Margin is how far a reading lies from the nearer end of a joint's range, in degrees or mm; outside it is negative.
func (j *Joint) Margin(reading float64) float64 {
	if out := j.Beyond(reading); out > 0 {
		return -out
	}
	return min(reading-j.Lo, j.Hi-reading)
}

// Short says whether a joint reads less than a margin inside its range, degrees or mm. One whose range is not four times as wide only has to
// be inside.
func (a *Arm) Short(r *Readings, margin float64) bool {
	for i := range a.Joints {
		if a.Joints[i].Short(r[i], margin) {
			return true
		}
	}
	return false
}

// Short is the same of one joint.
func (j *Joint) Short(reading, margin float64) bool {
	if j.Hi-j.Lo <= 4*margin {
		margin = 0
	}
	return j.Margin(reading) < margin
}
