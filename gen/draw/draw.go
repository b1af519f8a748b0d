package draw

import (
	"fmt"
	"io"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// Options say what a picture shows. The zero value is the whole cell with
// all transfers, the parts as they stand at the start.
type Options struct {
	Transfer int    // show the path of this transfer alone, from 1; 0 shows all
	Grid     string // show this grid alone, as large as it goes; "" shows the cell
	// After is how many transfers have been made, for what stands where. With
	// Transfer, 0 means: when that transfer begins.
	After  int
	Title  string  // of the run that is shown; "" is the plan's
	Run    string  // of a prove-out, its speed and lift in words; "" for any other run
	Empty  bool    // the run carries no part
	From   int     // of a resumed job, the transfer that comes first; 0 is the whole job
	NoPath bool    // leave the path out
	Stands []Stand // how the arm stands; see StandsIn
	Scheme Scheme
	// ID begins every id of the picture, so that several can stand in one page;
	// "" is "picture".
	ID string
	// Inline leaves out the XML declaration, which HTML does not allow.
	Inline bool
}

// Scheme is light on dark or dark on light.
type Scheme uint8

const (
	Auto  Scheme = iota // as the reader's screen is set; light on paper
	Light               // dark lines on white
	Dark                // light lines on black
)

// SVG writes the picture of a layout that was resolved without an error. It
// makes one pass over the moves and keeps none of them. The error is that of
// [Options.Validate], or one of w.
func SVG(w io.Writer, l *layout.Layout, moves move.Seq, o Options) error {
	if err := o.Validate(l); err != nil {
		return err
	}
	return compose(observe(l, moves, o)).writeTo(w)
}

var goodID = lazy.Regexp(`^[A-Za-z][A-Za-z0-9_-]*$`)

// Validate returns an error for a grid that the plan does not have, or a transfer
// beyond its last one.
func (o Options) Validate(l *layout.Layout) error {
	total := l.Transfers()
	switch {
	case o.Transfer < 0 || o.Transfer > total:
		return fmt.Errorf("there is no transfer %d: the plan makes %d, counted from 1", o.Transfer, total)
	case o.After < 0 || o.After > total:
		return fmt.Errorf("nothing stands after %d transfers: the plan makes %d", o.After, total)
	case o.ID != "" && !goodID().MatchString(o.ID):
		return fmt.Errorf("%q begins no id, wanted a letter, then letters, digits, \"-\" and \"_\"", o.ID)
	case o.Grid == "" || hasGrid(l, o.Grid):
		return nil
	}
	return unknownGrid(l, o.Grid)
}

func hasGrid(l *layout.Layout, name string) bool {
	for _, g := range l.Grids {
		if g.Name == name {
			return true
		}
	}
	return false
}

func unknownGrid(l *layout.Layout, name string) error {
	var known []string
	for _, g := range l.Grids {
		known = append(known, g.Name)
	}
	if near := diag.Nearest(name, known); near != "" {
		return fmt.Errorf("there is no grid %q: did you mean %q?", name, near)
	}
	return fmt.Errorf("there is no grid %q", name)
}

// id is the picture's own id, or one that begins with it.
func (o Options) id(of string) string {
	id := o.ID
	if id == "" {
		id = "picture"
	}
	if of != "" {
		id += "-" + of
	}
	return id
}
