package scene

// Scene is the data. Its tags say how it is called in JSON.
type Scene struct {
	Title    string    `json:"title"`
	Bounds   [2]Vec    `json:"bounds"` // of what is worth seeing
	Files    []string  `json:"files"`  // that a Place means
	Frames   []Frame   `json:"frames"` // without the base
	KeepOuts []KeepOut `json:"keepouts"`
	Poses    []Named   `json:"poses"`
	Start    *Pose     `json:"start"` // that the program begins from; nil for none
	Reach    *Reach    `json:"reach"`
	Solids   []Solid   `json:"solids"`
	Grids    []Grid    `json:"grids"`
	Tools    []Tool    `json:"tools"` // by their numbers less one; a zone of a tool is one, too
	Arm      *Arm      `json:"arm"`   // nil where the cell does not say what it is
	Moves    Moves     `json:"moves"`
	Held     *Held     `json:"held"`  // in the gripper before the first move
	Clock    string    `json:"clock"` // the time of the whole job, in words
	Program  *Program  `json:"program,omitempty"`
	Plan     []Text    `json:"plan,omitempty"`
}

// Place is a file, as a number among Files, and a line from 1.
type Place [2]int32

// Frame is a coordinate system of the cell.
type Frame struct {
	Name   string `json:"name"`
	Parent string `json:"parent"`
	Pose   Pose   `json:"pose"`
	Place  Place  `json:"place"`
}

// KeepOut is a box that nothing may enter, From one corner To the other in its pose.
type KeepOut struct {
	Name  string `json:"name"`
	Pose  Pose   `json:"pose"`
	From  Vec    `json:"from"`
	To    Vec    `json:"to"`
	Place Place  `json:"place"`
}

// Named is a pose of the cell: where it takes the TCP of the plan's own tool.
type Named struct {
	Name string `json:"name"`
	Pose Pose   `json:"pose"`
}

// Reach is the room that the arm reaches: between two radii about the base's Z and two heights. What is nil the
// cell does not say.
type Reach struct {
	Centre Vec     `json:"centre"`
	Least  *Length `json:"least"`
	Most   *Length `json:"most"`
	Low    *Length `json:"low"`
	High   *Length `json:"high"`
}

// Solid is one of several shapes, in the coordinates of what it is of.
type Solid struct {
	Box      *Box   `json:"box,omitempty"`
	Cylinder *Round `json:"cylinder,omitempty"` // its ends are flat
	Capsule  *Round `json:"capsule,omitempty"`  // its ends are round
	Sphere   *Ball  `json:"sphere,omitempty"`
	Corners  []Vec  `json:"corners,omitempty"` // of something flat, in the order of its edge
}

// Box is a box by opposite corners, along the axes of its coordinates unless it is turned about their origin.
type Box struct {
	From Vec         `json:"from"`
	To   Vec         `json:"to"`
	Turn *Quaternion `json:"turn,omitempty"`
}

// Round is all that is near a line.
type Round struct {
	From   Vec    `json:"from"`
	To     Vec    `json:"to"`
	Radius Length `json:"radius"`
}

// Ball is all that is near a point.
type Ball struct {
	At     Vec    `json:"at"`
	Radius Length `json:"radius"`
}

// Grid is slots and what stands in them at the start.
type Grid struct {
	Name  string  `json:"name"`
	Part  string  `json:"part"`
	Frame string  `json:"frame"`
	Place Place   `json:"place"`
	Size  [3]int  `json:"size"`           // rows, columns, layers
	Rows  Numbers `json:"rows,omitempty"` // how long each is, where they are not all as long
	Feeds bool    `json:"feeds"`          // what stands there stays, whatever is taken or put down

	// The slots that are shown: which they are, if not all; where the TCP is there, three figures a slot;
	// and how a part is turned there, one of Turns a slot, the first if Turn is nil.
	Whole bool         `json:"whole"`
	Count int          `json:"count"` // of all slots
	Index Numbers      `json:"index,omitzero"`
	At    Lengths      `json:"at"`
	Turns []Quaternion `json:"turns"`
	Turn  Numbers      `json:"turn,omitempty"`

	Solid   int              `json:"solid"` // a part from its slot, if it lies as the slot says
	Lies    []Lie            `json:"lies,omitempty"`
	Full    Numbers          `json:"full"`
	Lain    map[int32]int32  `json:"lain,omitempty"` // by slot: which of Lies, from 1 on
	Missing Numbers          `json:"missing"`
	IDs     map[int32]string `json:"ids,omitempty"` // by slot: "vial M-1201"
}

// Lie is another way in which a part lies in a slot, or another part that does: its solid is turned about the
// slot's own origin, then shifted, along the axes of a part that lies rightly.
type Lie struct {
	Solid int        `json:"solid"`
	Turn  Quaternion `json:"turn"`
	Shift Vec        `json:"shift"`
}

// Tool is a tool, or one zone of it.
type Tool struct {
	Name   string    `json:"name"`
	TCP    Pose      `json:"tcp"`    // on the flange
	Radius Length    `json:"radius"` // of the cylinder from flange to TCP that holds the tool; 0 where not known
	Body   []BodyBox `json:"body"`
	Zones  []Pose    `json:"zones,omitempty"` // of each zone's TCP, itself among them, in this one's
	Stand  *Pose     `json:"stand"`           // of the TCP while the tool hangs there; nil where that is not known
}

// BodyBox is a box of a tool in its TCP's coordinates, as Box, and how far it stands from there while the gripper is
// open, along its own edges.
type BodyBox struct {
	Box
	Open *Vec `json:"open,omitempty"`
}

// Held is a part in the gripper, and the slot that it was taken from.
type Held struct {
	Grid int    `json:"grid"`
	Slot int    `json:"slot"`
	Zone int    `json:"zone"` // that holds it, from 1 on; 0 of a tool without
	Tool int    `json:"tool"` // likewise, among Tools
	Part string `json:"part"` // "" for one without an id
	Lies int    `json:"lies"`
	Pose Pose   `json:"pose"` // of a part that lies as its slot says, in that tool's TCP
}

// Program is lines of the program of a family.
type Program struct {
	Family string `json:"family"`
	Lines  []Line `json:"lines"`
}

// Text is lines of a file.
type Text struct {
	Name  string `json:"name"`
	Lines []Line `json:"lines"`
}
