package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"gridferry/gen/check"
	"gridferry/gen/layout"
	"gridferry/plan/wording"
)

// manualSpeed is the limit that ISO 10218-1 names for manual reduced speed, at the
// tool centre point, mm/s.
const manualSpeed = 250

// watch is what to fear in this job: what its own figures say, and what no
// arithmetic can see.
func (j *Job) watch(s *survey) []fact {
	facts := []fact{
		{"Speed", j.speedWords(s)},
		{"Load", j.loadWords(s)},
	}
	if !j.empty() {
		for _, t := range j.Layout.UsedTools() {
			facts = append(facts, fact{"Dropping a part", dropping(t)})
		}
	}
	if words := j.changeWords(); words != "" {
		facts = append(facts, fact{"Changes of tool", words})
	}
	switch {
	case !s.sensed:
		facts = append(facts, fact{"Nothing is sensed", "No input is waited for: the arm goes on whether or not the gripper holds a part, and whether or not a slot is really free."})
	case !s.asked && !j.empty():
		facts = append(facts, fact{"The grip is not sensed", "No input tells whether the gripper holds a part: the arm goes on whether or not it does."})
	}
	if s.endless > 0 {
		facts = append(facts, fact{"Waiting", fmt.Sprintf("%s for an input without a time-out: the arm may stand still for long and then start by itself.", upper(wording.Count(s.endless, "wait")))})
	}
	if names := j.rotors(); names != nil {
		facts = append(facts, fact{"Balance", fmt.Sprintf("What turns has to be balanced as the manual of its maker says. Of %s only the masses and positions of the plan were counted: look at every part, and at the rotor, before it turns.", wording.List(names, 6))})
	}
	facts = append(facts,
		fact{"Lowest and farthest", fmt.Sprintf("The tool tip comes down to Z %s mm in the base (at %s) and out to %s mm from the base's axis (at %s).",
			short(s.lowest.z, 1), s.lowest.at, short(s.widest.radius, 1), s.widest.at)},
		fact{"Keep-out boxes", j.boxWords()},
		fact{"Not known to the plan", "Everything that is not in the cell file: hoses, lids, tools left lying, people. The path of a “travel” is the controller's own and may be a curve; only its ends are written."},
	)
	if unlooked := check.NotLookedAt(j.Layout); len(unlooked) > 0 {
		facts = append(facts, fact{"Not looked at", upper(strings.Join(unlooked, ", ")) + "."})
	}
	return append(facts, fact{"After a stop", j.stopWords()})
}

// rotors are the grids that the plan wants in balance.
func (j *Job) rotors() (names []string) {
	for _, g := range j.Layout.Grids {
		if g.Rotor != nil && !g.Rotor.Asked.IsZero() {
			names = append(names, g.Name)
		}
	}
	return names
}

func (j *Job) speedWords(s *survey) string {
	travel, near := 0.0, 0.0
	for _, f := range j.Layout.AllFigures() {
		travel, near = max(travel, j.speed(f.Travel.V), j.speed(f.Loaded.V)), max(near, j.speed(f.Near.V))
	}
	text := fmt.Sprintf("Up to %s mm/s between points, %s mm/s in straight lines to the slots and back.", short(travel, 1), short(near, 1))
	if s.fastest > manualSpeed {
		return text + fmt.Sprintf(" That is more than the %d mm/s of manual reduced speed (ISO 10218-1): the prove-out has to be slower than the program is written.", manualSpeed)
	}
	return text + fmt.Sprintf(" Manual reduced speed (ISO 10218-1) is %d mm/s at most.", manualSpeed)
}

func (j *Job) loadWords(s *survey) string {
	what := "tool and part together"
	if j.empty() {
		what = "the tool alone"
	}
	text := fmt.Sprintf("At most %s on the flange, %s.", kg(s.heaviest), what)
	if p := j.Layout.Cell.Machine.RatedLoad; p.IsSet() && p.V > 0 {
		return text + fmt.Sprintf(" The machine may carry %s.", kg(p.V))
	}
	return text + " The cell does not say how much the machine may carry."
}

func (j *Job) stopWords() string {
	if j.empty() {
		return "The arm stands somewhere on its way. Move it clear of everything by hand before it begins again."
	}
	return "Parts are not where the plan begins. See what the gripper holds and what stands in the slots before going on."
}

// dropping says what a dead output does to the part in the gripper.
func dropping(t *layout.Tool) string {
	switch {
	case len(t.Grip.Sets)+len(t.Release.Sets)+len(t.Grip.Pulses)+len(t.Release.Pulses) > 2:
		return fmt.Sprintf("The gripper holds with %s and lets go with %s: find out what it does when power or air fails.", actionWords(&t.Grip), actionWords(&t.Release))
	case t.Grip.Output != t.Release.Output:
		return fmt.Sprintf("Output %d holds the part and output %d lets it go: find out what the gripper does when power or air fails.", t.Grip.Output, t.Release.Output)
	case t.Grip.Level:
		return fmt.Sprintf("Output %d holds the part while it is on. When it goes off (power, air, a reset) the part may fall, anywhere on its way.", t.Grip.Output)
	}
	return fmt.Sprintf("Output %d lets the part go when it comes on. Nobody may switch it by hand while the gripper holds one.", t.Release.Output)
}

// looked is what the check compares with the keep-out boxes.
func (j *Job) looked() string {
	used := func(is func(t *layout.Tool) bool) bool { return slices.ContainsFunc(j.Layout.UsedTools(), is) }
	what := "the tool's boxes"
	switch {
	case used(func(t *layout.Tool) bool { return t.Body == nil && t.Radius == 0 }):
		what = "only the tool tip, since the cell gives the tool no body,"
	case used(func(t *layout.Tool) bool { return t.Body == nil }):
		what = "the tool's cylinder"
	}
	if j.empty() {
		return what
	}
	for _, e := range j.Layout.Entries {
		if e.Parts > 0 && (len(e.Kinds()) == 0 || slices.ContainsFunc(e.Kinds(), func(p *layout.Part) bool { return !p.Sized() })) {
			return what + " and those parts whose size is known"
		}
	}
	return what + " and the part"
}

func (j *Job) boxWords() string {
	boxes := j.Layout.Boxes
	switch {
	case len(boxes) > 0:
		var names []string
		for _, b := range boxes {
			names = append(names, b.Name)
		}
		return fmt.Sprintf("%s. On straight lines, and at the end of each travel, the check holds %s out of them. Nothing else in the cell is known.",
			wording.List(names, 12), j.looked())
	case j.Layout.Cell.HasKeepOut:
		return "None. The cell says that nothing is in the way; see whether that is true today."
	}
	return "None. The cell says nothing about what is in the way, so nothing was checked against it."
}

// motion is how the arm moves, for those who set it up: as the plan says, and then in what
// grids and entries differ from that.
func (j *Job) motion() []fact {
	all := j.Layout.AllFigures()
	plan := j.figures(all[0])
	facts := append(slices.DeleteFunc(slices.Clone(plan), func(f fact) bool { return f.Text == "" }), fact{"Start pose", pose(all[0].Start, all[0].Tool)})
	if known := j.machine(); known != "" {
		facts = append(facts, fact{"Machine's limits", known})
	}
	more := 0
	for _, by := range all[1:] {
		for i, f := range j.figures(by) {
			switch {
			case f.Text == plan[i].Text:
			case len(facts) < mostMotions:
				facts = append(facts, fact{f.Name + ", " + by.Of, cmp.Or(f.Text, "none")})
			default:
				more++
			}
		}
	}
	if more > 0 {
		facts = append(facts, fact{"And more", wording.Count(more, "other figure") + " of grids and entries"})
	}
	return facts
}

// figures are how the arm moves by some figures; what says nothing has no text.
func (j *Job) figures(by *layout.Figures) []fact {
	speed := func(mms float64) string { return short(j.speed(mms), 1) + " mm/s" }
	when := func(is bool, text string) string {
		if is {
			return text
		}
		return ""
	}
	var entry []string
	for _, p := range by.Entry {
		entry = append(entry, p.Name)
	}
	return []fact{
		{"Tool", when(j.Layout.ChangesTools(), by.Tool.Name)},
		{"Travel, point to point", speed(by.Travel.V)},
		{"Travel with a part", when(by.Loaded.IsSet(), speed(by.Loaded.V))},
		{"Near, in straight lines to slots and back", speed(by.Near.V)},
		{"Approach", mm(by.Approach.V) + " " + j.approach().off + " a slot"},
		{"Direction of the approach", by.Along()},
		{"Let go above the slot", when(by.ReleaseAbove.V > 0, mm(by.ReleaseAbove.V))},
		{"Fly-by on the way", cmp.Or(when(by.FlyBy.V > 0, mm(by.FlyBy.V)), "none, every point is a stop")},
		{"Clear pose", pose(by.Clear, by.Tool)},
		{"Configuration of the arm", by.Configuration.String()},
		{"Poses on the way in and out", strings.Join(entry, ", ")},
	}
}

func pose(w *layout.NamedPose, of *layout.Tool) string {
	if w == nil {
		return "none"
	}
	return fmt.Sprintf("%s, at %s in %s", w.Name, place(w.In(of).Vec), w.Frame.Name)
}

func (j *Job) machine() string {
	m := &j.Layout.Cell.Machine
	var known []string
	add := func(set bool, format string, args ...any) {
		if set {
			known = append(known, fmt.Sprintf(format, args...))
		}
	}
	add(m.RatedLoad.IsSet(), "rated load %s", kg(m.RatedLoad.V))
	add(m.Speed.IsSet(), "speed %s mm/s", short(m.Speed.V, 1))
	add(m.Acceleration.IsSet(), "acceleration %s mm/s²", short(m.Acceleration.V, 1))
	add(m.Radius.IsSet(), "reach %s to %s mm from the base's axis", short(m.Radius.V[0], 1), short(m.Radius.V[1], 1))
	add(m.Height.IsSet(), "height %s to %s mm", short(m.Height.V[0], 1), short(m.Height.V[1], 1))
	return strings.Join(known, ", ")
}
