package measure

import (
	"errors"
	"fmt"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// FarLimit is how far off, in mm, the farthest slot of a frame, or a tool's tip,
// may be by what the touches leave open before there is a warning. Common practice,
// no source.
const FarLimit = 0.5

// The rules that verdicts come under.
const (
	RuleTooLarge   = "residual-too-large" // error: above the tolerance
	RuleLarge      = "residual-large"     // warning: above half of it
	RuleUnits      = "units-mixed"        // error: one set of points is in another unit
	RuleAngle      = "angle-uncertain"    // warning: short baselines
	RuleUpsideDown = "frame-z-down"       // warning: Z points down
	RuleOblique    = "points-oblique"     // warning: three points far from a right angle
	RuleTip        = "tip-uncertain"      // warning: poses too much alike
	RulePitchOff   = "pitch-off"          // error: off the nominal pitch by more than the tolerance
	RulePitchNear  = "pitch-doubtful"     // warning: by more than half of it
)

// Verdict is one finding about how far an answer can be trusted.
type Verdict struct {
	Severity diag.Severity
	Rule     string
	Place    diag.Place
	Message  string
	Hint     string // may be empty
}

// Report puts a verdict into a list.
func (v Verdict) Report(list *diag.List) {
	report := list.Warnf
	if v.Severity == diag.Error {
		report = list.Errorf
	}
	f := report(v.Rule, v.Place, "%s", v.Message)
	if v.Hint != "" {
		f.WithHint("%s", v.Hint)
	}
}

func warning(rule string, at diag.Place, format string, args ...any) Verdict {
	return Verdict{Severity: diag.Warning, Rule: rule, Place: at, Message: fmt.Sprintf(format, args...)}
}

// against compares a value with a tolerance: above it is an error under one rule,
// above half of it a warning under the other.
func against(tolerance, got float64, over, near string) (severity diag.Severity, rule string, wanted float64, ok bool) {
	switch {
	case got > tolerance:
		return diag.Error, over, tolerance, false
	case got > tolerance/2:
		return diag.Warning, near, tolerance / 2, false
	}
	return 0, "", 0, true
}

// refused reports why points carry no answer: at the point that is to blame, where
// one is, else at the key that holds them all.
func refused(list *diag.List, rule, what string, err error, names []string, all diag.Place, places []diag.Place) *diag.Finding {
	var e *fit.Error
	if !errors.As(err, &e) {
		return list.Errorf(rule, all, "%s: %v", what, err)
	}
	e.Names = names
	at := all
	if n := len(e.Points); n > 0 && e.Points[n-1] < len(places) && n <= 2 {
		at = places[e.Points[n-1]]
	}
	f := list.Errorf(rule, at, "%s: %v", what, e)
	if len(e.Points) == 2 && at != all {
		f.WithNote(places[e.Points[0]], "the other one stands here")
	}
	if hint := e.Hint(); hint != "" {
		f.WithHint("%s", hint)
	}
	return f
}

// blame says which point is the one to touch again, as far as the points show it.
func blame(s fit.Suspects, label func(int) string, what string, n, enough int) string {
	switch {
	case n < enough:
		return fmt.Sprintf("%d %ss cannot show which one is off: touch one more", n, what)
	case len(s.All) == 1:
		o := s.All[0]
		return fmt.Sprintf("touch %s again: it is %s mm off, and without it the others fit within %s mm",
			label(o.Index), fit.Figure(o.Miss), fit.Figure(o.Largest))
	case len(s.All) > 1:
		names := make([]string, len(s.All))
		for i, o := range s.All {
			names[i] = label(o.Index)
		}
		return fmt.Sprintf("without any one of %s the others fit, so these %ss cannot show which is off: touch them again, and one more", wording.List(names, len(names)), what)
	case len(s.Untried) > 0:
		return fmt.Sprintf("no single %s is to blame, though %s could not be tried, since the others alone give no answer: touch one more", what, label(s.Untried[0]))
	}
	return fmt.Sprintf("no single %s is to blame: touch them all again", what)
}

// Pose turns a written pose into numbers; otherwise is the orientation where none is
// written. It is false, and the reason reported, where the pose cannot be used.
func Pose(p plan.Pose, otherwise geom.Rot, findings *diag.List) (geom.Pose, bool) {
	out := geom.Pose{R: otherwise, T: vec(p.At)}
	switch {
	case p.RPY.IsSet():
		out.R = geom.RPY{Roll: p.RPY.V[0], Pitch: p.RPY.V[1], Yaw: p.RPY.V[2]}.Rot()
	case p.Quaternion.IsSet():
		q := p.Quaternion.V
		turn, ok := geom.Quaternion(q[0], q[1], q[2], q[3])
		if !ok {
			findings.Errorf("bad-quaternion", p.Quaternion.Place, "the quaternion has the length %.4g, wanted 1 within 1 %%", length(q)).
				WithHint("it is written [w, x, y, z], w first")
			return out, false
		}
		out.R = turn
	}
	return out, p.At.IsSet()
}

func length(q [4]float64) float64 {
	return geom.Vec{X: geom.Vec{X: q[0], Y: q[1], Z: q[2]}.Norm(), Y: q[3]}.Norm()
}

func vec(v plan.Vector) geom.Vec { return geom.Vec{X: v.V[0], Y: v.V[1], Z: v.V[2]} }
