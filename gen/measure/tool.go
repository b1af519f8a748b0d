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

// Tool is a tool centre point that was measured, and how far its poses can be
// trusted.
type Tool struct {
	Name      string
	Place     diag.Place // of the key that holds the poses
	Poses     []geom.Pose
	Places    []diag.Place
	Tolerance float64 // mm
	Touch     float64 // mm, how far off the tip may be from the spot

	// Radians is the largest of the angles where they look like radians, else 0.
	Radians float64

	fit.ToolCentre
	// Suspects are the poses that spoil it, where it is beyond its tolerance.
	Suspects fit.Suspects
}

// Pivot works out a tool centre from poses that hold the tip on one point; nil, and
// the reason reported, where they give none.
func Pivot(name string, p *plan.Pivot, touch float64, findings *diag.List) *Tool {
	t := &Tool{Name: name, Place: p.Place, Tolerance: p.Tolerance.Or(plan.DefaultTolerance), Touch: touch}
	if p.Poses == nil {
		return nil // said already
	}
	for _, written := range p.Poses {
		pose, ok := Pose(*written, geom.IdentityRot(), findings)
		if !ok || !written.RPY.IsSet() && !written.Quaternion.IsSet() {
			return nil
		}
		t.Poses, t.Places = append(t.Poses, pose), append(t.Places, written.Place)
	}
	t.Radians = radians(p)
	found, err := fit.Pivot(t.Poses)
	if err != nil && t.Radians > 0 {
		v := Verdict{Severity: diag.Error, Rule: "bad-pivot", Place: t.Places[0], Hint: t.radiansHint()}
		v.Message = fmt.Sprintf("no tool centre point can be computed from the poses of the tool %q: no angle is above %s degrees", name, fit.Figure(t.Radians))
		v.Report(findings)
		return nil
	}
	if err != nil {
		refused(findings, "bad-pivot", fmt.Sprintf("no tool centre point can be computed from the poses of the tool %q", name), err, nil, p.Place, t.Places)
		return nil
	}
	t.ToolCentre = found
	if len(t.Poses) >= 4 {
		// A refusal would be the same one that the pivot itself has met.
		t.Suspects, _ = fit.LeaveOneOutPose(t.Poses, t.Tolerance)
	}
	return t
}

// radians recognises angles in radians and gives the largest of them; 0 where they
// are degrees. Poses that are all turned by 6.3 degrees or less are of no use, and
// those that are turned by much more when they are read as radians were meant so.
func radians(p *plan.Pivot) float64 {
	const radian = 180 / math.Pi
	largest := 0.0
	var poses []geom.Pose
	for _, written := range p.Poses {
		if !written.RPY.IsSet() {
			return 0
		}
		a := written.RPY.V
		largest = max(largest, math.Abs(a[0]), math.Abs(a[1]), math.Abs(a[2]))
		turn := geom.RPY{Roll: a[0] * radian, Pitch: a[1] * radian, Yaw: a[2] * radian}
		poses = append(poses, geom.Pose{R: turn.Rot(), T: vec(written.At)})
	}
	if largest > 2*math.Pi {
		return 0
	}
	if meant, err := fit.Pivot(poses); err != nil || meant.Widest < fit.WideSpread {
		return 0
	}
	return largest
}

func (t *Tool) radiansHint() string {
	return fmt.Sprintf("radians? Angles are in degrees: write \"%s rad\", or multiply by 57.29578", fit.Figure(t.Radians))
}

func (t *Tool) label(i int) string { return "pose " + strconv.Itoa(i+1) }

// Uncertainty is how far off, in mm, the tip may be along Weakest.
func (t *Tool) Uncertainty() float64 { return t.Gain * t.Touch }

// Judge says how far the tool centre can be trusted.
func (t *Tool) Judge() []Verdict {
	var all []Verdict
	if severity, rule, wanted, ok := against(t.Tolerance, t.Largest, RuleTooLarge, RuleLarge); !ok {
		v := Verdict{Severity: severity, Rule: rule, Place: t.Places[t.Worst]}
		v.Message = fmt.Sprintf("the tool centre point of %q leaves %s mm at %s, wanted %s mm or less",
			t.Name, fit.Figure(t.Largest), t.label(t.Worst), fit.Figure(wanted))
		v.Hint = fmt.Sprintf("that is within the tolerance of %s mm, but above half of it: take %s again", fit.Figure(t.Tolerance), t.label(t.Worst))
		if severity == diag.Error {
			v.Hint = blame(t.Suspects, t.label, "pose", len(t.Poses), 4)
			if len(t.Suspects.All) == 1 {
				v.Place = t.Places[t.Suspects.Best]
			}
			if t.Radians > 0 {
				v.Hint = t.radiansHint()
				return append(all, v)
			}
		}
		all = append(all, v)
	}
	if v, bad := t.alike(); bad {
		all = append(all, v)
	}
	return all
}

// alike warns of poses that are turned too little, altogether or about one axis.
func (t *Tool) alike() (Verdict, bool) {
	direction := fit.Direction(t.Weakest)
	switch {
	case t.Widest < fit.WideSpread:
		v := warning(RuleTip, t.Place, "the poses of the tool %q differ by %s° at the most, wanted %s° or more",
			t.Name, fit.Figure(math.Floor(t.Widest*10)/10), fit.Figure(fit.WideSpread))
		v.Hint = fmt.Sprintf("the tip is known to %s mm along %s of the flange: add a pose that is turned farther, the tip on the same spot",
			fit.Figure(t.Uncertainty()), direction)
		return v, true
	case t.Uncertainty() > FarLimit:
		v := warning(RuleTip, t.Place, "the tip of the tool %q is uncertain by %s mm along %s of the flange, wanted %s mm or less",
			t.Name, fit.Figure(t.Uncertainty()), direction, fit.Figure(FarLimit))
		v.Hint = "the poses turn mostly about that direction: add one that is turned about another, the tip on the same spot"
		return v, true
	}
	return Verdict{}, false
}
