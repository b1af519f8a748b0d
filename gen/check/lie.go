package check

import (
	"fmt"
	"math"
	"strconv"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/gen/solid"
	"gridferry/plan/diag"
)

// lie looks at how parts come to lie where they are put down.
var lie = Rule{
	Finds: []manual.Page{{
		Name:     "part-turned",
		Severity: diag.Warning,
		Doc: `A part is put down turned otherwise than its slot says, by half a degree or more. From
pick to place a part keeps the pose that it has in the gripper: where the tool is turned
otherwise against the one slot than against the other ("rpy" of the two grids), the part
turns with it. All checks and pictures have it as it really lies. Turns that make no
difference to the part ("symmetry") count for nothing; and where the part hits another
one, does not fit or is over an edge, that is reported instead.`,
		Do: `Turn the tool alike against both slots, with "rpy" or "turned"; if the turn makes no
difference to the part, say so with its "symmetry".`,
		Bad: "-  block: {mass: 0.15, size: [30, 30, 30]}\n+  block: {mass: 0.15, size: [30, 30, 30], symmetry: none}\n" +
			rackOf("[50, 60]", ", rpy: [180, 0, 90]"),
		Good: rackOf("[50, 60]", ", rpy: [180, 0, 90]"),
	}, {
		Name:     "part-does-not-fit",
		Severity: diag.Error,
		Doc: `A part that is put down turned reaches into the room of a slot beside it, whether a part
lies there as the slot says or turned alike, and be it there or not: it does not fit its
slot. On a "pallet", where nothing is between the slots, only parts that stand there count
("part-hits-part").`,
		Do:   `Turn the tool alike against both slots, or set the slots farther apart.`,
		Bad:  onlyOne + rackOf("[24, 60]", ", rpy: [180, 0, 90]"),
		Good: onlyOne + rackOf("[24, 60]", ""),
	}},
	Watch: func(c *Context) Watcher { return &lieWatcher{c: c, entries: map[diag.Place]*turnedParts{}} },
}

// rackOf is the example plan with a rack of that pitch, and onlyOne with a narrow block
// of which one goes there.
func rackOf(pitch, more string) manual.Example {
	return manual.Example(`-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
+  rack: {frame: right, rows: 2, columns: 3, pitch: ` + pitch + `, first: [30, 30, 15], part: block` + more + `}
`)
}

const onlyOne = manual.Example(`-  block: {mass: 0.15, size: [30, 30, 30]}
+  block: {mass: 0.15, size: [20, 30, 30]}
-  - {from: "tray A1:A3", to: "rack A1:A3"}
+  - {from: "tray A1", to: "rack A1"}
`)

// lieWatcher keeps what it finds to the end: which parts only lie turned, and do no
// harm, is known then.
type lieWatcher struct {
	c       *Context
	turned  []*turnedParts
	entries map[diag.Place]*turnedParts
}

// turnedParts are those of one entry that lie turned.
type turnedParts struct {
	place    diag.Place
	count    int
	transfer int    // the first one's
	its      string // its part
	at       move.Target
	by       float64
}

// leastTurn is how far a part may lie turned without a word, degrees: slots and grippers
// set it straight. Common practice, no source.
const leastTurn = 0.5

func (w *lieWatcher) Kinds() []move.Kind { return []move.Kind{move.Release} }

func (w *lieWatcher) See(m *move.Move, s *Scene) {
	if s.Grid == nil {
		return
	}
	lie := s.lie(m)
	if lie == nil || lie.Turned() < leastTurn || w.slants(m, s) {
		return
	}
	if at, depth := s.Grid.beside(m.Target.Slot, lie); depth > touch {
		w.c.harm[m.Place] = true
		w.c.find("part-does-not-fit", m.Place, "transfer %d puts %s into %q turned by %s, and so %.1f mm into the slot %q",
			m.Transfer, its(m), m.Target, degrees(lie.Turned()), depth, s.Grid.Grid.Label(at)).
			hint("%s", turnAdvice)
	}
	e, _ := w.c.Layout.EntryOf(m.Transfer) // the lines of a worklist are one entry
	t := w.entries[e.Place]
	if t == nil {
		t = &turnedParts{m.Place, 0, m.Transfer, its(m), m.Target, lie.Turned()}
		w.entries[e.Place], w.turned = t, append(w.turned, t)
	}
	t.count++
}

// slants reports whether the tool goes in slanting where the part comes from, or where it
// goes to: that was said, and is why it lies turned.
func (w *lieWatcher) slants(m *move.Move, s *Scene) bool {
	l, from := w.c.Layout, s.byName[s.Gripper.From.Grid].Grid
	e, _ := l.EntryOf(m.Transfer)
	return slants(s.Grid.Grid, l.FiguresOf(m)) || slants(from, l.Figures(e, from))
}

func (w *lieWatcher) Done() {
	for _, t := range w.turned {
		if !w.c.harm[t.place] {
			more := ""
			if t.count > 1 {
				more = fmt.Sprintf(", and %d more like this", t.count-1)
			}
			w.c.find("part-turned", t.place, "transfer %d puts %s into %q turned by %s%s", t.transfer, t.its, t.at, degrees(t.by), more).
				hint("%s; if the turn makes no difference to the part, say so with \"symmetry\"", turnAdvice)
		}
	}
}

const turnAdvice = "turn the tool alike against both slots: \"rpy\" of the grids, or of their frames where the part is meant to lie so"

// degrees is an angle for people.
func degrees(angle float64) string {
	return strconv.FormatFloat(math.Round(angle*10)/10, 'f', -1, 64) + "°"
}

// lie is how the part in the gripper comes to lie where the move lets go of it; nil for
// as its slot says.
func (s *Scene) lie(m *move.Move) *layout.Lie {
	return s.Grid.lies.Way(s.Lies(m.Target.Slot, &s.From))
}

// beside is the slot beside one, and how deep a part that lies so reaches into a part
// there, were it to lie as the slot says or likewise, whichever leaves more room.
func (s *Standing) beside(at slot.Slot, lie *layout.Lie) (worst slot.Slot, depth float64) {
	g := s.Grid
	if g.Part == nil || g.Source.Pallet != nil { // a stack of boxes has one
		return worst, 0
	}
	box := lie.Part.Solid(g.Pose(at, lie.Part, lie))
	for row := at.Row - 1; row <= at.Row+1; row++ {
		for col := at.Col - 1; col <= at.Col+1; col++ {
			next := slot.Slot{Row: row, Col: col, Layer: at.Layer}
			if next == at || row < 0 || col < 0 || !g.Has(next) {
				continue
			}
			room, alike := g.Part.Solid(g.Pose(next, g.Part, nil)), lie.Part.Solid(g.Pose(next, lie.Part, lie))
			if deep := min(solid.DepthOver(&box, &room, touch), solid.DepthOver(&box, &alike, touch)); deep > max(touch, depth) {
				worst, depth = next, deep
			}
		}
	}
	return worst, depth
}
