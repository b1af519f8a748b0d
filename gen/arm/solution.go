package arm

import (
	"math"
	"slices"

	"gridferry/gen/geom"
)

// Solution is one set of readings that gives a pose.
type Solution struct {
	Readings Readings
	// Singular says that the flange cannot move in every direction from here, to first order: two solutions have
	// become one, or joints are free.
	Singular bool
	// Free marks the joints, from bit 0, of which not each has a value of its own at this pose: they
	// may be moved against each other, and the flange stays. Of more than six joints some always may;
	// those are not marked.
	Free uint8
}

// solutions collects what a solver finds, polished and proved, each once.
type solutions struct {
	arm    *Arm
	flange geom.Pose
	list   []Solution
	start  int // of this pose's solutions in the list
	only   int // 1 and the index of the configuration that is asked for; 0 for all
}

// add polishes readings until they give the pose to 1e-10 (in lengths of the arm, and in radians) and
// lists them unless they are listed already. Readings that do not come to the pose are dropped. Where joints are free they
// take the values nearest to near, as far as they get there along the solutions without turning back.
func (s *solutions) add(r, near Readings) {
	if s.only > 0 && s.elsewhere(r) {
		return
	}
	var q equations
	r, ok := s.arm.polish(r, s.flange, &q)
	if !ok {
		return
	}
	found := Solution{}
	if !q.regular() {
		lostOnes, n := q.lostDirections()
		if found.Singular = n > 0; found.Singular {
			found.Free = s.free(r, &lostOnes, n)
		}
		if found.Free != 0 {
			r = s.nearest(r, near)
		}
	}
	found.Readings = s.arm.inTurn(r)
	if !s.listed(found) {
		s.list = append(s.list, found)
	}
}

// elsewhere says whether readings are plainly in another configuration than the one that is asked for.
func (s *solutions) elsewhere(r Readings) bool {
	const plainly = 1e-2
	factors, _ := s.arm.Factors(r)
	for i, f := range factors {
		if second := (s.only-1)>>(len(factors)-1-i)&1 == 1; second != (f < 0) && math.Abs(f) > plainly*s.arm.most(i) {
			return true
		}
	}
	return false
}

// listed says whether readings are listed already: nearly the same ones, so that those midway give the
// pose too and nothing tells them apart.
func (s *solutions) listed(one Solution) bool {
	const nearby = 1e-3
	var q equations
	for i := s.start; i < len(s.list); i++ {
		way, near := s.arm.short(one.Readings, s.list[i].Readings, nearby)
		if !near {
			continue
		}
		between := s.arm.moved(one.Readings, way, 0.5)
		if s.arm.equate(&between, s.flange, &q); q.off <= met || one.Free != 0 {
			return true
		}
	}
	return false
}

// inTurn brings the angles of readings into (-180, 180].
func (a *Arm) inTurn(r Readings) Readings {
	for i := range a.Joints {
		if !a.Joints[i].Slides {
			r[i] = turned(r[i])
		}
	}
	return r
}

// Solve adds to out every set of readings that gives a pose of the flange in the base, whatever the
// ranges: of joints that turn, in (-180, 180]. None is missed but what the class of the arm
// excepts (see each solver). Joints that are free take the values nearest to near. The order is that of
// the readings, and the same on every machine. Poses that cannot be reached give none.
func (a *Arm) Solve(flange geom.Pose, near Readings, out []Solution) []Solution {
	found := solutions{arm: a, flange: flange, list: out, start: len(out)}
	found = a.solver.solve(flange, near, found)
	found.sort()
	return found.list
}

// SolveIn is Solve for the solutions in one configuration, by its index; some in others may be among them. It is only for an arm that
// [Arm.SolvesIn], and takes 0.45 times the work, as the others are not polished.
func (a *Arm) SolveIn(index int, flange geom.Pose, near Readings, out []Solution) []Solution {
	found := solutions{arm: a, flange: flange, list: out, start: len(out), only: 1 + index}
	found = a.solver.solve(flange, near, found)
	found.sort()
	return found.list
}

// SolvesIn says whether the arm can be solved for one configuration alone: it has words for all, and its solver finds
// candidates that are solutions but for rounding.
func (a *Arm) SolvesIn() bool {
	_, is := a.solver.(*spherical)
	return is && a.factored != nil
}

// sort brings the solutions into the order of their readings.
func (s *solutions) sort() {
	slices.SortFunc(s.list[s.start:], func(a, b Solution) int { return slices.Compare(a.Readings[:], b.Readings[:]) })
}

// Off says how far a pose is from another one: mm between the origins, and degrees between the
// orientations.
func Off(a, b geom.Pose) (way, turn float64) {
	return a.T.Dist(b.T), a.R.T().Mul(b.R).Angle()
}

// turned brings an angle into (-180, 180], and what rounding left a hair short of half a turn backwards
// to half a turn forwards.
func turned(degrees float64) float64 {
	const hair = 1e-10
	d := degrees
	if math.Abs(d) > 180 {
		d = math.Mod(d, 360)
	}
	switch {
	case d > 180:
		d -= 360
	case d <= -180:
		d += 360
	}
	if d <= -180+hair {
		return 180
	}
	return d + 0
}
