package timing

import "math"

// Limits are the most that may be asked of the speed along one path: mm/s,
// mm/s² and mm/s³, or the same in degrees. An acceleration or a jerk of 0 is not
// known, and not limited.
type Limits struct{ Speed, Acceleration, Jerk float64 }

// ramp is how long a change of speed takes, and how long each of its two ends
// takes in which the acceleration builds up and dies down again. Between them it
// stays at its limit.
func (l Limits) ramp(change float64) (total, jerked float64) {
	a, j := l.Acceleration, l.Jerk
	switch {
	case change <= 0 || a == 0 && j == 0:
		return 0, 0
	case j == 0:
		return change / a, 0
	case a == 0 || float64(change*j) < float64(a*a):
		jerked = math.Sqrt(change / j)
		return 2 * jerked, jerked
	default:
		jerked = a / j
		return jerked + change/a, jerked
	}
}

// way is the distance that a change of speed needs: a ramp is symmetric, so its
// mean speed lies in the middle.
func (l Limits) way(from, to float64) float64 {
	t, _ := l.ramp(math.Abs(to - from))
	return float64(t*(from+to)) / 2
}

// Profile is the speed along one path: up to a peak, along at the peak, down
// again.
type Profile struct {
	Start, Peak, End float64 // speeds
	Up, Cruise, Down float64 // seconds
	// UpJerk and DownJerk are the seconds of each end of a ramp.
	UpJerk, DownJerk float64
}

// Seconds is how long the whole takes.
func (p Profile) Seconds() float64 { return p.Up + p.Cruise + p.Down }

// Between is the quickest profile over a distance from one speed to another.
// The distance has to be enough for the change of speed, see reach.
//
// The trapezoid and the triangle are those of Lynch & Park, Modern Robotics,
// 9.2.2.2, the double S that of Biagiotti & Melchiorri, Trajectory Planning for
// Automatic Machines and Robots, 3.4 (both from memory). Where the peak speed is
// not reached, that book lowers the acceleration of both ramps alike until they
// fit; here each ramp keeps its own, and the peak is searched for, which is never
// slower.
func Between(distance, start, end float64, l Limits) Profile {
	if distance <= 0 || l.Speed <= 0 {
		return Profile{Start: start, Peak: max(start, end), End: end}
	}
	both := func(peak float64) float64 { return l.way(start, peak) + l.way(peak, end) }
	peak := highest(max(start, end), max(l.Speed, start, end), func(v float64) bool { return both(v) <= distance })
	p := Profile{Start: start, Peak: peak, End: end}
	p.Up, p.UpJerk = l.ramp(peak - start)
	p.Down, p.DownJerk = l.ramp(peak - end)
	// What the search left over is a hair of the way.
	p.Cruise = max(0, distance-both(peak)) / peak
	return p
}

// reach is the highest speed that one can have at one end of a distance when it
// is v at the other end.
func (l Limits) reach(distance, v float64) float64 {
	return highest(v, max(v, l.Speed), func(w float64) bool { return l.way(v, w) <= distance })
}

// halvings make the search as fine as a float64 can tell.
const halvings = 60

// highest is the highest value from low to high that is good, where low counts
// as good and all below a good one are good. The middle is always halfway, so the
// same question has the same answer on every machine.
func highest(low, high float64, good func(float64) bool) float64 {
	if high <= low || good(high) {
		return max(low, high)
	}
	for range halvings {
		middle := low + (high-low)/2
		if middle <= low || middle >= high {
			break
		}
		if good(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}
