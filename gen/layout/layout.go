// Package layout resolves a plan: it chains frames, lays out grids, and chooses the
// slots of every transfer. What it cannot resolve it reports and then leaves out, so
// that one mistake gives one message. Lengths are mm, angles degrees.
package layout

import (
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/measure"
	"gridferry/gen/move"
	"gridferry/gen/pattern"
	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Layout is a plan with every name replaced by what it stands for.
type Layout struct {
	Title   string
	File    string
	Place   diag.Place // of the plan
	Cell    *plan.Cell
	Frames  []*Frame // the base first, then in the cell's order
	Tools   []*Tool
	Poses   []*NamedPose
	Arm     *Arm // nil where the cell does not say what its joints are
	Boxes   []*Box
	Parts   []*Part
	Grids   []*Grid
	figures []*Figures // the plan's own first
	named   []Named    // the parts with ids; their numbers count from 1
	byID    map[string]int32
	Begin   []Step
	Entries []*Entry
	End     []Step
	used    []*Tool  // those that the plan works with; nil where that was not worked out
	Behind  []Behind // grids that keep parts which a whole-grid entry had no room for
	// Held is what the gripper holds when the program starts; nil for nothing, as at
	// the start of every job, but not of every resumed job.
	Held *Held
}

// Held is a part in the gripper, and the slot that it was taken from.
type Held struct {
	By   *Tool   // that holds it; nil for the plan's own
	ID   *string // nil where it has none
	Part *Part   // nil where the plan does not say
	Grid *Grid
	Slot slot.Slot
}

// Tool is a tool with its place in tables.
type Tool struct {
	Number          int // from 1
	Known           int // the number that the controller knows it by
	Name            string
	Place           diag.Place
	TCP             geom.Pose     // on the flange
	Fit             *measure.Tool // what the TCP is worth; nil where it was not measured
	Mass            float64       // kg
	MassPlace       diag.Place
	CentreOfGravity geom.Vec  // mm, on the flange
	Inertia         geom.Vec  // kg·m², about the centre of gravity, along the flange's axes; zero when not known
	Radius          float64   // mm, of the cylinder from flange to TCP that holds the tool; 0 when not known
	Body            []BodyBox // what the tool fills; nil when not known
	Grip, Release   Action
	Zones           []*Tool // of a zone: those of its tool, in their order, itself among them; nil for a tool without
	Fetch, Leave    []Step  // how the arm takes it from its stand, and puts it there; none where a person changes it
	// Where the two are written; zero where they are not.
	FetchPlace, LeavePlace diag.Place
}

// Box is a keep-out box: opposite corners in a frame, From the lower one in
// every direction.
type Box struct {
	Name     string
	Place    diag.Place
	Frame    *Frame
	From, To geom.Vec
}

// Step is something to do beside carrying.
type Step struct {
	Place   diag.Place
	Kind    move.Kind  // Travel, Straight, Set, Await, Dwell or Note
	Pose    *NamedPose // that is gone to
	Signal  int
	Level   bool
	GoOn    bool
	Seconds float64
	Pulse   bool // a dwell for which a pulse lasts
	Text    string
}

// Options bound what a plan may ask for.
type Options struct {
	Slots int // the most slots of all grids together, the most transfers, and a twentieth of the most moves; 0 is DefaultSlots
}

// DefaultSlots is enough for ten million moves and small enough for any machine.
const DefaultSlots = 10_000_000

// Resolve looks every name up and lays everything out. With errors in list the
// layout is incomplete and must not be expanded.
func Resolve(p *plan.Plan, o Options, list *diag.List) *Layout {
	return newResolver(p, o, list).resolve()
}

// Bench is what a cell says by itself: frames, tools, the arm and poses.
func Bench(p *plan.Plan, list *diag.List) *Layout {
	r := newResolver(p, Options{}, list)
	r.bench()
	return r.out
}

func (r *resolver) bench() {
	r.frames()
	r.tools()
	r.arm()
	r.poses()
}

func (r *resolver) resolve() *Layout {
	r.bench()
	r.changeSteps()
	r.boxes()
	r.parts()
	r.grids()
	r.reaches()
	r.figures()
	r.out.Begin = r.steps(r.plan.Begin)
	r.entries()
	r.changes()
	if !r.list.HasErrors() {
		r.out.used = slices.Clip(r.out.usedTools())
	}
	r.out.End = r.steps(r.plan.End)
	return r.out
}

type resolver struct {
	plan *plan.Plan
	cell *plan.Cell // never nil; empty where the cell could not be read
	list *diag.List
	out  *Layout
	left int // slots that may still be asked for
	// transfers that may still be, and where choices among a grid's slots begin
	leftTransfers int
	leftMoves     int
	searched      int           // what searches for orders have cost
	looked        int           // slots that were looked at to choose among them
	laying        pattern.Looks // work that is left for laying boxes
	starts        map[*Grid]*starts
	balanced      []*balancing     // stops whose order keeps a rotor in balance
	behind        map[*Grid]Behind // by the grid that keeps parts: the last entry that left some

	// What names stand for. A name that was written but could not be resolved
	// maps to nil: what rests on it is passed over without a word.
	frameOf map[string]*Frame
	toolOf  map[string]*Tool
	poseOf  map[string]*NamedPose
	partOf  map[string]*Part
	gridOf  map[string]*Grid
	// cellMissing: there is no cell to look names up in, which was said already.
	cellMissing bool
}

func newResolver(p *plan.Plan, o Options, list *diag.List) *resolver {
	r := &resolver{
		plan: p, cell: p.Cell, list: list, left: o.Slots,
		out:     &Layout{Title: p.Title.V, File: p.File, Place: p.Place},
		frameOf: map[string]*Frame{}, toolOf: map[string]*Tool{}, poseOf: map[string]*NamedPose{},
		partOf: map[string]*Part{}, gridOf: map[string]*Grid{},
	}
	if r.left == 0 {
		r.left = DefaultSlots
	}
	r.laying.Left = mostLaying
	r.leftTransfers, r.leftMoves = r.left, MovesPerTransfer*r.left
	r.starts, r.behind = map[*Grid]*starts{}, map[*Grid]Behind{}
	if r.cell == nil {
		r.cell, r.cellMissing = &plan.Cell{}, true
	}
	r.out.Cell = r.cell
	return r
}

func (r *resolver) tools() {
	numbers := numbers{what: "tool", list: r.list}
	for _, t := range r.cell.Tools {
		pose, fit, ok := r.tcp(t)
		if !ok || !t.Mass.IsSet() {
			r.toolOf[t.Name.V] = nil
			continue
		}
		tool := Tool{
			Name: t.Name.V, Place: t.Name.Place, TCP: pose, Fit: fit, Mass: t.Mass.V, MassPlace: t.Mass.Place,
			CentreOfGravity: vec(t.CentreOfGravity), Inertia: vec(t.Inertia), Radius: t.Radius.V, Body: body(t.Body), Grip: action(&t.Grip), Release: action(&t.Release),
		}
		r.toolOf[t.Name.V] = r.zones(t, &tool, &numbers)
		if t.Zones == nil {
			r.toolOf[t.Name.V] = r.listed(tool, t.Number, &numbers)
		}
	}
	numbers.check()
}

// listed puts a tool into the list.
func (r *resolver) listed(t Tool, number plan.Whole, numbers *numbers) *Tool {
	t.Number = len(r.out.Tools) + 1
	t.Known = number.Or(t.Number)
	r.out.Tools = append(r.out.Tools, &t)
	numbers.add(t.Name, t.Known, number)
	return &t
}

// tcp is the tool centre point as it is written, or as it was measured.
func (r *resolver) tcp(t *plan.Tool) (geom.Pose, *measure.Tool, bool) {
	pose, ok := r.pose(t.TCP, geom.IdentityRot())
	if t.Pivot == nil {
		return pose, nil, ok
	}
	fit := measure.Pivot(t.Name.V, t.Pivot, r.touchError(), r.list)
	if fit == nil {
		return pose, nil, false
	}
	pose.T = fit.Tip
	return pose, fit, true
}

func (r *resolver) boxes() {
	for _, b := range r.cell.KeepOut {
		frame := r.frame(b.Frame)
		if frame == nil || !b.From.IsSet() || !b.To.IsSet() {
			continue
		}
		from, to := vec(b.From), vec(b.To)
		r.out.Boxes = append(r.out.Boxes, &Box{Name: b.Name.V, Place: b.Name.Place, Frame: frame, From: from.Min(to), To: from.Max(to)})
	}
}

func (r *resolver) parts() {
	for _, p := range r.plan.Parts {
		part := &Part{Name: p.Name.V, Place: p.Name.Place, Mass: p.Mass.V, MassPlace: p.Mass.Place, Size: vec(p.Size), Grip: p.Grip.Or(p.Size.V[2] / 2), Symmetry: p.Symmetry.V}
		r.partOf[part.Name] = part
		r.out.Parts = append(r.out.Parts, part)
	}
}
