package arm

import (
	"math"

	"gridferry/gen/geom"
)

// Near is a singular place near to some readings: one joint alone leads to it, going so far, in degrees or mm.
type Near struct {
	Joint  int
	By     float64
	Factor int // which of the arm's Factors is 0 there; -1 where it has no words for them
}

// NearSingular is the nearest singular place that a joint alone leads to, going by so many degrees or mm at most, whatever
// its range; false where there is none. The first joint and the last make no difference to it. Of an arm on a rail, it is that
// of the arm without it.
func (a *Arm) NearSingular(r Readings, degrees, mm float64) (near Near, ok bool) {
	if s, is := a.solver.(railed); is {
		copy(r[:], r[1:])
		near, ok = s.inner.NearSingular(r, degrees, mm)
		near.Joint++
		return near, ok
	}
	least := 1.0
	for i := 1; i < len(a.Joints)-1; i++ {
		most := degrees
		if a.Joints[i].Slides {
			most = mm
		}
		if by, factor := a.singularAlong(r, i, most); by <= least*most {
			near, ok, least = Near{i, by, factor}, true, by/most
		}
	}
	return near, ok
}

// singularAlong is how far a joint has to go, either way, to a singular place, and which that is; infinite where none is
// as near as the most.
func (a *Arm) singularAlong(r Readings, joint int, most float64) (by float64, factor int) {
	if f, is := a.factored.(*sides); is {
		return f.zeroAlong(r, joint)
	}
	return a.flatAlong(r, joint, most), -1
}

// zeroAlong is how far a joint that turns has to go until a factor is 0. Each of them is a sinusoid of each joint: three of its
// values give it.
func (f *sides) zeroAlong(r Readings, joint int) (by float64, factor int) {
	const third = 120
	here := r[joint]
	zero := f.factors(r)
	r[joint] = here + third
	one := f.factors(r)
	r[joint] = here - third
	two := f.factors(r)
	by = math.Inf(1)
	for i := range zero {
		wave := sinusoid{(zero[i] + one[i] + two[i]) / 3, (float64(2*zero[i]) - one[i] - two[i]) / 3, (one[i] - two[i]) / math.Sqrt(3)}
		scale := max(math.Abs(zero[i]), math.Abs(one[i]), math.Abs(two[i]))
		at, n, _ := wave.zeros(scale)
		for _, d := range at[:n] {
			if off := math.Abs(geom.Atan2(d.sin, d.cos)); off < by {
				by, factor = off, i
			}
		}
	}
	return by, factor
}

// flatSteps is in how many steps a joint is moved to either side to find where it leads to a singular place, and noticed by which
// part a volume has to change to count as changing: many joints make no difference.
const flatSteps, noticed = 24, 1e-6

// flatAlong is the same for any arm: where the volume that the joints' twists span becomes 0. It is looked for about each step
// at which it is less than at those beside it.
func (a *Arm) flatAlong(r Readings, joint int, most float64) float64 {
	var at [2*flatSteps + 3]float64
	step := most / flatSteps
	off := func(i int) float64 { return float64(float64(i-flatSteps-1) * step) }
	volume := func(by float64) float64 {
		moved := r
		moved[joint] += by
		return a.volume(&moved)
	}
	largest, by := 0.0, math.Inf(1)
	for i := range at {
		at[i] = volume(off(i))
		largest = max(largest, at[i])
	}
	for i := 1; i < len(at)-1; i++ {
		if at[i] > min(at[i-1], at[i+1]) || at[i] >= (1-noticed)*max(at[i-1], at[i+1]) {
			continue
		}
		place := lowest(volume, off(i-1), off(i+1))
		if volume(place) <= 1e-6*largest && math.Abs(place) <= most {
			by = min(by, math.Abs(place))
		}
	}
	return by
}

// lowest is where a function is least between two places, by the golden section.
func lowest(f func(float64) float64, lo, hi float64) float64 {
	const golden = 0.6180339887498949
	left, right := hi-float64(golden*(hi-lo)), lo+float64(golden*(hi-lo))
	l, r := f(left), f(right)
	for range 50 {
		if l <= r {
			hi, right, r = right, left, l
			left = hi - float64(golden*(hi-lo))
			l = f(left)
		} else {
			lo, left, l = left, right, r
			right = lo + float64(golden*(hi-lo))
			r = f(right)
		}
	}
	return (lo + hi) / 2
}

// volume is that which the joints' twists span, ways in lengths of the arm: the product of what each has that those before it
// have not. It is 0 at singular places and nowhere else.
func (a *Arm) volume(r *Readings) float64 {
	var q equations
	a.equate(r, a.Flange, &q)
	volume := 1.0
	for i := range q.joints {
		for k := range i {
			q.straighten(i, k)
		}
		volume = float64(volume * math.Sqrt(q.product(i, i)))
	}
	return volume
}

// straighten takes from a column what it has of another one.
func (q *equations) straighten(i, k int) {
	whole := q.product(k, k)
	if whole == 0 {
		return
	}
	part := q.product(i, k) / whole
	for row := range q.j {
		q.j[row][i] -= float64(part * q.j[row][k])
	}
}
