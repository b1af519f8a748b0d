package measure

import (
	"strings"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
)

// Square is how far from a right angle the two touched directions of a frame from
// three points may be, in degrees, before there is a warning. Any angle makes a
// frame, and those who touch along two edges are within a few degrees of a right
// one; a honeycomb of holes or three pins at equal distances have 60 or 120 degrees,
// more or less by what a touch is off. A lost sign, two exchanged axes or another
// unit in one point leads anywhere, mostly far beyond this. Common practice, no source.
const Square = 35

// IsOblique reports whether a frame from three points was touched along two
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
	v := warning(RuleOblique, f.Place, "\"along_x\" and \"toward_y\" of the frame %q lie %.1f degrees apart as seen from \"origin\", wanted %d to %d",
		f.Name, f.Three.Angle, 90-Square, 90+Square)
	if tilt(base) > Steepest {
		v.Message += ", and its Z axis points down"
	}
	v.Hint = "compare the three points with what was read at the arm: a sign, two axes or a unit?" + f.suspect()
	return v, true
}

// suspect names the mistakes that would explain the angle: those that, put right,
// make it a right one. More than two explain nothing.
func (f *Frame) suspect() string {
	var found []string
	for i, p := range f.Points {
		if what, ok := slipIn(p.At, func(at geom.Vec) bool { return f.square(i, at) }); ok {
			found = append(found, what+" in "+f.label(i))
		}
	}
	if n := len(found); n == 0 || n > 2 {
		return ""
	}
	return " That would be explained by " + strings.Join(found, ", or ")
}

// square reports whether the angle is a right one, within half a degree, with one of
// the points elsewhere.
func (f *Frame) square(i int, elsewhere geom.Vec) bool {
	at := [3]geom.Vec{f.Points[0].At, f.Points[1].At, f.Points[2].At}
	at[i] = elsewhere
	three, err := fit.ThreePoints(at[0], at[1], at[2])
	return err == nil && three.Angle > 89.5 && three.Angle < 90.5
}

// tilt is the angle of a frame's Z axis from the base's, in degrees.
func tilt(base geom.Pose) float64 { return base.R.Column(2).AngleTo(geom.Vec{Z: 1}) }
