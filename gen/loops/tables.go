package loops

import (
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Tables is what stands before the loops: where the grids are, and the routines that the
// loops call.
type Tables struct {
	Place    diag.Place // of the plan's own motion
	Tools    []Tool     // none where one takes every part
	Grids    []Grid
	Entries  []EntryWay
	Clears   []Clear
	Grippers []Gripper
	Changes  []ToolSteps
	Routines []Routine
	Poses    []*Pose // every one that is gone to, once
}

// Grid is where the slots of a grid are, in its frame. A slot stands at First and
// its column's, its row's and its layer's offset; a grid whose corners were touched
// has its corners instead, and one whose slots lie otherwise has all of them. Single slots
// may be off these places.
type Grid struct {
	Place                 diag.Place
	Name                  string
	Frame                 string
	FrameNumber           int
	Rows, Columns, Layers int
	Across                string // how many columns: "3 to 5" where rows are of unequal length
	First                 geom.Vec
	Turn                  geom.RPY
	Column, Row, Layer    float64 // mm, the steps along X, Y and Z
	Shift                 float64 // mm along X, of rows 2, 4, 6 …
	Corners, Slots        []Slot
	Off                   []Slot // how far
	Leads                 []Lead // to where the arm comes above the slots, and lets go
}

// Slot is where a slot is, and how far tool and part are turned there, in degrees.
type Slot struct {
	Row, Column, Layer int // from 1
	At                 geom.Vec
	Turned             float64
}

// Lead is the way from a slot to where the arm comes before it goes straight down, or to
// where it lets a part go.
type Lead struct {
	Back     bool     // along the tool, out of the slot
	Along    geom.Vec // otherwise: the direction in the grid's frame, of length 1
	Distance float64  // mm
}

// Upright reports whether the way leads straight up in the grid's frame.
func (l Lead) Upright() bool { return !l.Back && l.Along == geom.Vec{Z: 1} }

// Named is something in a table of the cell.
type Named struct {
	Name   string
	Number int // from 1
}

// Tool is a tool that takes parts, or one zone of it.
type Tool struct {
	Place diag.Place
	Named
	TCP move.Point // on the flange
}

// Zones are those of a tool that work together, from First to Last as the tools' table
// lists them; the tool itself where it has none, and no name where only one tool works.
type Zones struct{ First, Last Named }

// Pose is a named pose, in its frame.
type Pose struct {
	Name, Frame string
	FrameNumber int
	At          move.Point
}

// Speeds are those of a travel, mm/s.
type Speeds struct{ Travel, Loaded float64 }

// EntryWay is the poses on the way into a grid, which the arm passes in reverse on the way out.
type EntryWay struct {
	Place diag.Place
	Label string
	Poses []*Pose
	Speeds
}

// Clear is the routine that leads to a clear pose.
type Clear struct {
	Place diag.Place
	Label string
	Out   bool  // of the grid that the arm is in first
	Pose  *Pose // nil for none
	Speeds
}

// Gripper is the routine that opens or closes a gripper, or some zones: outputs, with sets
// and dwells among them, the wait after all in seconds, and the questions behind it.
type Gripper struct {
	Place  diag.Place
	Opens  bool
	Zones  Zones
	Acts   []move.Move
	Settle float64
	Asks   []Input
}

// Input is a wait for the level of an input; Within is the time-out in seconds.
type Input struct {
	Input  int
	Level  bool
	Within float64
}

// ToolSteps is the routine by which the arm leaves a tool, or fetches one.
type ToolSteps struct {
	Place diag.Place
	Label string
	Steps []Statement
}

// Verb is what a routine for a slot does.
type Verb uint8

// The verbs.
const (
	Pick     Verb = iota + 1 // take a part
	Put                      // put it down
	ComePick                 // come above the slot for the one, and no further
	ComePut                  // or for the other
	BackPick                 // come back there, after steps that led away
	BackPut
	NumVerbs = iota + 1
)

// Routine is what is done at a slot.
type Routine struct {
	Place diag.Place
	Label string
	Form
	Asks []Input // whether parts are held, above the slot
}

// Form is in what one routine differs from another.
type Form struct {
	Verb       Verb
	Home       Leaving // how the arm leaves where it is, unless it stands there already
	Inside     bool    // nor does it where it is in the grid already
	Opens      bool    // grippers are opened that are not open
	OpensFirst bool    // before anything moves
	Open       Zones
	Entry      string // the label of the poses on the way into the grid; "" for none
	Enters     bool   // the arm goes into the grid by them, or by none
	Zones      Zones
	Shifted    bool  // another zone than the tool's first works
	First      Named // that first zone
	Lead       Lead
	Release    float64 // mm, from the slot to where a part is let go
	Travel     float64 // mm/s
	Near       float64 // mm/s
}
