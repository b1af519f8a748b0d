package timing

import "math"

// Limits are those of the speed along one path: mm/s, mm/s² and mm/s³, or the same
// in degrees. An acceleration or a jerk of 0 is not known, and not limited.
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
	p := Profile{Start: start, Peak: max(start, end), End: end}
	if distance <= 0 || l.Speed <= 0 {
		return p
	}
	least := p.Peak
	p.Peak = max(l.Speed, least)
	left := p.ramps(distance, l)
	if left < 0 {
		p.Peak = l.peak(distance, start, end, least, p.Peak)
		left = p.ramps(distance, l)
	}
	// What the search left over is a hair of the way.
	p.Cruise = max(0, left) / p.Peak
	return p
}

// ramps fills in both ramps and says what they leave of the distance.
func (p *Profile) ramps(distance float64, l Limits) (left float64) {
	p.Up, p.UpJerk = l.ramp(p.Peak - p.Start)
	p.Down, p.DownJerk = l.ramp(p.Peak - p.End)
	return distance - (float64(p.Up*(p.Start+p.Peak))/2 + float64(p.Down*(p.Peak+p.End))/2)
}

// peak is the highest speed, from low to high, from which both ramps fit into a
// distance that is too short for high.
func (l Limits) peak(distance, start, end, low, high float64) float64 {
	if l.Jerk == 0 { // both triangles: 2·a·distance = (peak² - start²) + (peak² - end²)
		return max(low, min(high, math.Sqrt(float64(l.Acceleration*distance)+(float64(start*start)+float64(end*end))/2)))
	}
	return highest(low, high, func(v float64) float64 { return l.way(start, v) + l.way(v, end) - distance })
}

// reach is the highest speed that one can have at one end of a distance when it
// is v at the other end.
func (l Limits) reach(distance, v float64) float64 {
	if high := max(v, l.Speed); l.way(v, high) <= distance {
		return high
	}
	if l.Jerk == 0 {
		return max(v, min(l.Speed, math.Sqrt(float64(v*v)+float64(2*l.Acceleration*distance))))
	}
	return highest(v, l.Speed, func(w float64) float64 { return l.way(v, w) - distance })
}
