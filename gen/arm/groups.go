package arm

import (
	"math"
	"strconv"

	"gridferry/gen/geom"
)

// group is a run of joints that turn about parallel axes, whatever slides between them: for the orientation of what is
// behind them only the sum of their readings counts.
type group struct {
	axis        geom.Vec
	first, last int // of the joints that turn, counted alone
}

// turns are angles of up to three groups that give an orientation.
type turns struct {
	angles [3]float64
	// level is the sine between the axes of the first group and the third; nearly 0 where the two may be turned against each other.
	level float64
}

// unturned is the level below which nothing is known of the first and third angle but how they add up,
// and shaky that below which rounding may have moved them far.
const unturned, shaky = 1e-9, 1e-3

// turnsOf returns every way in which groups give a turn, counted from all readings 0: one or two of them. It gives the
// nearest that is easy to say where there is none.
func turnsOf(groups []group, to geom.Rot) (ways [2]turns, n int) {
	switch len(groups) {
	case 0:
		return ways, 1
	case 1:
		ways[0] = turns{angles: [3]float64{twist(groups[0].axis, to)}, level: 1}
		return ways, 1
	case 2:
		a, b := groups[0].axis, groups[1].axis
		first := angleAbout(a, b, to.Apply(b))
		ways[0] = turns{angles: [3]float64{first, twist(b, turn(a, toward(-first)).Mul(to))}, level: 1}
		return ways, 1
	}
	a, b, c := groups[0].axis, groups[1].axis, groups[2].axis
	bent, rest := dihedral(a.AngleTo(b), b.AngleTo(c), a.AngleTo(to.Apply(c))), angleAbout(b, a, c)
	n = 2
	if bent == 0 || bent == 180 {
		n = 1
	}
	for i := range n {
		second := turn(b, toward(bent-rest))
		up := second.Apply(c)
		first := angleAbout(a, up, to.Apply(c))
		w := &ways[i]
		w.level = a.Cross(up).Norm()
		w.angles[0], w.angles[1] = first, bent-rest
		w.angles[2] = third(groups, w.angles[0], w.angles[1], to)
		bent = -bent
	}
	return ways, n
}

// third returns the angle of the third group that goes with those of the others.
func third(groups []group, first, second float64, to geom.Rot) float64 {
	before := turn(groups[0].axis, toward(first)).Mul(turn(groups[1].axis, toward(second)))
	return twist(groups[2].axis, before.T().Mul(to))
}

// dihedral returns the angle at which two faces stand to each other where three directions make an angle between the
// first and the second, the second and the third, and the third and the first, all in degrees: half angles, so that no
// digit is lost when it is nearly 0 or 180 (spherical trigonometry; from memory). Where no such three directions are, the nearest.
func dihedral(ab, bc, ca float64) float64 {
	half := func(degrees float64) float64 { s, _ := geom.SinCos(degrees / 2); return s }
	sin := float64(half(ca+ab-bc) * half(ca-ab+bc))
	cos := float64(half(ab+bc+ca) * half(ab+bc-ca))
	return 2 * geom.Atan2(math.Sqrt(max(sin, 0)), math.Sqrt(max(cos, 0)))
}

// span returns the least and the most that the last of some axes can stand off the first, in degrees, while each turns about the one before.
func span(axes []geom.Vec) (least, most float64) {
	for i := 1; i < len(axes); i++ {
		angle := axes[i-1].AngleTo(axes[i])
		least, most = max(0, angle-most, least-angle), fold(least, most, angle)
	}
	return least, most
}

// fold returns the most of span when one axis more stands off the last by an angle.
func fold(least, most, angle float64) float64 {
	switch {
	case most+angle <= 180:
		return most + angle
	case least+angle <= 180:
		return 180
	}
	return 360 - least - angle
}

// NearestTurn returns the orientation that is nearest to a wanted one among those that the arm can turn its flange to
// wherever it then stands, and how far it is off the wanted one in degrees, up to rounding. An arm whose joints turn about
// enough axes can turn to every one. Ranges do not count.
//
// Why it is the nearest: all that an arm turns to is told by the angle between the first axis and the last one,
// and no turn moves an axis by more than its own angle.
func (a *Arm) NearestTurn(wanted geom.Rot) (nearest geom.Rot, off float64) {
	var room [MaxJoints]geom.Vec
	axes := a.directions(room[:0])
	if len(axes) == 0 {
		return a.Flange.R, wanted.Mul(a.Flange.R.T()).Angle()
	}
	first, last := axes[0], wanted.Mul(a.Flange.R.T()).Apply(axes[len(axes)-1])
	least, most := span(axes)
	is := first.AngleTo(last)
	allowed := min(max(is, least), most)
	if off = math.Abs(allowed - is); off < 1e-12 {
		return wanted, 0
	}
	return turn(hinge(first, last), toward(allowed-is)).Mul(wanted), off
}

// Turns says in words how the arm can turn its flange, to go on from "the arm turns its flange": not at all, about one
// direction of the base only, only so that the last axis stands at certain angles to the first, or every way.
func (a *Arm) Turns() string {
	var room [MaxJoints]geom.Vec
	axes := a.directions(room[:0])
	least, most := span(axes)
	whole := func(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', -1, 64) }
	switch {
	case len(axes) == 0:
		return "not at all"
	case len(axes) == 1 && parallelAxes(axes[0], geom.Vec{Z: 1}):
		return "about the vertical only"
	case len(axes) == 1:
		return "about (" + whole(axes[0].X) + ", " + whole(axes[0].Y) + ", " + whole(axes[0].Z) + ") of the base only"
	case least < 1e-3 && most > 180-1e-3 && a.leans():
		return "in ways that depend on the place"
	case least < 1e-3 && most > 180-1e-3:
		return "every way"
	case most-least < 1e-3:
		return "only so that its last axis stands at " + whole(least) + "° to the first"
	}
	return "only so that its last axis stands at " + whole(least) + "° to " + whole(most) + "° to the first"
}

// directions adds the axes of the joints that turn, those that follow on each other and are parallel once.
func (a *Arm) directions(axes []geom.Vec) []geom.Vec {
	for i := range a.Joints {
		if j := &a.Joints[i]; !j.Slides && (len(axes) == 0 || !parallelAxes(axes[len(axes)-1], j.Axis)) {
			axes = append(axes, j.Axis)
		}
	}
	return axes
}

// hinge returns a direction that is square to two others, about which the second turns away from the first.
func hinge(first, second geom.Vec) geom.Vec {
	if h, some := first.Cross(second).Unit(); some {
		return h
	}
	return sideOf(first)
}
