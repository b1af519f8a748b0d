package sheet

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/timing"
	"gridferry/plan/wording"
)

// frameTable is the frames that moves are written in, as a controller holds them.
func (j *Job) frameTable(s *survey) table {
	var t table
	for _, f := range j.Layout.Frames {
		if !s.usesFrame(f) {
			continue
		}
		how := "written in the cell"
		switch {
		case f.Parent == nil:
			how = "the arm's own"
		case f.Fit != nil && f.Fit.Three != nil:
			how = "three points touched"
		case f.Fit != nil:
			how = fmt.Sprintf("best fit of %s", wording.Count(len(f.Fit.Points), "point"))
		case f.Parent.Parent != nil:
			how = "written in the cell, in frame " + f.Parent.Name
		}
		t.add(fmt.Sprint(f.Known), f.Name, place(f.Base.T), turn(f.Base.R.RPY()), how)
	}
	t.keep(mostFrames, "frame")
	return t
}

// toolTable is the tools in use.
func (j *Job) toolTable(s *survey) table {
	var t table
	for _, tool := range j.Layout.Tools {
		if !s.counts.UsesTool(tool.Number) && !slices.Contains(j.Layout.UsedTools(), tool) {
			continue
		}
		gravity := "not known"
		if tool.CentreOfGravity != (geom.Vec{}) {
			gravity = place(tool.CentreOfGravity)
		}
		how := "written in the cell"
		if f := tool.Fit; f != nil {
			how = fmt.Sprintf("%s about one spot", wording.Count(len(f.Poses), "pose"))
		}
		t.add(fmt.Sprint(tool.Known), tool.Name, kg(tool.Mass), gravity, place(tool.TCP.T), turn(tool.TCP.R.RPY()), how)
	}
	return t
}

// partTable is the parts that are carried, and what each makes of the load.
func (j *Job) partTable() table {
	var t table
	carried := map[*layout.Part]*layout.Tool{} // by the first entry's tool
	for _, e := range j.Layout.Entries {
		for _, p := range e.Kinds() {
			if e.Parts > 0 && carried[p] == nil {
				carried[p] = j.Layout.Figures(e, e.Stops[0].Grid).Tool
			}
		}
	}
	for _, p := range j.Layout.Parts {
		tool := carried[p]
		if tool == nil {
			continue
		}
		size, held := "not known", ""
		if p.Sized() {
			size = short(p.Size.X, 2) + " × " + short(p.Size.Y, 2) + " × " + short(p.Size.Z, 2)
			held = mm(p.Grip) + " above its bottom"
		}
		t.add(p.Name, kg(p.Mass), size, held, kg(tool.Mass+p.Mass))
	}
	t.keep(mostSignals, "part")
	return t
}

// signals is what every output and input does.
func (j *Job) signals(s *survey) table {
	var t table
	for _, tool := range j.Layout.UsedTools() {
		t.ofAction(&tool.Grip, "grip: the tool "+tool.Name+" takes hold")
		t.ofAction(&tool.Release, "release: the tool "+tool.Name+" lets go")
		if h := tool.Grip.Holds; h != nil {
			input, within := fmt.Sprintf("input %d", h.Input), "stop after "+short(h.Within, 3)+" s"
			t.add(input, wording.Level(h.Level), "the tool "+tool.Name+" holds a part: asked after every grip and before every place", within)
			t.add(input, wording.Level(!h.Level), "the tool "+tool.Name+" holds none: asked at the start", within)
		}
	}
	for _, u := range j.otherSignals() {
		t.add(u.name, u.level, u.what, "")
	}
	if !s.sensed {
		t.add("inputs", "", "none is waited for", "")
	}
	t.keep(mostSignals, "signal")
	return t
}

// ofAction is the outputs that a grip or a release writes; the wait follows the last one.
func (t *table) ofAction(a *layout.Action, what string) {
	more := len(a.Sets) + len(a.Pulses)
	add := func(output int, level, what string) {
		wait := ""
		if more--; more == 0 {
			wait = settle(a.Settle)
		}
		t.add(fmt.Sprintf("output %d", output), level, what, wait)
	}
	for _, s := range a.Sets {
		add(s.Output, wording.Level(s.Level), what)
	}
	for _, p := range a.Pulses {
		add(p.Output, "pulse", what+"; on for "+short(p.Seconds, 3)+" s")
	}
}

func settle(seconds float64) string {
	if seconds == 0 {
		return "no wait"
	}
	return "then wait " + short(seconds, 3) + " s"
}

// use is one way in which the plan's own steps use a signal.
type use struct {
	name, level, what string
	kind              move.Kind
	signal            int
}

// namedTable is which part is which, as far as they move.
func (j *Job) namedTable(s *survey) table {
	var t table
	for i := range s.named {
		p := &s.named[i]
		t.add(*p.id, partName(j.Layout.Named(*p.id).Part), p.from, p.to, fmt.Sprint(p.transfer))
	}
	if s.unlisted > 0 {
		t.More = "… " + wording.Count(s.unlisted, "part") + " more: see “gridferry manifest”."
	}
	return t
}

// otherSignals are those of steps, each level once, outputs first.
func (j *Job) otherSignals() []use {
	lines := map[use][]string{}
	note := func(steps []layout.Step) {
		for i := range steps {
			if u, ok := useOf(&steps[i]); ok {
				lines[u] = append(lines[u], fmt.Sprint(steps[i].Place.Line))
			}
		}
	}
	note(j.Begin)
	for _, e := range j.Layout.Entries {
		legs := e.Legs
		if e.Listed != nil {
			legs = legs[:1] // the steps of all of them are the same
		}
		for i := range legs {
			l := &legs[i]
			for _, steps := range [][]layout.Step{l.OverFrom, l.Taken, l.OverTo, l.Put} {
				note(steps)
			}
		}
	}
	note(j.Layout.End)
	var all []use
	for u := range lines {
		all = append(all, u)
	}
	sort.Slice(all, func(i, k int) bool {
		a, b := all[i], all[k]
		switch {
		case a.kind != b.kind:
			return a.kind < b.kind
		case a.signal != b.signal:
			return a.signal < b.signal
		case a.level != b.level:
			return a.level > b.level
		}
		return a.what < b.what
	})
	for i := range all {
		all[i].what += ", plan line " + wording.List(lines[use{all[i].name, all[i].level, all[i].what, all[i].kind, all[i].signal}], 6)
	}
	return all
}

func useOf(s *layout.Step) (use, bool) {
	switch s.Kind {
	case move.Set:
		return use{fmt.Sprintf("output %d", s.Signal), wording.Level(s.Level), "switched by the plan", s.Kind, s.Signal}, true
	case move.Await:
		return use{fmt.Sprintf("input %d", s.Signal), wording.Level(s.Level), "waited for" + timeOut(s), s.Kind, s.Signal}, true
	case move.Select, move.Travel, move.Straight, move.Grip, move.Release, move.Dwell, move.Note:
	}
	return use{}, false
}

// ends is where a leg's parts come from and go to; a run that carries none has no such
// places.
func ends(l *timing.LegTime) string {
	if l.From == "" && l.To == "" {
		return fmt.Sprintf("leg %d", l.Leg)
	}
	return l.From + " → " + l.To
}

// times is how long it takes.
func (j *Job) times(v *view) {
	r := j.Time
	v.Clock = r.Clock()
	rate := "Parts per hour"
	if r.AtMost() {
		rate += ", at most"
	}
	if r.Parts > 0 {
		v.TimeFacts = append(v.TimeFacts, fact{rate, fixed(r.PartsPerHour(), 0)})
	}
	v.TimeFacts = append(v.TimeFacts, fact{"Way of the tool tip", fixed(r.Distance/1000, 1) + " m"})
	if limiting := r.Limiting(); limiting != "" {
		v.TimeFacts = append(v.TimeFacts, fact{"Joints", upper(limiting)})
	}
	if r.Waits.Count > 0 {
		v.TimeFacts = append(v.TimeFacts, fact{"Not counted", r.Waits.String()})
	}
	for i := range r.Legs {
		l := &r.Legs[i]
		v.Legs.add(fmt.Sprint(l.Line), ends(l), fmt.Sprint(l.Transfers), fixed(l.Mean, 1), fixed(l.Least, 1), fixed(l.Most, 1))
	}
	v.Legs.keep(mostLegs, "leg")
	v.Assumed, v.Left = sentences(r.Assumed()), sentences(r.LeftOut())
}

func sentences(texts []string) []string {
	var out []string
	for _, t := range texts {
		out = append(out, upper(strings.TrimSuffix(t, "."))+".")
	}
	return out
}
