// Package loops holds a job as nested loops: statements (statement.go), and the tables
// before them (tables.go). Like moves, they are plain values; package nest makes them
// of a layout.
package loops

import (
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Kind says what a statement does.
type Kind uint8

// The kinds.
const (
	Ask    Kind = iota + 1 // whether nothing is held, before all entries
	First                  // the first motion
	Entry                  // an entry of the plan begins
	Leg                    // a leg of it begins
	Switch                 // another tool comes onto the flange
	Zero                   // the count of parts begins at 0
	For                    // a loop begins
	Next                   // it ends
	Skip                   // slots that a loop passes over
	Count                  // one part more, or a group of them
	List                   // slots, written out in a list
	Store                  // the present slot is put into a list
	Groups                 // groups of so many parts begin
	Call                   // a routine is called for a slot
	Leave                  // the loops end here when enough parts were counted
	Do                     // a step that the plan writes out
	Go                     // such a step that moves the arm
	Finish                 // everything is carried
)

// Counter is what a loop counts.
type Counter uint8

// The counters, a slot's three directions first.
const (
	Row Counter = iota
	Column
	Layer
	Parts
	Group

	NumCounters = iota
)

// Parity says which rows run backwards.
type Parity uint8

// The parities of a row's number, from 1.
const (
	Never Parity = iota
	Odd
	Even
)

// Flipped is the parity of the same rows counted from one row further on.
func (p Parity) Flipped() Parity {
	return [...]Parity{Never: Never, Odd: Even, Even: Odd}[p]
}

// Statement is one line of the loops. Which fields have a meaning depends on Kind.
type Statement struct {
	Kind    Kind
	Depth   int        // in loops
	Place   diag.Place // of the plan's entry or step
	Heading Heading    // Entry, Leg, Groups
	Loop    Loop       // For, Next
	Box     Box        // Skip
	Label   string     // Skip: the slots as people name them
	Grid    string     // First above a slot, Call, List, Store
	Layered bool       // whether the grid has several layers
	At      [3]Index   // First above a slot, Call, Store: row, column, layer
	List    string     // Zero, List, Store: the list's name; Zero may have none
	From    int        // List: the place of the first slot in the list, from 1
	Slots   [3][]int   // List: rows, columns, layers, from 1
	Parts   int        // Count: how many more; Leave: the count at which the loops end
	Verb    Verb       // Call
	Routine string     // Call: the routine's label
	Step    move.Move  // Do: a set, await, dwell or note
	Asks    []Input    // Ask
	First   Beginning  // First
	Way     Way        // Go
	Switch  Change     // Switch
	Home    Leaving    // Finish
}

// Beginning is the first motion, to a pose or else above a slot.
type Beginning struct {
	Opens bool // a gripper is opened before it
	Open  Zones
	Pose  *Pose
	Lead  Lead    // from the slot to where the arm comes to
	Speed float64 // mm/s
}

// Way is a step that moves the arm.
type Way struct {
	Pose     *Pose
	Straight bool
	Framed   bool // the frame is that of the step right before
	First    bool // nothing has moved before
	Out      bool // before it the arm leaves the grid that it may be in, as far as the pose
	Speed    float64
}

// Change is another tool on the flange.
type Change struct {
	From, To     string // tools, as people name them
	Home         Leaving
	Leave, Fetch string  // the routines for that, by label; "" where a person does it
	ByHand       string  // what a person does, in words; "" for nothing
	Near         float64 // mm/s, of the first motion after that
	First        Named   // the TCP that counts from there on
	Asks         []Input // whether nothing is held
}

// Leaving is how the arm leaves where it is: by a routine that leads to the clear pose, or
// only out of the grid.
type Leaving struct {
	Clear string // the routine's label; "" for none
	Out   bool   // out of the grid, where there is none
}

// Heading is what is written over the loops of an entry or a leg.
type Heading struct {
	Number    int // of the entry, from 1
	Parts     int
	ByPart    bool
	Leg, Legs int // Leg is from 1 over a leg
	Stops     []string
	AtOnce    int    // parts that are carried at once
	Groups    [2]int // Groups: the first and the last of them
}

// Loop counts from From to To, downwards where To is the smaller one.
type Loop struct {
	Counter   Counter
	From, To  int
	Backwards Parity // the rows in which it runs from To to From
}

// Index is a number, a counter and a number, or the entry of a list at the count, or so many
// behind it.
type Index struct {
	Counted bool    // Counter and Number are added
	Counter Counter // not Parts
	Number  int
	List    string // the list whose entry it is; "" for none
}

// Box is a block of slots, ends included, from 1; a direction in which it takes
// up all of the loop has Whole set.
type Box struct {
	First, Last [3]int
	Whole       [3]bool
}

// Moved is the box so many rows, columns and layers further on.
func (b Box) Moved(by [3]int) Box {
	for d := range by {
		b.First[d] += by[d]
		b.Last[d] += by[d]
	}
	return b
}
