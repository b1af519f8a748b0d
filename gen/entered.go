package gen

import (
	"bytes"
	"fmt"
	"io"
	"slices"

	"gridferry/gen/compare"
	"gridferry/gen/family"
	"gridferry/gen/move"
	"gridferry/gen/render"
	"gridferry/gen/seal"
	"gridferry/plan/digest"
)

// entered is what has to be entered at the controller for the program. It is nothing
// where nothing obeys the text.
func (p *program) entered() []render.Entered {
	frames, tools := p.family.Entered()
	if !frames && !tools {
		return nil
	}
	return render.ToEnter(p.family.Blocks, p.head(), frames, tools)
}

// ToEnter says what has to be entered at the controller for programs of a family, a line
// each.
func (j *Job) ToEnter(f *family.Family) []string {
	var lines []string
	for _, e := range j.program(f).entered() {
		lines = append(lines, e.String())
	}
	return lines
}

// sealed is how a seal holds what has to be entered: the number that the controller knows
// it by, and a digest of the rest.
func sealed(all []render.Entered) seal.Entered {
	var lines seal.Entered
	for _, e := range all {
		lines = append(lines, seal.Entry{What: e.What, Number: e.Number, Digest: digest.Of(e.Name + "|" + e.Figures)[:seal.EntryDigits]})
	}
	return lines
}

// atController is what a program counts on at the controller, beside what its seal says.
type atController struct {
	render.Entered
	Changed bool // since the program was written
}

// line is what there is to enter, and whether it is something else than it was.
func (a *atController) line() string {
	if a.Changed {
		return fmt.Sprintf("at the controller: %s: not as it was when this program was written; enter it anew and prove out", a.String())
	}
	return "at the controller: " + a.String()
}

// besideSeals compares what has to be entered now with what the seals of programs say.
func besideSeals(now []render.Entered, seals ...seal.Entered) []atController {
	all := make([]atController, len(now))
	for i, wanted := range sealed(now) {
		all[i].Entered = now[i]
		for _, s := range seals {
			all[i].Changed = all[i].Changed || !s.Has(wanted)
		}
	}
	return all
}

// changedEntries counts those that are not as they were.
func changedEntries(all []atController) int {
	n := 0
	for i := range all {
		if all[i].Changed {
			n++
		}
	}
	return n
}

// controller is what the sides count on at the controller, as far as a plan beside a
// program or the seals of two programs say it.
func (c *Comparison) controller() ([]compare.Entry, error) {
	for _, pair := range [][2]*Compared{{c.A, c.B}, {c.B, c.A}} {
		if plan, other := pair[0], pair[1]; plan.Open == nil && other.Open != nil {
			in, err := other.seal()
			if err != nil || in.State == seal.None {
				return nil, err
			}
			var all []compare.Entry
			for _, e := range besideSeals(plan.Job.program(other.Family).entered(), in.Seal.Entered) {
				all = append(all, compare.Entry{Text: e.String(), Differs: e.Changed})
			}
			return all, nil
		}
	}
	if !c.Programs() || c.A.Family.Label != c.B.Family.Label {
		return nil, nil
	}
	return c.twoSeals()
}

// twoSeals is what differs at the controller between two programs, by their seals alone.
func (c *Comparison) twoSeals() ([]compare.Entry, error) {
	a, err := c.A.seal()
	if err != nil || a.State == seal.None {
		return nil, err
	}
	b, err := c.B.seal()
	if err != nil || b.State == seal.None {
		return nil, err
	}
	var all []compare.Entry
	for _, e := range a.Seal.Entered {
		if !b.Seal.Entered.Has(e) {
			all = append(all, compare.Entry{Text: fmt.Sprintf("%s %d", e.What, e.Number), Differs: true})
		}
	}
	for _, e := range b.Seal.Entered {
		if !a.Seal.Entered.HasOne(e.What, e.Number) {
			all = append(all, compare.Entry{Text: fmt.Sprintf("%s %d", e.What, e.Number), Differs: true})
		}
	}
	return all, nil
}

// seal is what the seal of a program shows.
func (c *Compared) seal() (seal.Inspection, error) {
	text, err := c.Open()
	if err != nil {
		return seal.Inspection{}, err
	}
	defer text.Close()
	if seeker, ok := text.(io.ReadSeeker); ok {
		return inspectNamed(c.Name, seeker, &c.Family.Rules)
	}
	whole, err := io.ReadAll(text)
	if err != nil {
		return seal.Inspection{}, err
	}
	return inspectNamed(c.Name, bytes.NewReader(whole), &c.Family.Rules)
}

// toolCentres compares where the tool centre points and the centres of gravity of two plans
// are, and the moments of inertia: the list of moves is the same for a longer tool, and the arm stands higher.
func (c *Comparison) toolCentres(report *compare.Report) {
	if c.A.Open != nil || c.B.Open != nil {
		return
	}
	others := map[string]move.Tool{}
	for _, t := range usedTools(c.B.Job) {
		others[t.Name] = t
	}
	for _, t := range usedTools(c.A.Job) {
		other, both := others[t.Name]
		if both && other.TCP != t.TCP {
			report.AddBeside(compare.Beside{A: centreWords(t.Name, t.TCP), B: centreWords(t.Name, other.TCP)})
		}
		if both && other.CentreOfGravity != t.CentreOfGravity {
			report.AddBeside(compare.Beside{A: gravityWords(&t), B: gravityWords(&other)})
		}
		if both && other.Inertia != t.Inertia {
			report.AddBeside(compare.Beside{A: inertiaWords(&t), B: inertiaWords(&other)})
		}
	}
}

// usedTools is the tools that the moves of a job need.
func usedTools(j *Job) []move.Tool {
	counts := j.Counts()
	return slices.DeleteFunc(toolsOf(j.Layout), func(t move.Tool) bool { return !counts.UsesTool(t.Number) })
}

func centreWords(tool string, p move.Point) string {
	return fmt.Sprintf("tool %s: centre point X %.3f Y %.3f Z %.3f mm, rpy %.3f %.3f %.3f", tool, p.X, p.Y, p.Z, p.Roll, p.Pitch, p.Yaw)
}

func gravityWords(t *move.Tool) string {
	g := t.CentreOfGravity
	return fmt.Sprintf("tool %s: centre of gravity X %.3f Y %.3f Z %.3f mm", t.Name, g.X, g.Y, g.Z)
}

func inertiaWords(t *move.Tool) string {
	i := t.Inertia
	return fmt.Sprintf("tool %s: inertia X %.6f Y %.6f Z %.6f kg·m²", t.Name, i.X, i.Y, i.Z)
}
