package arm

import (
	"math"
	"sort"

	"gridferry/gen/geom"
)

// Solution is one set of readings that gives a pose.
type Solution struct {
	Readings Readings
	// Free marks the joints, from bit 0, of which not each has a value of its own at this pose: they
	// may be turned against each other, and the flange stays. The pose is singular there.
	Free uint8
}

// solutions collects what a solver finds, polished and proved, each once.
type solutions struct {
	arm    *Arm
	flange geom.Pose
	list   []Solution
}

// Solve adds to out every set of readings that gives a pose of the flange in the base, whatever the
// ranges: of joints that turn, in (-180, 180]. None is missed but what the class of the arm
// excepts (see each solver). Joints that are free take the values nearest to near. The order is that of
// the readings, and the same on every machine. Poses that cannot be reached give none.
func (a *Arm) Solve(flange geom.Pose, near Readings, out []Solution) []Solution {
	found := solutions{arm: a, flange: flange, list: out}
	start := len(out)
	a.solver.solve(flange, near, &found)
	list := found.list[start:]
	sort.Slice(list, func(i, k int) bool { return before(list[i].Readings, list[k].Readings) })
	return found.list
}

func before(a, b Readings) bool {
	for i := range a {
		if a[i] != b[i] {
			return a[i] < b[i]
		}
	}
	return false
}

// Off says how far a pose is from another one: mm between the origins, and degrees between the
// orientations.
func Off(a, b geom.Pose) (way, turn float64) {
	return a.T.Dist(b.T), a.R.T().Mul(b.R).Angle()
}

// turned brings an angle into (-180, 180].
func turned(degrees float64) float64 {
	d := math.Mod(degrees, 360)
	switch {
	case d > 180:
		return d - 360
	case d <= -180:
		return d + 360
	}
	return d + 0
}
