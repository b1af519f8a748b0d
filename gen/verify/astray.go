package verify

import (
	"cmp"
	"fmt"

	"gridferry/gen/family/reads"
	"gridferry/gen/move"
	"gridferry/gen/readback"
	"gridferry/plan/wording"
)

// Astray is what a selection that is missing, or that says something else, does to the
// points behind it: their lines are as they should be, and are obeyed with another
// frame or tool.
type Astray struct {
	What       string // "frame" or "tool"
	Takes, Not string // the one that holds, "" for none, and the one that is meant, of the first point
	Points     int
	Last       int // move
}

// astray follows which frame and which tool hold in the program, and finds the points
// that are meant in another one. Motions that name theirs themselves are compared in that.
type astray struct {
	tables *readback.Tables
	held   [2]float64 // frame and tool; 0 before the first selection
	fields []reads.Field
	named  [move.NumKinds]reads.FieldSet // that lines of a kind say themselves
	cause  *Difference
}

func newAstray(modal *reads.Modal, base bool) astray {
	a := astray{}
	for _, kind := range move.Kinds {
		a.named[kind] = modal.ComparedOf(kind)
	}
	for _, f := range []reads.Field{reads.Frame, reads.Tool} {
		if a.named[move.Select].Has(f) && !(base && f == reads.Frame) {
			a.fields = append(a.fields, f)
		}
	}
	return a
}

// follow takes the next pair, before it is compared.
func (a *astray) follow(given, wanted *node) {
	if given.isSelect() {
		for i, f := range a.fields {
			if given.item.Has.Has(f) {
				a.held[i] = given.item.Number[f]
			}
		}
	}
	if a.cause == nil || given == nil || wanted == nil || wanted.want == nil || !given.item.IsMove() || !wanted.want.Kind.IsMotion() {
		return
	}
	for i, f := range a.fields {
		meant := float64(wanted.want.FrameNumber)
		if f == reads.Tool {
			meant = float64(wanted.want.ToolNumber)
		}
		if !a.named[wanted.want.Kind].Has(f) && a.held[i] != meant {
			a.cause.strays(f.Words(), a.tables.Name(f, a.held[i]), a.tables.Name(f, meant), wanted.want.N)
		}
	}
}

// isSelect reports whether a line, if there is one, selects something.
func (n *node) isSelect() bool { return n != nil && n.item.IsMove() && n.item.Kind == move.Select }

// hold remembers the last difference of a selection: it is to blame.
func (a *astray) hold(given, wanted *node, d *Difference) {
	if d != nil && (given.isSelect() || wanted.isSelect()) {
		a.cause = d
	}
}

// strays counts one point more.
func (d *Difference) strays(what, takes, not string, n int) {
	for i := range d.Astray {
		if s := &d.Astray[i]; s.What == what {
			s.Points, s.Last = s.Points+1, n
			return
		}
	}
	d.Astray = append(d.Astray, Astray{what, takes, not, 1, n})
}

// String is what it does, in words.
func (s *Astray) String() string {
	is := "are taken"
	if s.Points == 1 {
		is = "is taken"
	}
	return fmt.Sprintf("so %s behind it, up to move %d, %s with %s %s instead of %s: the arm goes elsewhere",
		wording.Count(s.Points, "point"), s.Last, is, s.What, cmp.Or(s.Takes, "unknown"), s.Not)
}
