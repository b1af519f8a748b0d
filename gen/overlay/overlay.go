// Package overlay says in which slots two layouts differ, for a picture in which one is laid over
// the other. What the moves differ in, gen/compare says.
package overlay

import (
	"fmt"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/plan/wording"
)

// Shift is slots of a grid that differ alike: they are only on one side, or all stand elsewhere by the
// same way.
type Shift struct {
	Grid  string      `json:"grid"`
	Only  string      `json:"only"`         // "a" or "b" for what only that side has; "" for what both have
	By    *[3]float64 `json:"by,omitempty"` // mm in the base, from a to b; nil where each goes its own way, and for what one side has only
	Most  float64     `json:"most"`         // mm: how far at most
	Slots []string    `json:"slots"`        // such as A1, the first of them
	Count int         `json:"count"`
	Text  string      `json:"text"`
}

// What is looked at and kept at most.
const (
	mostLooked = 300_000 // slots
	mostKept   = 2_000   // slots of one shift
	mostWays   = 12      // of one grid; what goes other ways is one shift more
)

// alike is how far two ways may be apart that count as one, in mm: two roundings to the third decimal.
const alike = 0.002

// Slots compares the grids of two layouts by their names, and their slots by their labels, in the
// order of a's grids, then of those that only b has.
func Slots(a, b *layout.Layout) []Shift {
	o := overlay{left: mostLooked}
	for _, g := range a.Grids {
		o.grid(g, named(b, g.Name))
	}
	for _, g := range b.Grids {
		if named(a, g.Name) == nil {
			o.grid(nil, g)
		}
	}
	for i := range o.shifts {
		o.shifts[i].say()
	}
	return o.shifts
}

func named(l *layout.Layout, name string) *layout.Grid {
	for _, g := range l.Grids {
		if g.Name == name {
			return g
		}
	}
	return nil
}

type overlay struct {
	shifts []Shift
	begun  int // the first of the present grid
	left   int // slots that may be looked at still
}

// grid compares a grid with the one of the same name; one of them may be nil.
func (o *overlay) grid(a, b *layout.Grid) {
	o.begun = len(o.shifts)
	if a != nil {
		o.each(a, func(s slot.Slot) {
			switch {
			case b == nil || !b.Has(s):
				o.add(a, s, "a", nil)
			default:
				from, to := a.Frame.Base.Apply(a.At(s)), b.Frame.Base.Apply(b.At(s))
				if way := to.Sub(from); way.Norm() > alike {
					o.add(a, s, "", &way)
				}
			}
		})
	}
	if b != nil {
		o.each(b, func(s slot.Slot) {
			if a == nil || !a.Has(s) {
				o.add(b, s, "b", nil)
			}
		})
	}
}

// each goes through the slots of a grid that are there.
func (o *overlay) each(g *layout.Grid, see func(slot.Slot)) {
	for i := range g.Size() {
		if o.left--; o.left < 0 {
			return
		}
		if s := g.Slot(i); g.Has(s) {
			see(s)
		}
	}
}

// add puts a slot to those that differ alike.
func (o *overlay) add(g *layout.Grid, s slot.Slot, only string, way *geom.Vec) {
	t := o.find(g, only, way)
	if way != nil {
		t.Most = max(t.Most, way.Norm())
	}
	if t.Count++; len(t.Slots) < mostKept {
		t.Slots = append(t.Slots, s.Label(g.Layers > 1))
	}
}

// find is the shift that a slot belongs to.
func (o *overlay) find(g *layout.Grid, only string, way *geom.Vec) *Shift {
	ways := 0
	for i := o.begun; i < len(o.shifts); i++ {
		t := &o.shifts[i]
		if t.Only != only {
			continue
		}
		if ways++; way == nil || t.By == nil || way.Dist(geom.Vec{X: t.By[0], Y: t.By[1], Z: t.By[2]}) <= alike {
			return t
		}
	}
	t := Shift{Grid: g.Name, Only: only}
	if way != nil && ways < mostWays {
		t.By = &[3]float64{way.X, way.Y, way.Z}
	}
	o.shifts = append(o.shifts, t)
	return &o.shifts[len(o.shifts)-1]
}

func (t *Shift) say() {
	slots := wording.Count(t.Count, "slot") + " of " + t.Grid
	if t.Count == 1 {
		slots = t.Grid + " " + t.Slots[0]
	}
	switch {
	case t.Only == "a":
		t.Text = slots + ": only in the first"
	case t.Only == "b":
		t.Text = slots + ": only in the second"
	case t.By == nil:
		t.Text = fmt.Sprintf("%s: moved by up to %.3f mm, each its own way", slots, t.Most)
	default:
		t.Text = fmt.Sprintf("%s: moved by X %+.3f, Y %+.3f, Z %+.3f mm in base coordinates", slots, t.By[0]+0, t.By[1]+0, t.By[2]+0)
	}
}
