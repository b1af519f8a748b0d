// Package move holds the move, of which a plan expands to a flat list, and the
// formats of that list (table, CSV, JSON lines).
//
// The list is the waist of Gridferry: everything before it knows nothing of
// program text, everything after it nothing of YAML. A Move therefore carries
// all that a check, a time or a template may need, and the place in the plan
// that caused it.
package move

import (
	"cmp"
	"iter"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
)

// Point is the pose of the tool centre point: mm and degrees, in the frame that its
// owner names.
type Point struct {
	geom.Vec
	geom.RPY
}

// Seq is a move list: made again on every pass, never held as a whole.
type Seq = iter.Seq[Move]

// Move is one item of the list. Which fields have a meaning depends on Kind;
// lines.go, which writes the columns, is the one list of that.
type Move struct {
	N        int // from 1
	Transfer int // from 1; 0 outside any transfer
	Leg      int // from 1 within its entry of transfers; 0 outside
	Kind     Kind
	Role     Role // why it is there

	// What is or is not so stands together: a move is made, and cleared, as often as there are moves,
	// and scattered these would take up as much room as the rest of it does between them.
	First     bool // travel, straight: the program's first motion, from wherever the arm stands
	AfterHand bool // travel, straight: the first motion since a person changed the tool
	Shifts    bool // select: with another tool than before, or another zone of it; Base is where the TCP of that one stands
	ByHand    bool // select: with another tool, which a person fits as Text says; the program stops there
	Level     bool // grip, release, set: the level written; await: the level waited for
	GoOn      bool // await: carry on after the time-out instead of stopping
	Pulse     bool // dwell: a pulse lasts so long
	Negated   bool // see Turn

	Configuration arm.Configuration // see Joints

	// Pause marks a note as an optional stop: the controller stops there if its
	// operator has asked for that. It is a note and not a kind of its own, because
	// the arm, the outputs and the time go on as if it were not there.
	Pause bool

	Target Target
	Frame  string // select, travel, straight: the frame that At is written in
	Tool   string
	// FrameNumber and ToolNumber are the positions in Job.Frames and Job.Tools,
	// from 1, for families that keep tables.
	FrameNumber, ToolNumber int
	Load                    float64 // kg on the flange: tool and part
	Spread                  *Spread // of the load; nil where the cell does not say the tool's

	At    Point   // travel, straight: in Frame
	Base  Point   // the same in base coordinates
	Speed float64 // mm/s
	FlyBy float64 // mm; 0 is a stop-point

	// Zones is, of a straight between a slot and its approach point, how many zones go down at
	// once, each to its own slot; 0 where it is one alone. Behind is, of a grip or a release, how many
	// transfers behind the one that the move belongs to its part's own is: the moves of one descent
	// belong to the first.
	Zones, Behind int
	Group         int // the first of the transfers whose parts are carried at once with this one's; 0 where it is alone

	// Joints is the readings of the arm's joints at the end of a travel or a straight, in Job's order, and
	// Configuration the one that they are of: nil, and none, where the cell does not say what the arm
	// is. They are not to be changed: motions that end alike have the same.
	Joints *arm.Readings

	// Turn and Negated say what the orientation leaves open, and are filled in where a
	// family needs it: where the axis of a vertical tool stands, degrees, and whether
	// the other one of the two quaternions is written.
	Turn float64

	Signal  int // grip, release, set: the output; await: the input
	Seconds float64
	Text    string // of a note

	// Figures is the number of the figures that it was made by, for who has the plan.
	Figures int

	// ID says which part it is that the transfer carries or, of a grip or a release, that is
	// gripped or let go: its id as the plan has it; nil where the plan does not name it. One part
	// has one pointer.
	ID *string

	// Place is the line of the plan that caused this move. Where that is a line of a worklist,
	// in a file of its own, ListedAt is the line of the plan that names the worklist; 0 otherwise.
	Place    diag.Place
	ListedAt int
}

// Careful reports whether a motion is at the speed near a slot, to a stop, wherever it goes: the
// program's first one, and the first since a person had hands in the machine.
func (m *Move) Careful() bool { return m.First || m.AfterHand }

// Spread is how a load lies on the flange, in the flange's coordinates. It is the same for many moves, which have
// one pointer, and it is not to be changed.
type Spread struct {
	Centre  geom.Vec // mm: of gravity; zero where the cell does not say the tool's
	Inertia geom.Vec // kg·m² about Centre, along the flange's axes; zero where the cell does not say the tool's, or the plan the part's size
}

// Centre is the load's centre of gravity, as Spread has it; zero where it is not known.
func (m *Move) Centre() geom.Vec {
	if m.Spread == nil {
		return geom.Vec{}
	}
	return m.Spread.Centre
}

// Inertia is the load's moments of inertia, likewise.
func (m *Move) Inertia() geom.Vec {
	if m.Spread == nil {
		return geom.Vec{}
	}
	return m.Spread.Inertia
}

// Line is the line of the plan that caused this move, or that names the worklist with the line that did.
func (m *Move) Line() int { return cmp.Or(m.ListedAt, m.Place.Line) }

// Alike is a place that the moves share which rest on the same thing in the plan: the lines of a worklist are one.
func (m *Move) Alike() diag.Place {
	if m.ListedAt > 0 {
		return diag.Place{File: m.Place.File}
	}
	return m.Place
}

// Unit is the first of the transfers whose parts are carried at once: mostly the transfer
// that the move belongs to.
func (m *Move) Unit() int { return cmp.Or(m.Group, m.Transfer) }

// Carries is the transfer of the part that is gripped or released.
func (m *Move) Carries() int { return m.Transfer + m.Behind }

// Target names what a move goes to or works on.
type Target struct {
	Pose     string // a named pose, or else
	Grid     string // a grid's slot,
	Slot     slot.Slot
	Layered  bool
	Approach bool // or the point above it
}

// IsZero reports whether the move has no target.
func (t Target) IsZero() bool { return t.Pose == "" && t.Grid == "" }

// Below is the slot itself, also where the target is the point above it.
func (t Target) Below() Target {
	t.Approach = false
	return t
}

// InGrid is the grid and the slot that it is, or is above; "" for a pose.
func (t Target) InGrid() (grid, slot string) {
	if t.Grid == "" {
		return "", ""
	}
	return t.Grid, t.Slot.Label(t.Layered)
}

// String is the target as lists show it: "clear", "tray A1", "tray A1 approach".
func (t Target) String() string { return string(t.Append(nil)) }

// Append is String without the allocation.
func (t Target) Append(b []byte) []byte {
	if t.Grid == "" {
		return append(b, t.Pose...)
	}
	b = append(b, t.Grid...)
	b = append(b, ' ')
	b = t.Slot.AppendLabel(b, t.Layered)
	if t.Approach {
		b = append(b, " approach"...)
	}
	return b
}

// Job is what is known of the list as a whole: what the head and the tables of a
// program need beside the moves.
type Job struct {
	Title        string
	Plan         string   // the plan file's name without folders
	File         string   // what programs are named after; "" for Plan
	Notices      []string // for the head of every program: what kind of run this is, unless it is a whole job, and how it has to be found before the start
	Version      string   // of Gridferry
	Cell         string   // the cell's name
	Frames       []Frame
	Tools        []Tool
	Acceleration float64    // mm/s²; 0 where the cell does not say
	Jerk         float64    // mm/s³; likewise
	Speed        float64    // mm/s, the machine's fastest; 0 where the cell does not say
	Turns        [2]float64 // degrees, how far the axis of a vertical tool turns; 0 and 0 where the cell does not say
	Start        string     // the start pose; "" when there is none
	Joints       []Joint    // of the arm; nil where the cell does not say what it is
	Place        diag.Place
	Counts       Counts
}

// Joint is one of the arm's.
type Joint struct {
	Name   string
	Slides bool // its readings are mm; else degrees
}

// FileName is what programs are named after: the plan, unless they hold a prove-out
// or a resumed job.
func (j *Job) FileName() string {
	if j.File != "" {
		return j.File
	}
	return j.Plan
}

// FrameNames and ToolNames are the names in the order of their numbers.
func (j *Job) FrameNames() []string {
	names := make([]string, len(j.Frames))
	for i, f := range j.Frames {
		names[i] = f.Name
	}
	return names
}

func (j *Job) ToolNames() []string {
	names := make([]string, len(j.Tools))
	for i, t := range j.Tools {
		names[i] = t.Name
	}
	return names
}

// KnownFrames and KnownTools are the numbers that the controller knows them by.
func (j *Job) KnownFrames() []int {
	numbers := make([]int, len(j.Frames))
	for i, f := range j.Frames {
		numbers[i] = cmp.Or(f.Known, i+1)
	}
	return numbers
}

func (j *Job) KnownTools() []int {
	numbers := make([]int, len(j.Tools))
	for i, t := range j.Tools {
		numbers[i] = cmp.Or(t.Known, i+1)
	}
	return numbers
}

// Frame is one frame that moves are written in; Number counts from 1 and the
// base is always number 1.
type Frame struct {
	Number int
	Known  int // the number that the controller knows it by; 0 for Number
	Name   string
	Base   Point // its pose in the base
	Used   bool  // some move is written in it
}

// Tool is one tool of the cell.
type Tool struct {
	Number          int
	Known           int // as of a frame
	Name            string
	TCP             Point   // on the flange
	Mass            float64 // kg
	CentreOfGravity geom.Vec
	Inertia         geom.Vec // kg·m²
	Used            bool     // some move uses it,
	Selected        bool     // or goes by where its TCP is
}
