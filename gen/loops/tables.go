package loops

import (
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Tables is what stands before the loops: where the grids are, and what the
// routines for a pick and a place need.
type Tables struct {
	Grids []Grid
	Arm   Arm
}

// Grid is where the slots of a grid are, in its frame. A slot stands at First and
// its column's, its row's and its layer's offset; a grid whose corners were touched
// has its corners instead, and one whose slots lie otherwise has all of them.
type Grid struct {
	Place                 diag.Place
	Name                  string
	Frame                 string
	FrameNumber           int
	Rows, Columns, Layers int
	First                 geom.Vec
	Turn                  geom.RPY
	Column, Row, Layer    float64 // mm, the steps along X, Y and Z
	Shift                 float64 // mm along X, of rows 2, 4, 6 …
	Corners, Slots        []Slot
}

// Slot is where a slot is, and how far tool and part are turned there, in degrees.
type Slot struct {
	Row, Column, Layer int // from 1
	At                 geom.Vec
	Turned             float64
}

// Arm is what every pick and place has in common.
type Arm struct {
	Place         diag.Place
	Tool          string
	ToolNumber    int
	Approach      float64 // mm
	Travel, Near  float64 // mm/s
	FlyBy         float64 // mm
	Clear, Start  *Pose   // nil for none
	Grip, Release Action
	Holds         *Holds // nil where nothing tells
}

// Pose is a named pose, in its frame.
type Pose struct {
	Name, Frame string
	FrameNumber int
	At          move.Point
}

// Action is what the gripper does: an output, its level, the sets and dwells right behind,
// and the wait after all in seconds.
type Action struct {
	Output int
	Level  bool
	More   []move.Move
	Settle float64
}

// Holds is the input that has a level while the gripper holds a part, and the other one
// while it holds none; Within is the time-out in seconds.
type Holds struct {
	Input  int
	Level  bool
	Within float64
}
