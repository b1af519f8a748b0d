package measure

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Grid is a grid whose corners were touched, and how far they can be trusted.
type Grid struct {
	Name      string
	Place     diag.Place // of the key that holds the corners
	Corners   []fit.Corner
	Labels    []string // of the corners
	Places    []diag.Place
	Tolerance float64 // mm
	InBase    bool    // the corners were read in the base

	// Surface is the grid in its frame, whatever the corners were read in.
	Surface fit.CornerGrid
	// Nominal is the pitch that was expected, column to column and row to row; zero
	// where nothing was.
	Nominal      [2]float64
	NominalPlace diag.Place
	// Steps is how many columns and rows the corners are apart.
	Steps [2]int
}

// Size is a grid's rows and columns; zero where they are not known.
type Size struct{ Rows, Columns int }

// Corners works out a grid from its corners; nil, and the reason reported, where they
// give none. Frame is where the grid's frame lies in the base.
func Corners(name string, c *plan.Corners, size Size, frame geom.Pose, findings *diag.List) *Grid {
	g := &Grid{
		Name: name, Place: c.Place, Tolerance: c.Tolerance.Or(plan.DefaultTolerance), InBase: c.In.V == plan.CornersInBase,
		Nominal: c.NominalPitch.V, NominalPlace: c.NominalPitch.Place,
	}
	if c.Slots == nil {
		return nil // said already
	}
	toFrame := geom.Identity
	if g.InBase {
		toFrame = frame.Inverse()
	}
	good := true
	for _, touched := range c.Slots {
		at, ok := g.slot(touched.Slot, size, findings)
		good = good && ok && touched.At.IsSet()
		g.Corners = append(g.Corners, fit.Corner{Row: int(at.Row), Col: int(at.Col), At: toFrame.Apply(vec(touched.At))})
		g.Labels = append(g.Labels, touched.Slot.V)
		g.Places = append(g.Places, touched.Slot.Place)
	}
	if !good {
		return nil
	}
	return g.work(size, findings)
}

// slot reads a corner's label.
func (g *Grid) slot(label plan.Text, size Size, findings *diag.List) (slot.Slot, bool) {
	at, ok := slot.Parse(label.V)
	switch {
	case !ok || at.HasLayer:
		findings.Errorf("bad-selection", label.Place, "found %q, wanted a slot such as \"A1\" or \"H12\"", label.V).
			WithHint("row letters, then the column number; corners are touched on the lowest layer")
		return slot.Slot{}, false
	case size.Rows > 0 && (int(at.Row) >= size.Rows || int(at.Col) >= size.Columns):
		last := slot.Slot{Row: int32(size.Rows - 1), Col: int32(size.Columns - 1)}
		findings.Errorf("slot-outside-grid", label.Place, "the slot %q is outside the grid %q, which goes from A1 to %s",
			label.V, g.Name, last.Label(false))
		return slot.Slot{}, false
	}
	return at.Slot, true
}

func (g *Grid) work(size Size, findings *diag.List) *Grid {
	if size.Rows == 1 || size.Columns == 1 {
		findings.Errorf("bad-corners", g.Place, "the grid %q has one row or one column, which has no corners to span it", g.Name).
			WithHint("give \"first\" and \"pitch\" in a frame that was touched along it")
		return nil
	}
	surface, err := fit.Corners(g.Corners)
	if err != nil {
		f := refused(findings, "bad-corners", fmt.Sprintf("no grid can be computed from the corners of the grid %q", g.Name), err, g.Labels, g.Place, g.Places)
		if at, hint, ok := g.slipped(); ok && !g.swapped() {
			f.Place = at
			f.WithHint("%s", hint)
		}
		return nil
	}
	g.Surface = surface
	g.span()
	return g
}

// span notes how many columns and rows the corners are apart.
func (g *Grid) span() {
	lo, hi := g.Corners[0], g.Corners[0]
	for _, c := range g.Corners {
		lo.Row, lo.Col = min(lo.Row, c.Row), min(lo.Col, c.Col)
		hi.Row, hi.Col = max(hi.Row, c.Row), max(hi.Col, c.Col)
	}
	g.Steps = [2]int{hi.Col - lo.Col, hi.Row - lo.Row}
}

// Judge says how far the corners can be trusted: whether the fourth agrees with the
// others, and whether all of them agree with the nominal pitch.
func (g *Grid) Judge() []Verdict {
	var all []Verdict
	v, missed := g.miss()
	if missed {
		all = append(all, v)
	}
	if missed && v.Severity == diag.Error {
		return all // a corner that is off spoils the pitch as well
	}
	if v, bad := g.pitch(); bad {
		all = append(all, v)
	}
	return all
}

func (g *Grid) miss() (Verdict, bool) {
	missed := g.Surface.Miss.Norm()
	severity, rule, wanted, ok := against(g.Tolerance, missed, RuleTooLarge, RuleLarge)
	if ok {
		return Verdict{}, false
	}
	v := Verdict{Severity: severity, Rule: rule, Place: g.Place}
	v.Message = fmt.Sprintf("the four corners of the grid %q miss a parallelogram by %s mm, %s mm of it out of the plane, wanted %s mm or less",
		g.Name, fit.Figure(missed), fit.Figure(math.Abs(g.Surface.Warp)), fit.Figure(wanted))
	culprits := g.culprits()
	at, hint, slipped := g.slipped()
	switch {
	case slipped:
		v.Place, v.Hint = at, hint
	case len(culprits) == 1:
		v.Place = g.Places[culprits[0]]
		v.Hint = fmt.Sprintf("touch %q again: the other three agree with the nominal pitch", g.Labels[culprits[0]])
	case g.Nominal == [2]float64{}:
		v.Hint = "each corner misses the other three by as much, so they cannot show which is off: touch all four again, or give \"nominal_pitch\""
	default:
		v.Hint = "each corner misses the other three by as much, and the nominal pitch does not show which is off: touch all four again"
	}
	return v, true
}

// slipped says which of four corners would agree with the others within the
// tolerance, were it not for a single mistake in its figures. Where it could be two,
// both are named, at the place of the first.
func (g *Grid) slipped() (at diag.Place, hint string, found bool) {
	var suspects []string
	for i, c := range g.Corners {
		if what, ok := slipIn(c.At, func(at geom.Vec) bool { return g.agree(i, at) }); ok {
			if suspects = append(suspects, what+" at "+strconv.Quote(g.Labels[i])); len(suspects) == 1 {
				at = g.Places[i]
			}
		}
	}
	if n := len(suspects); n == 0 || n > 2 {
		return diag.Place{}, "", false
	}
	return at, "suspect " + strings.Join(suspects, ", or ") + ": put right, it agrees with the other three", true
}

// agree reports whether four corners would, with one of them elsewhere.
func (g *Grid) agree(i int, elsewhere geom.Vec) bool {
	put := slices.Clone(g.Corners)
	put[i].At = elsewhere
	return agree(put, g.Tolerance)
}

// swapped reports whether two of four corners have each other's label.
func (g *Grid) swapped() bool {
	for i := range g.Corners {
		for j := range i {
			put := slices.Clone(g.Corners)
			put[i].At, put[j].At = put[j].At, put[i].At
			if agree(put, g.Tolerance) {
				return true
			}
		}
	}
	return false
}

// agree reports whether four corners are a parallelogram. Three always are one.
func agree(corners []fit.Corner, tolerance float64) bool {
	s, err := fit.Corners(corners)
	return len(corners) == 4 && err == nil && s.Miss.Norm() <= tolerance
}

// culprits are the corners without which the other three agree with the nominal
// pitch.
func (g *Grid) culprits() (found []int) {
	if g.Nominal == [2]float64{} {
		return nil
	}
	for i := range g.Corners {
		three := slices.Delete(slices.Clone(g.Corners), i, i+1)
		if s, err := fit.Corners(three); err == nil && g.off(s).by <= g.Tolerance {
			found = append(found, i)
		}
	}
	return found
}

// deviation is one way in which a grid differs from its nominal pitch.
type deviation struct {
	by   float64 // mm over all that was touched
	what string
}

// off is the largest of the ways in which a grid differs from its nominal pitch.
func (g *Grid) off(s fit.CornerGrid) deviation {
	var worst deviation
	take := func(by float64, format string, args ...any) {
		if by = math.Abs(by); by > worst.by {
			worst = deviation{by, fmt.Sprintf(format, args...)}
		}
	}
	for i := range 2 {
		columns, rows := g.Steps[0], g.Steps[1]
		take((s.ColPitch[i]-g.Nominal[0])*float64(columns), "is %s mm from column to column, nominal %s mm, over %d steps",
			fit.Figure(s.ColPitch[i]), fit.Figure(g.Nominal[0]), columns)
		take((s.RowPitch[i]-g.Nominal[1])*float64(rows), "is %s mm from row to row, nominal %s mm, over %d steps",
			fit.Figure(s.RowPitch[i]), fit.Figure(g.Nominal[1]), rows)
	}
	sin, _ := geom.SinCos(s.Skew)
	take(float64(sin*g.Nominal[1])*float64(g.Steps[1]), "is out of square by %s°, over %d steps from row to row",
		fit.Figure(math.Abs(s.Skew)), g.Steps[1])
	return worst
}

// pitch compares the touched pitch with the nominal one.
func (g *Grid) pitch() (Verdict, bool) {
	if g.Nominal == [2]float64{} {
		return Verdict{}, false
	}
	d := g.off(g.Surface)
	severity, rule, wanted, ok := against(g.Tolerance, d.by, RulePitchOff, RulePitchNear)
	if ok {
		return Verdict{}, false
	}
	return Verdict{
		Severity: severity, Rule: rule, Place: g.NominalPlace,
		Message: fmt.Sprintf("the taught pitch of the grid %q %s: %s mm off, wanted %s mm or less", g.Name, d.what, fit.Figure(d.by), fit.Figure(wanted)),
		Hint:    "touch the corners again, or correct \"nominal_pitch\", \"rows\" or \"columns\"; a wrong label counts as a wrong pitch",
	}, true
}
