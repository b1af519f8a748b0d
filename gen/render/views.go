package render

import (
	"path"
	"strings"

	"gridferry/gen/family"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// viewer turns moves into the views that blocks are given.
type viewer struct {
	family *family.Family
	plan   family.Text
	frames []named
	tools  []named
	before move.Move // the select before, or nothing

	remarks int  // where remarks are broken, in characters
	seconds bool // the family counts in them
	figures figures
	targets targets
}

// named is a frame's or a tool's name in both its forms.
type named struct {
	name  string
	label family.Text
}

func newViewer(f *family.Family, job move.Job) *viewer {
	frames, tools := job.FrameNames(), job.ToolNames()
	return &viewer{
		family: f, plan: family.NewText(job.Plan), figures: figures{rules: &f.Rules, machine: job.Speed},
		remarks: remarkWidthOf(&f.Rules), seconds: f.Units[family.Time].Name == "s",
		frames: inBothForms(f, frames), tools: inBothForms(f, tools),
	}
}

func inBothForms(f *family.Family, labels []string) []named {
	all := make([]named, len(labels))
	for i, name := range f.Names.Table(labels) {
		all[i] = named{name, family.NewText(labels[i])}
	}
	return all
}

// numbered is entry k, counted from 1; a move may have none.
func numbered(all []named, k int, label string) named {
	if 1 <= k && k <= len(all) {
		return all[k-1]
	}
	return named{label: family.NewText(label)}
}

// of is the view of one move. The error is a figure that is no number.
func (v *viewer) of(m *move.Move) (any, error) {
	view := v.build(m)
	return view, v.figures.take()
}

func (v *viewer) build(m *move.Move) any {
	switch m.Kind {
	case move.Select:
		return v.selection(m)
	case move.Travel, move.Straight:
		return v.motion(m)
	case move.Grip, move.Release:
		_, tool := v.names(m)
		return family.Gripping{
			Step: v.step(m), Target: v.target(m), Tool: tool.name, ToolNumber: m.ToolNumber,
			Signal: m.Signal, Level: level(m), IsOn: m.Level,
		}
	case move.Set:
		return family.Set{Step: v.step(m), Signal: m.Signal, Level: level(m), IsOn: m.Level}
	case move.Await:
		view := family.Await{
			Step: v.step(m), Signal: m.Signal, Level: level(m), IsOn: m.Level,
			Limited: m.Seconds > 0, GoOn: m.GoOn,
		}
		view.Time, view.Seconds = v.time(m.Seconds)
		return view
	case move.Dwell:
		view := family.Dwell{Step: v.step(m)}
		view.Time, view.Seconds = v.time(m.Seconds)
		return view
	case move.Note:
		if m.Pause {
			return family.Stop{Step: v.step(m), Text: family.NewText(m.Text)}
		}
		return family.Note{Step: v.step(m), Text: family.NewText(m.Text), Lines: wrapped(m.Text, v.remarks)}
	}
	panic("a kind of move without a view: " + m.Kind.String()) // TestEveryKind keeps this from being met
}

func (v *viewer) step(m *move.Move) family.Step {
	return family.Step{N: m.N, Transfer: m.Transfer, Leg: m.Leg, Line: m.Place.Line, Plan: v.plan, Load: v.figures.mass(m.Load)}
}

// time is a wait in the family's unit, and in seconds where that is the same.
func (v *viewer) time(s float64) (inUnit, inSeconds string) {
	inUnit = v.figures.time(s)
	if v.seconds {
		inSeconds = inUnit
	}
	return inUnit, inSeconds
}

func (v *viewer) names(m *move.Move) (frame, tool named) {
	return numbered(v.frames, m.FrameNumber, m.Frame), numbered(v.tools, m.ToolNumber, m.Tool)
}

func (v *viewer) selection(m *move.Move) family.Select {
	frame, tool := v.names(m)
	first := v.before.Kind != move.Select
	toolChanged := !first && m.Tool != v.before.Tool
	view := family.Select{
		Step: v.step(m), Frame: frame.name, FrameLabel: frame.label, FrameNumber: m.FrameNumber,
		Tool: tool.name, ToolLabel: tool.label, ToolNumber: m.ToolNumber,
		FrameChanged: first || m.Frame != v.before.Frame,
		LoadChanged:  first || toolChanged || m.Load != v.before.Load,
		ToolChanged:  toolChanged,
	}
	v.before = *m
	return view
}

// again is the view of a select that is said once more, at the head of a part.
func (v *viewer) again(m move.Move) (family.Select, error) {
	before := v.before
	v.before = move.Move{}
	view := v.selection(&m)
	v.before = before
	return view, v.figures.take()
}

func (v *viewer) motion(m *move.Move) family.Motion {
	frame, tool := v.names(m)
	view := family.Motion{
		Step: v.step(m), Target: v.target(m), Place: v.place(m), Above: m.Target.Approach,
		Frame: frame.name, FrameLabel: frame.label, FrameNumber: m.FrameNumber,
		Tool: tool.name, ToolNumber: m.ToolNumber,
		Speed: v.figures.speed(m.Speed), Blend: v.figures.length(m.Blend), Stops: m.Blend == 0,
	}
	at := m.At
	if v.family.BaseCoordinates {
		at = m.Base
	}
	view.X, view.Y, view.Z = v.figures.vector(at.Vec)
	if v.family.Rotation == family.Vertical {
		view.Turn = v.figures.angle(turn(at.RPY))
		return view
	}
	view.Rotation = v.figures.rotation(v.family.Rotation, at.RPY)
	return view
}

// turn is the angle from the base's X axis to the tool's, seen from above, of a
// tool that points straight down.
func turn(a geom.RPY) float64 {
	x := a.Rot().Column(0)
	return geom.Atan2(x.Y, x.X)
}

// targets remembers how the last ones are called: a transfer goes to the same two
// slots again and again.
type targets struct {
	known [8]struct {
		target move.Target
		text   family.Text
	}
	next int
}

func (t *targets) text(at move.Target) family.Text {
	if at.IsZero() {
		return family.NewText("")
	}
	for i := range t.known {
		if t.known[i].target == at {
			return t.known[i].text
		}
	}
	k := &t.known[t.next]
	t.next = (t.next + 1) % len(t.known)
	k.target, k.text = at, family.NewText(at.String())
	return k.text
}

func (v *viewer) target(m *move.Move) family.Text { return v.targets.text(m.Target) }

// place is the target without the word for the point above it.
func (v *viewer) place(m *move.Move) family.Text {
	at := m.Target
	at.Approach = false
	return v.targets.text(at)
}

func level(m *move.Move) string { return onOff(m.Level) }

func onOff(on bool) string {
	if on {
		return "on"
	}
	return "off"
}

// transfer is the view of a heading; m is the transfer's first move.
func (v *viewer) transfer(m move.Move, e ends) family.Transfer {
	from, to := e.from, e.to
	from.Approach, to.Approach = false, false
	return family.Transfer{
		Step: v.step(&m), HasEnds: e.known(),
		From: family.NewText(from.String()), To: family.NewText(to.String()),
	}
}

// titleOf is what a program is called.
func titleOf(job move.Job) string {
	if strings.TrimSpace(job.Title) == "" {
		return strings.TrimSuffix(job.Plan, path.Ext(job.Plan))
	}
	return job.Title
}

// head is the view of the first and last block.
func (v *viewer) head(job move.Job, s survey) (family.Head, error) {
	title := titleOf(job)
	h := family.Head{
		Title: family.NewText(title), Plan: v.plan, Cell: family.NewText(job.Cell),
		Program: v.family.Names.Make(title), Version: job.Version, Cautions: v.family.Cautions(job.Notices...),
		LengthUnit: v.family.Units[family.Length].Name, SpeedUnit: v.family.Units[family.Speed].Name,
		Frames: v.frameTable(job), Tools: v.toolTable(job),
		Moves: s.Moves, Transfers: s.Transfers, Outputs: s.Output, Inputs: s.Input, Blends: s.blends, Travels: s.travel > 0,
		TravelSpeed: v.figures.figure(family.Speed, s.travel), StraightSpeed: v.figures.figure(family.Speed, s.straight),
	}
	if job.Speed > 0 {
		h.MachineSpeed = v.figures.speed(job.Speed)
	}
	if h.HasAcceleration = job.Acceleration > 0; h.HasAcceleration {
		h.Acceleration = v.figures.length(job.Acceleration)
	}
	return h, v.figures.take()
}

func (v *viewer) frameTable(job move.Job) []family.Frame {
	table := make([]family.Frame, len(job.Frames))
	for i, f := range job.Frames {
		row := family.Frame{Number: f.Number, Name: v.frames[i].name, Label: v.frames[i].label, Used: f.Used}
		row.X, row.Y, row.Z = v.figures.vector(f.Base.Vec)
		row.Rotation = v.figures.rotation(v.family.Rotation.OfEntry(), f.Base.RPY)
		table[i] = row
	}
	return table
}

func (v *viewer) toolTable(job move.Job) []family.Tool {
	table := make([]family.Tool, len(job.Tools))
	for i, t := range job.Tools {
		row := family.Tool{Number: t.Number, Name: v.tools[i].name, Label: v.tools[i].label, Mass: v.figures.mass(t.Mass), Used: t.Used}
		row.X, row.Y, row.Z = v.figures.vector(t.TCP.Vec)
		row.Rotation = v.figures.rotation(v.family.Rotation.OfEntry(), t.TCP.RPY)
		row.CentreX, row.CentreY, row.CentreZ = v.figures.vector(t.CentreOfGravity)
		table[i] = row
	}
	return table
}
