package measure

import (
	"fmt"
	"math"
	"strconv"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Frame is a frame that was measured, and how far its points can be trusted.
type Frame struct {
	Name      string
	Place     diag.Place // of the key that holds the points
	Points    []Point
	Tolerance float64 // mm, of a best fit
	Touch     float64 // mm, how far off one touch may be

	// One of the two is set.
	Three *fit.ThreePointFrame
	Best  *fit.Registration
	// Suspects are the points that spoil a best fit, where it is beyond its
	// tolerance.
	Suspects fit.Suspects

	// Far is the slot that suffers most from the frame's uncertain angle; nil
	// where nothing is laid out in the frame.
	Far *Far
}

// Point is a point that was touched.
type Point struct {
	Label   string // as findings write it: a name in quotes, or "point 3"
	Place   diag.Place
	Nominal geom.Vec // in the frame; of a best fit only
	At      geom.Vec // where it was touched, in the parent
}

// Far is how far off a slot may be because the frame is turned by a little too much.
type Far struct {
	Grid, Slot string
	Degrees    float64 // how far off the frame may be turned
	Off        float64 // mm, by that turn
	Baseline   string  // of three points: the one to lengthen, "along_x" or "toward_y"
	Have, Need float64 // its length, and the one that would do, in mm
}

// Pose is where the frame lies in its parent.
func (f *Frame) Pose() geom.Pose {
	if f.Three != nil {
		return f.Three.Pose
	}
	return f.Best.Pose
}

// Degrees is how far off the frame may be turned.
func (f *Frame) Degrees() float64 {
	if f.Three != nil {
		direction, plane := f.Three.Uncertainty(f.Touch)
		return max(direction, plane)
	}
	return f.Best.Uncertainty(f.Touch)
}

// ThreePoints works out a frame from three points; nil, and the reason reported, where
// they give none.
func ThreePoints(name string, t *plan.ThreePoints, touch float64, findings *diag.List) *Frame {
	f := &Frame{Name: name, Place: t.Place, Touch: touch}
	for _, p := range []struct {
		name string
		at   plan.Vector
	}{{"origin", t.Origin}, {"along_x", t.AlongX}, {"toward_y", t.TowardY}} {
		if !p.at.IsSet() {
			return nil
		}
		f.Points = append(f.Points, Point{Label: strconv.Quote(p.name), Place: p.at.Place, At: vec(p.at)})
	}
	found, err := fit.ThreePoints(f.Points[0].At, f.Points[1].At, f.Points[2].At)
	if err != nil {
		refused(findings, "bad-three-points", fmt.Sprintf("no frame can be computed from the three points of %q", name), err, nil, t.Place, nil)
		return nil
	}
	f.Three = &found
	return f
}

// BestFit works out a frame from points whose places in it are known; nil, and the
// reason reported, where they give none.
func BestFit(name string, b *plan.BestFit, touch float64, findings *diag.List) *Frame {
	f := &Frame{Name: name, Place: b.Place, Tolerance: b.Tolerance.Or(plan.DefaultTolerance), Touch: touch}
	if b.Points == nil {
		return nil // said already
	}
	var nominal, measured []geom.Vec
	var names []string
	var places []diag.Place
	for i, p := range b.Points {
		if !p.Nominal.IsSet() || !p.Measured.IsSet() {
			return nil
		}
		label := "point " + strconv.Itoa(i+1)
		if p.Name.IsSet() {
			label = strconv.Quote(p.Name.V)
		}
		f.Points = append(f.Points, Point{Label: label, Place: p.Place, Nominal: vec(p.Nominal), At: vec(p.Measured)})
		nominal, measured = append(nominal, vec(p.Nominal)), append(measured, vec(p.Measured))
		names, places = append(names, p.Name.V), append(places, p.Place)
	}
	found, err := fit.BestFit(nominal, measured)
	if len(nominal) >= 4 {
		// A refusal would be the same one that the fit itself has met.
		f.Suspects, _ = fit.LeaveOneOut(nominal, measured, f.Tolerance)
	}
	if err != nil {
		f.refuse(err, names, places, findings)
		return nil
	}
	f.Best = &found
	return f
}

// refuse says why points carry no best fit.
func (f *Frame) refuse(err error, names []string, places []diag.Place, findings *diag.List) {
	if v, mixed := f.units(); mixed {
		v.Report(findings)
		return
	}
	refusal := refused(findings, "bad-best-fit", fmt.Sprintf("no best fit can be computed from the points of the frame %q", f.Name), err, names, f.Place, places)
	// One wrong point can make a set look mirrored, unless the mirror image is all
	// that is wrong with it.
	nominal, measured := f.sets()
	if len(f.Suspects.All) == 1 && !fits(nominal, exchanged(measured), f.Tolerance) {
		refusal.WithNote(f.Points[f.Suspects.Best].Place, "without %s the others fit", f.label(f.Suspects.Best))
	}
}

// exchanged are points with X and Y exchanged: their mirror image.
func exchanged(points []geom.Vec) []geom.Vec {
	all := make([]geom.Vec, len(points))
	for i, p := range points {
		all[i] = geom.Vec{X: p.Y, Y: p.X, Z: p.Z}
	}
	return all
}

// sets are the points where they should be and where they were touched.
func (f *Frame) sets() (nominal, measured []geom.Vec) {
	for _, p := range f.Points {
		nominal, measured = append(nominal, p.Nominal), append(measured, p.At)
	}
	return nominal, measured
}

func (f *Frame) label(i int) string { return f.Points[i].Label }

// Reach takes note of a slot, given in the frame, where it suffers more from the
// frame's uncertain angle than those before.
func (f *Frame) Reach(grid, slot string, at geom.Vec) {
	far := Far{Grid: grid, Slot: slot}
	if f.Three != nil {
		f.threePointReach(&far, at)
	} else {
		far.Degrees, far.Off = f.Best.Uncertainty(f.Touch), f.Best.Drift(f.Touch, at)
	}
	if f.Far == nil || far.Off > f.Far.Off {
		f.Far = &far
	}
}

func (f *Frame) threePointReach(far *Far, at geom.Vec) {
	direction, plane := f.Three.Uncertainty(f.Touch)
	byDirection, byPlane := f.Three.Drift(f.Touch, at)
	far.Degrees, far.Off, far.Baseline, far.Have = direction, byDirection, "along_x", f.Three.AlongX
	if byPlane > byDirection {
		far.Degrees, far.Off, far.Baseline, far.Have = plane, byPlane, "toward_y", f.Three.TowardY
	}
	far.Need = far.Have * far.Off / FarLimit
}

// Judge says how far the frame can be trusted.
func (f *Frame) Judge() []Verdict {
	var all []Verdict
	if v, bad := f.residual(); bad {
		all = append(all, v)
		if v.Rule == RuleUnits {
			return all // its other figures mean nothing
		}
	}
	if f.Far != nil && f.Far.Off > FarLimit {
		all = append(all, f.uncertain())
	}
	return all
}

// residual compares the best fit with its tolerance.
func (f *Frame) residual() (Verdict, bool) {
	if f.Best == nil {
		return Verdict{}, false
	}
	severity, rule, wanted, ok := against(f.Tolerance, f.Best.Largest, RuleTooLarge, RuleLarge)
	if ok {
		return Verdict{}, false
	}
	if severity == diag.Error {
		if v, mixed := f.units(); mixed {
			return v, true
		}
	}
	worst := f.Best.Worst
	v := Verdict{Severity: severity, Rule: rule, Place: f.Points[worst].Place}
	v.Message = fmt.Sprintf("the best fit of the frame %q leaves %s mm at %s, wanted %s mm or less",
		f.Name, fit.Figure(f.Best.Largest), f.label(worst), fit.Figure(wanted))
	v.Hint = fmt.Sprintf("that is within the tolerance of %s mm, but above half of it: touch %s again", fit.Figure(f.Tolerance), f.label(worst))
	if severity == diag.Error {
		v.Hint = blame(f.Suspects, f.label, "point", len(f.Points), 4)
		if len(f.Suspects.All) == 1 {
			v.Place = f.Points[f.Suspects.Best].Place
			v.Hint += f.slip(f.Suspects.Best)
		}
	}
	return v, true
}

// slip says what may be wrong with the figures of the point that is to blame.
func (f *Frame) slip(i int) string {
	nominal, measured := f.sets()
	what, ok := slipIn(f.Points[i].At, func(at geom.Vec) bool {
		measured[i] = at
		return fits(nominal, measured, f.Tolerance)
	})
	if !ok {
		return ""
	}
	return "; suspect " + what
}

// units recognises points that agree but for the unit that one set is written in.
func (f *Frame) units() (Verdict, bool) {
	nominal, measured := f.sets()
	ratio := size(nominal) / size(measured)
	smaller, larger, times := "measured", "nominal", ratio
	if ratio < 1 {
		smaller, larger, times = "nominal", "measured", 1/ratio
	}
	unit, known := unitOf(times)
	if !known || !fits(nominal, scaledAll(measured, ratio), unitSlack*size(nominal)) {
		return Verdict{}, false
	}
	v := Verdict{Severity: diag.Error, Rule: RuleUnits, Place: f.Place}
	v.Message = fmt.Sprintf("the %s points of the frame %q are %s times as far apart as the %s ones", larger, f.Name, fit.Figure(times), smaller)
	v.Hint = fmt.Sprintf("the %s figures look like %s: multiply them by %s", smaller, unit.name, fit.Figure(unit.times))
	if unit.sign != "" {
		v.Hint = fmt.Sprintf("the %s figures look like %s: write %q behind them, or multiply them by %s", smaller, unit.name, unit.sign, fit.Figure(unit.times))
	}
	return v, true
}

// Steepest is the angle from the base's Z axis beyond which a frame's Z points
// down, in degrees: a frame on an upright wall is no mistake.
const Steepest = 95

// Flat reports whether the frame is a best fit of points in one plane. Seen from
// below, with two of them swapped, they fit just as well.
func (f *Frame) Flat() bool { return f.Best != nil && f.Best.Rank == 2 }

// FlatHint is what to do when such a frame points down.
const FlatHint = "points in one plane fit as well when two of them are swapped, X and Y exchanged, or Y has the wrong sign: compare the names, or touch one more point above the plane"

// UpsideDown warns of a frame whose Z points down; base is where it lies in the
// base. Where Oblique says that already, it says nothing.
func (f *Frame) UpsideDown(base geom.Pose) (Verdict, bool) {
	angle := tilt(base)
	if angle <= Steepest || f.IsOblique() {
		return Verdict{}, false
	}
	v := warning(RuleUpsideDown, f.Place, "the Z axis of the frame %q points down, %.1f degrees away from upright", f.Name, angle)
	v.Hint = "touch the points so that X × Y points up"
	if f.Flat() {
		v.Hint = FlatHint
	}
	return v, true
}

func (f *Frame) uncertain() Verdict {
	far := f.Far
	v := warning(RuleAngle, f.Place, "the angle of the frame %q is uncertain by %s°, which moves %s of %q by %s mm, wanted %s mm or less",
		f.Name, fit.Figure(far.Degrees), strconv.Quote(far.Slot), far.Grid, fit.Figure(far.Off), fit.Figure(FarLimit))
	if far.Baseline == "" {
		v.Hint = fmt.Sprintf("a touch error of %s mm is assumed: touch points farther apart, or more of them", fit.Figure(f.Touch))
		return v
	}
	v.Hint = fmt.Sprintf("a touch error of %s mm is assumed over a baseline of %s mm: touch %q %s mm or more from the origin",
		fit.Figure(f.Touch), fit.Figure(far.Have), far.Baseline, fit.Figure(math.Ceil(far.Need)))
	return v
}
