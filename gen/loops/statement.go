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
	First  Kind = iota + 1 // the first motion, before all entries
	Entry                  // an entry of the plan begins
	Leg                    // a leg of it begins
	Zero                   // the count of parts begins at 0
	For                    // a loop begins
	Next                   // it ends
	Skip                   // slots that a loop passes over
	Count                  // one part more
	List                   // slots, written out in a list
	Store                  // the present slot is put into a list
	Pick                   // a part is taken
	Place                  // it is put down
	Leave                  // the loops end here when enough parts were counted
	Do                     // a step that the plan writes out
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
	Kind  Kind
	Depth int        // in loops
	Place diag.Place // of the plan's entry or step

	Heading Heading   // Entry, Leg
	Loop    Loop      // For, Next
	Box     Box       // Skip
	Label   string    // Skip: the slots as people name them
	Grid    string    // First where there is no start pose, Pick, Place, List, Store
	Layered bool      // whether the grid has several layers
	At      [3]Index  // First, Pick, Place, Store: row, column, layer
	List    string    // Zero, List, Store: the list's name; Zero may have none
	From    int       // List: the place of the first slot in the list, from 1
	Slots   [3][]int  // List: rows, columns, layers, from 1
	Limit   int       // Leave
	Step    move.Move // Do: a set, await, dwell or note
}

// Heading is what is written over the loops of an entry or a leg.
type Heading struct {
	Number    int // of the entry, from 1
	Parts     int
	ByPart    bool
	Leg, Legs int // Leg is from 1 over a leg
	Stops     []string
}

// Loop counts from From to To, downwards where To is the smaller one.
type Loop struct {
	Counter   Counter
	From, To  int
	Backwards Parity // the rows in which it runs from To to From
}

// Index is a number, a counter and a number, or the entry of a list at the count.
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
