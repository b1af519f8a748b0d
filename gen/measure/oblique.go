package measure

import (
	"fmt"
	"strings"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
	"gridferry/plan/diag"
)

// Square is how far from a right angle the two touched directions of a frame from
// three points may be, in degrees, before there is a warning. Any angle makes a
// frame, and those who touch along two edges are within a few degrees of a right
// one. A lost sign, two exchanged axes or another unit in one point leads anywhere,
// mostly far beyond this. Common practice, no source.
const Square = 30

// IsOblique tells whether a frame from three points was touched along two
// directions that are far from square, so that one of the points may not lie where
// its figures say.
func (f *Frame) IsOblique() bool {
	return f.Three != nil && (f.Three.Angle < 90-Square || f.Three.Angle > 90+Square)
}

// Oblique warns of such a frame; base is where it lies in the base. That its Z
// points down as well is part of the same slip, so it is said along with it.
func (f *Frame) Oblique(base geom.Pose) (Verdict, bool) {
	if !f.IsOblique() {
		return Verdict{}, false
	}
	v := Verdict{Severity: diag.Warning, Rule: RuleOblique, Place: f.Place}
	v.Message = fmt.Sprintf("\"along_x\" and \"toward_y\" of the frame %q lie %.1f degrees apart as seen from \"origin\", wanted %d to %d",
		f.Name, f.Three.Angle, 90-Square, 90+Square)
	if tilt(base) > Steepest {
		v.Message += ", and its Z axis points down"
	}
	v.Hint = "compare the three points with what was read at the arm: a sign, two axes or a unit?" + f.suspect()
	return v, true
}

// suspect names the points of which one, with such a slip put right, would make the
// angle a right one; nothing where it could be any of the three, or none.
func (f *Frame) suspect() string {
	var found []string
	for i := range f.Points {
		if f.mends(i) {
			found = append(found, f.label(i))
		}
	}
	if n := len(found); n == 0 || n == len(f.Points) {
		return ""
	}
	return " One such slip in " + strings.Join(found, " or ") + " would explain the angle"
}

// mends tells whether one sign, two axes or the unit of a point, put right, makes
// the angle a right one within half a degree.
func (f *Frame) mends(i int) bool {
	for _, other := range readings(f.Points[i].At) {
		at := [3]geom.Vec{f.Points[0].At, f.Points[1].At, f.Points[2].At}
		at[i] = other
		three, err := fit.ThreePoints(at[0], at[1], at[2])
		if err == nil && three.Angle > 89.5 && three.Angle < 90.5 {
			return true
		}
	}
	return false
}

// readings are what somebody may have meant who made one slip in a point.
func readings(p geom.Vec) []geom.Vec {
	all := []geom.Vec{
		{X: -p.X, Y: p.Y, Z: p.Z}, {X: p.X, Y: -p.Y, Z: p.Z}, {X: p.X, Y: p.Y, Z: -p.Z},
		{X: p.Y, Y: p.X, Z: p.Z}, {X: p.X, Y: p.Z, Z: p.Y}, {X: p.Z, Y: p.Y, Z: p.X},
	}
	for _, u := range units {
		all = append(all, p.Scale(u.times), p.Scale(1/u.times))
	}
	return all
}

// tilt is the angle of a frame's Z axis from the base's, in degrees.
func tilt(base geom.Pose) float64 { return base.R.Column(2).AngleTo(geom.Vec{Z: 1}) }
