package arm

import (
	"math"

	"gridferry/gen/geom"
)

// railed solves an arm on a rail: what the rail reads is chosen, and the rest is the arm's.
type railed struct {
	arm   *Arm
	inner *Arm   // behind the rail
	whole solver // of the rail with the arm, where a pose can tell what the rail has to read; else nil
}

// leastTurning is how many joints have to turn behind one that slides for this to be a rail, and no axis of a gantry: one more
// where a pose can tell what it reads.
const leastTurning = 3

// onRail returns the solver where the first joint slides and what is behind it can do without.
func onRail(a *Arm) (railed, bool) {
	if len(a.Joints) < 2 || !a.Joints[0].Slides {
		return railed{}, false
	}
	turning := 0
	for i := range a.Joints {
		if !a.Joints[i].Slides {
			turning++
		}
	}
	told := len(a.Joints) <= 6 && !a.alwaysSingular()
	if turning < leastTurning || told && turning == leastTurning {
		return railed{}, false
	}
	inner, err := New(a.Joints[1:], a.Flange)
	if err != nil || inner.Rail() {
		return railed{}, false
	}
	s := railed{arm: a, inner: inner}
	if told {
		if g, ok := summed(a); ok {
			s.whole = guessed{a, g}
		} else if g, ok := slidingWrist(a); ok {
			s.whole = guessed{a, g}
		} else {
			return railed{}, false
		}
	}
	return s, true
}

func (s railed) class() string { return "on a rail, " + s.inner.Class() }

// Rail says whether the first joint is a rail under the arm. [Arm.Solve] keeps what it reads wherever a
// solution within the ranges is there; else it takes the nearest reading at which one is, else the nearest at which there is any.
func (a *Arm) Rail() bool {
	_, ok := a.solver.(railed)
	return ok
}

// SolveAt is [Arm.Solve] with the rail at a reading in mm and nowhere else. An arm that is on no rail has none.
func (a *Arm) SolveAt(rail float64, flange geom.Pose, near Readings, out []Solution) []Solution {
	s, ok := a.solver.(railed)
	if !ok {
		return out
	}
	found := s.at(rail, near, solutions{arm: a, flange: flange, list: out, start: len(out)})
	found.sort()
	return found.list
}

func (s railed) solve(flange geom.Pose, near Readings, found solutions) solutions {
	rail := &s.arm.Joints[0]
	kept := min(max(near[0], rail.Lo), rail.Hi)
	if found = s.at(kept, near, found); s.serves(&found, true) {
		return found
	}
	if s.whole != nil {
		found.list = found.list[:found.start]
		if found = s.whole.solve(flange, near, found); s.serves(&found, false) {
			return found
		}
	}
	for _, within := range [...]bool{true, false} {
		if to, ok := s.nearestRail(kept, near, within, &found); ok {
			found.list = found.list[:found.start]
			return s.at(to, near, found)
		}
	}
	found.list = found.list[:found.start]
	return found
}

// at adds all solutions with the rail at a reading.
func (s railed) at(rail float64, near Readings, found solutions) solutions {
	var behind Readings
	copy(behind[:], near[1:])
	flange := found.flange
	flange.T = flange.T.Sub(s.arm.Joints[0].Axis.Scale(rail))
	start := len(found.list)
	inner := s.inner.solver.solve(flange, behind, solutions{arm: s.inner, flange: flange, list: found.list, start: start})
	found.list = inner.list
	for i := start; i < len(found.list); i++ {
		one := &found.list[i]
		copy(one.Readings[1:], one.Readings[:MaxJoints-1])
		one.Readings[0] = rail
		one.Free <<= 1
	}
	return found
}

// serves says whether there are solutions, or some within the ranges.
func (s railed) serves(found *solutions, within bool) bool {
	for _, one := range found.list[found.start:] {
		if _, in := s.arm.InRange(one.Readings, one.Readings); in || !within {
			return true
		}
	}
	return false
}

// railSteps is how many steps the search for the rail's reading takes over its range, and railNear how near it then comes, in
// mm, to where the first solution is. A stretch of solutions that is shorter than a step may be missed.
const railSteps, railNear = 64, 0.01

// nearestRail looks for the reading of the rail that is nearest to another one and has a solution: outwards on both sides in
// steps, and then back by halves.
func (s railed) nearestRail(from float64, near Readings, within bool, found *solutions) (to float64, ok bool) {
	rail := &s.arm.Joints[0]
	step := (rail.Hi - rail.Lo) / railSteps
	has := func(reading float64) bool {
		found.list = found.list[:found.start]
		*found = s.at(reading, near, *found)
		return s.serves(found, within)
	}
	if has(from) || !(step > 0) {
		return from, s.serves(found, within)
	}
	for k := 1.0; k <= railSteps+1; k++ {
		best := math.Inf(1)
		for _, side := range [...]float64{-1, 1} {
			fails, serves := from+float64(side*(k-1)*step), from+float64(side*k*step)
			serves = min(max(serves, rail.Lo), rail.Hi)
			if fails < rail.Lo || fails > rail.Hi || !has(serves) {
				continue
			}
			for math.Abs(serves-fails) > railNear {
				if middle := fails + (serves-fails)/2; has(middle) {
					serves = middle
				} else {
					fails = middle
				}
			}
			if math.Abs(serves-from) < best {
				best, to, ok = math.Abs(serves-from), serves, true
			}
		}
		if ok {
			return to, true
		}
	}
	return 0, false
}
