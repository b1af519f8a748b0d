package render

import (
	"strings"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// viewer turns moves into the views that blocks are given. It belongs to one
// goroutine.
type viewer struct {
	family *blocks.Blocks
	plan   blocks.Text
	frames []named
	tools  []named
	before chosen // by the select before

	points  *points // nil where no block asks for them
	remarks int     // where notes are broken, in characters
	seconds bool    // the family counts in them
	centres bool    // some block asks for a centre of gravity
	inertia bool    // or for moments of inertia
	posture posture
	figures figures
	targets targets
	views   views
	last    last
}

// views are where the views of moves are stored, each until the next of its kind
// is made.
type views struct {
	heading   blocks.Transfer
	selection blocks.Select
	change    blocks.Change
	motion    blocks.Motion
	gripping  blocks.Gripping
	set       blocks.Set
	await     blocks.Await
	dwell     blocks.Dwell
	note      blocks.Note
	stop      blocks.Stop
}

// last is how the tool was turned in the motion's view, which mostly stays.
type last struct {
	turn    geom.RPY
	axis    float64
	negated bool
	turned  bool // it is known
}

// chosen is what a select chooses; nothing before the first.
type chosen struct {
	any         bool
	frame, tool string
	load        float64
}

func chosenBy(m *move.Move) chosen { return chosen{true, m.Frame, m.Tool, m.Load} }

// named is a frame's or a tool's name in both its forms.
type named struct {
	name  string
	label blocks.Text
	known int // the number that the controller knows it by
}

func newViewer(f *blocks.Blocks, job move.Job) *viewer {
	frames, tools := job.FrameNames(), job.ToolNames()
	return &viewer{
		family: f, plan: blocks.NewText(job.Plan), figures: figures{rules: &f.Rules, machine: job.Speed, masses: f.Mentions("Load", "Mass"), radii: f.Mentions("FlyBy")},
		remarks: remarkWidthOf(&f.Rules), seconds: f.Units[rules.Time].Name == "s",
		centres: f.Mentions("CentreX", "CentreY", "CentreZ", "HasCentre"), inertia: f.Mentions("InertiaX", "InertiaY", "InertiaZ", "HasInertia"),
		frames: inBothForms(f, frames, job.KnownFrames()), tools: inBothForms(f, tools, job.KnownTools()),
		targets: newTargets(f), posture: newPosture(f, job.Joints),
	}
}

func inBothForms(f *blocks.Blocks, labels []string, known []int) []named {
	all := make([]named, len(labels))
	for i, name := range f.Names.Table(labels) {
		all[i] = named{name, blocks.NewText(labels[i]), known[i]}
	}
	return all
}

// numbered is item k, counted from 1; a move may have none.
func numbered(all []named, k int, label string) *named {
	if 1 <= k && k <= len(all) {
		return &all[k-1]
	}
	return &named{label: blocks.NewText(label)}
}

// of is the view of one move, as a pointer to where it is stored until the next
// call. The error is a figure that is no number.
func (v *viewer) of(m *move.Move) (any, error) {
	view := v.build(m)
	return view, v.figures.take()
}

func (v *viewer) build(m *move.Move) any {
	switch m.Kind {
	case move.Select:
		return v.selected(m)
	case move.Travel, move.Straight:
		return v.motion(m)
	case move.Grip, move.Release:
		return v.gripping(m)
	case move.Set:
		view := &v.views.set
		v.step(&view.Step, m)
		view.Signal, view.Level, view.IsOn = m.Signal, wording.Level(m.Level), m.Level
		return view
	case move.Await:
		return v.await(m)
	case move.Dwell:
		view := &v.views.dwell
		v.step(&view.Step, m)
		view.Time, view.Seconds = v.time(m.Seconds)
		return view
	case move.Note:
		return v.remark(m)
	}
	panic("a kind of move without a view: " + m.Kind.String()) // TestEveryKind keeps this from being met
}

// step fills what every view of a move has.
func (v *viewer) step(s *blocks.Step, m *move.Move) {
	v.ownStep(s, m)
	s.Plan = v.plan
	s.Load = v.figures.mass(m.Load)
	if v.centres {
		s.CentreX, s.CentreY, s.CentreZ = v.figures.vector(m.Centre())
		s.HasCentre = m.Centre() != geom.Vec{}
	}
	if v.inertia {
		s.InertiaX, s.InertiaY, s.InertiaZ = v.figures.inertia(m.Inertia())
		s.HasInertia = m.Inertia() != geom.Vec{}
	}
}

func (v *viewer) gripping(m *move.Move) *blocks.Gripping {
	view := &v.views.gripping
	v.step(&view.Step, m)
	v.ownGripping(view, m)
	tool := v.tool(m)
	view.Tool, view.ToolLabel, view.ToolNumber, view.ToolPlace = tool.name, tool.label, tool.known, m.ToolNumber
	view.Signal, view.Level, view.IsOn = m.Signal, wording.Level(m.Level), m.Level
	return view
}

func (v *viewer) await(m *move.Move) *blocks.Await {
	view := &v.views.await
	v.step(&view.Step, m)
	view.Signal, view.Level, view.IsOn = m.Signal, wording.Level(m.Level), m.Level
	view.Limited, view.GoOn = m.Seconds > 0, m.GoOn
	tool := v.tool(m)
	view.Tool, view.ToolLabel, view.HasTool = tool.name, tool.label, m.ToolNumber > 0
	view.Time, view.Seconds = v.time(m.Seconds)
	return view
}

// remark is the view of a note or of an optional stop.
func (v *viewer) remark(m *move.Move) any {
	if m.Pause {
		view := &v.views.stop
		v.step(&view.Step, m)
		view.Text = blocks.NewText(m.Text)
		return view
	}
	view := &v.views.note
	v.step(&view.Step, m)
	view.Text, view.Lines = blocks.NewText(m.Text), wrapped(m.Text, v.remarks)
	return view
}

// time is a wait in the family's unit, and in seconds where that is the same.
func (v *viewer) time(s float64) (inUnit, inSeconds string) {
	inUnit = v.figures.time(s)
	if v.seconds {
		inSeconds = inUnit
	}
	return inUnit, inSeconds
}

func (v *viewer) frame(m *move.Move) *named { return numbered(v.frames, m.FrameNumber, m.Frame) }
func (v *viewer) tool(m *move.Move) *named  { return numbered(v.tools, m.ToolNumber, m.Tool) }

// selected is the view of a select, or of one at which a person changes the tool.
func (v *viewer) selected(m *move.Move) any {
	if !m.ByHand {
		return v.selection(m)
	}
	view := &v.views.change
	view.Select, view.Text = *v.selection(m), blocks.NewText(m.Text)
	return view
}

func (v *viewer) selection(m *move.Move) *blocks.Select {
	before, now := v.before, chosenBy(m)
	view := &v.views.selection
	v.step(&view.Step, m)
	frame, tool := v.frame(m), v.tool(m)
	view.Frame, view.FrameLabel, view.FrameNumber, view.FramePlace = frame.name, frame.label, frame.known, m.FrameNumber
	view.Tool, view.ToolLabel, view.ToolNumber, view.ToolPlace = tool.name, tool.label, tool.known, m.ToolNumber
	view.ToolChanged = before.any && now.tool != before.tool
	view.FrameChanged = !before.any || now.frame != before.frame
	view.LoadChanged = !before.any || view.ToolChanged || now.load != before.load
	v.before = now
	return view
}

// again is the view of a select that is said once more, at the head of a part.
func (v *viewer) again(m move.Move) (blocks.Select, error) {
	before := v.before
	v.before = chosen{}
	view := *v.selection(&m)
	v.before = before
	return view, v.figures.take()
}

func (v *viewer) motion(m *move.Move) *blocks.Motion {
	view := &v.views.motion
	v.step(&view.Step, m)
	v.ownMotion(view, m)
	view.Above, view.Free = m.Target.Approach, m.Target.Grid == ""
	frame, tool := v.frame(m), v.tool(m)
	view.Frame, view.FrameLabel, view.FrameNumber, view.FramePlace = frame.name, frame.label, frame.known, m.FrameNumber
	view.Tool, view.ToolNumber, view.ToolPlace = tool.name, tool.known, m.ToolNumber
	view.Speed, view.FlyBy, view.Stops, view.First = v.figures.speed(m.Speed), v.figures.flyBy(m.FlyBy), m.FlyBy == 0, m.First
	turn := v.family.Coordinates(m).RPY
	if last := &v.last; !last.turned || last.axis != m.Turn || last.negated != m.Negated || !last.turn.Is(&turn) {
		v.fillTurn(view, m, turn)
	}
	return view
}

// fillTurn fills how the tool is turned, which stays in the view until that changes.
func (v *viewer) fillTurn(view *blocks.Motion, m *move.Move, a geom.RPY) {
	view.Turn, view.Rotation = v.turned(a, m.Turn, m.Negated)
	v.last = last{a, m.Turn, m.Negated, v.figures.err == nil}
}

// turned is a rotation in the family's form; where that leaves something open, the axis
// stands at a turn, or the quaternion is the negated one.
func (v *viewer) turned(a geom.RPY, turn float64, negated bool) (vertical string, r blocks.Rotation) {
	switch v.family.Rotation {
	case rules.Vertical:
		return v.figures.component(turn), r
	case rules.Quaternion:
		return "", v.figures.quaternion(a, negated)
	default:
		return "", v.figures.rotation(v.family.Rotation, a)
	}
}

// transfer is the view of a heading; m is the transfer's first move, and all are the ends of those that are
// carried at once, as far as they are known.
func (v *viewer) transfer(m move.Move, all []ends) *blocks.Transfer {
	view := &v.views.heading
	v.step(&view.Step, &m)
	view.Last, view.Group = m.Transfer, view.Group[:0]
	var own ends
	if at := m.Transfer - m.Unit(); at < len(all) {
		own = all[at]
	}
	view.HasEnds = own.known()
	view.From, view.To = v.targets.slot(own.from), v.targets.slot(own.to)
	if m.Transfer == m.Group && len(all) > 1 {
		view.Last = all[len(all)-1].transfer
		view.Group = v.carried(view.Group, all)
	}
	return view
}

// carried is a row for each transfer of a group; none where the ends of one are not known.
func (v *viewer) carried(rows []blocks.Carried, all []ends) []blocks.Carried {
	for i := range all {
		e := &all[i]
		if !e.known() {
			return rows[:0]
		}
		row := blocks.Carried{Transfer: e.transfer, From: v.targets.slot(e.from), To: v.targets.slot(e.to)}
		if row.HasPartID = e.id != nil; row.HasPartID {
			row.PartID = blocks.NewText(*e.id)
		}
		rows = append(rows, row)
	}
	return rows
}

// titleOf is what a program is called.
func titleOf(job move.Job) string {
	if strings.TrimSpace(job.Title) == "" {
		return wording.Stem(job.Plan)
	}
	return job.Title
}

// head is the view of the first and last block.
func (v *viewer) head(job move.Job, s move.Counts) (blocks.Head, error) {
	title := titleOf(job)
	rows, tables := tablesOf(v.family, s.Moves)
	h := blocks.Head{
		Title: blocks.NewText(title), Plan: v.plan, Cell: blocks.NewText(job.Cell),
		Program: v.family.Names.Make(title), Version: job.Version, Cautions: v.family.Cautions(job.Notices...),
		Start: blocks.NewText(job.Start), HasStart: job.Start != "",
		TableRows: rows, Tables: tables, LengthUnit: v.family.Units[rules.Length].Name, SpeedUnit: v.family.Units[rules.Speed].Name,
		Frames: v.frameTable(job), Tools: v.toolTable(job), Points: v.pointTable(), JointNames: v.posture.names,
		Moves: s.Moves, Transfers: s.Transfers, Outputs: s.Output, Inputs: s.Input, ByHand: s.ByHand, FlyBys: s.FlyBys, Passes: s.FlyBys && !v.family.StopsEverywhere(), Travels: s.Travel > 0,
		TravelSpeed: v.figures.figure(rules.Speed, s.Travel), StraightSpeed: v.figures.figure(rules.Speed, s.Straight),
	}
	if v.family.Rotation == rules.Vertical {
		winding := v.family.NewWinding(job.Turns)
		from, to := winding.Range()
		h.TurnFrom, h.TurnTo = v.figures.component(from), v.figures.component(to)
	}
	if job.Speed > 0 {
		h.MachineSpeed = v.figures.speed(job.Speed)
	}
	limits := v.family.Limits.Or(job.Acceleration, job.Jerk)
	h.HasAcceleration, h.HasJerk = job.Acceleration > 0, job.Jerk > 0
	if limits.Acceleration > 0 {
		h.Acceleration = v.figures.something(rules.Limit, limits.Acceleration)
	}
	if limits.Jerk > 0 {
		h.Jerk = v.figures.something(rules.Limit, limits.Jerk)
	}
	return h, v.figures.take()
}

func (v *viewer) frameTable(job move.Job) []blocks.Frame {
	table := make([]blocks.Frame, len(job.Frames))
	for i, f := range job.Frames {
		row := blocks.Frame{Number: v.frames[i].known, Place: i + 1, Name: v.frames[i].name, Label: v.frames[i].label, Used: f.Used}
		row.X, row.Y, row.Z = v.figures.vector(f.Base.Vec)
		row.Rotation = v.figures.rotation(v.family.Rotation.OfEntry(), f.Base.RPY)
		table[i] = row
	}
	return table
}

func (v *viewer) toolTable(job move.Job) []blocks.Tool {
	table := make([]blocks.Tool, len(job.Tools))
	for i, t := range job.Tools {
		row := blocks.Tool{Number: v.tools[i].known, Place: i + 1, Name: v.tools[i].name, Label: v.tools[i].label, Mass: v.figures.mass(t.Mass), Used: t.Used}
		row.X, row.Y, row.Z = v.figures.vector(t.TCP.Vec)
		row.Rotation = v.figures.rotation(v.family.Rotation.OfEntry(), t.TCP.RPY)
		row.CentreX, row.CentreY, row.CentreZ = v.figures.vector(t.CentreOfGravity)
		if v.inertia {
			row.InertiaX, row.InertiaY, row.InertiaZ = v.figures.inertia(t.Inertia)
		}
		table[i] = row
	}
	return table
}
