package check

import (
	"math"

	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// winding holds the last joint to the turns that hoses and cables bear.
var winding = Rule{
	Finds: []Find{{
		Name:     "wound-up",
		Severity: diag.Error,
		Doc: `The last joint that turns is turned farther from where the job begins than the cell allows ("winding" of the arm): hoses and cables at
the tool would be wound up. Every job begins at the same readings, so a job that is repeated winds up no farther, as
long as the program gives the joints' readings; a controller that gets poses alone takes the short way to the
first of them, and a job that ends whole turns from where it began then winds up with every run.`,
		Bad:  anArm() + turnedRack + wound("90"),
		Good: anArm() + turnedRack + wound("350"),
	}},
	Watch: func(c *Context) Watcher {
		a := c.Layout.Arm
		if a == nil || a.Winding == 0 {
			return nil
		}
		w := &windingWatcher{c: c}
		for i := range a.Joints {
			if !a.Joints[i].Slides {
				w.joint = i
			}
		}
		return w
	},
}

// turnedRack has the tool turn by half a turn on the way to the rack.
const turnedRack = `-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, rpy: [180, 0, 180]}
`

func wound(winding string) Example {
	return Example("-    flange: {at: [480, 0, 660], rpy: [0, 90, 0]}\n+    flange: {at: [480, 0, 660], rpy: [0, 90, 0]}\n+    winding: " + winding + "\n")
}

type windingWatcher struct {
	still
	motions
	c     *Context
	joint int
	began bool
	first float64 // the reading with which the job begins
}

func (w *windingWatcher) See(m *move.Move, _ *Scene) {
	if m.Joints == nil {
		return
	}
	at := m.Joints[w.joint]
	if !w.began {
		w.began, w.first = true, at
	}
	if turned := at - w.first; math.Abs(turned) > w.c.Layout.Arm.Winding {
		w.c.find("wound-up", m.Place, "%sat %q the joint %s is turned by %.1f° from where the job begins; %g° are allowed", during(m), m.Target, w.c.Layout.Arm.Joints[w.joint].Name, turned, w.c.Layout.Arm.Winding).
			note(w.c.Layout.Arm.Place, "the arm is given here").
			hint("turn the grid, or the parts in it, so that the tool need not turn as far; or let the job begin with the joint turned the other way (\"joints\" of the start pose)")
	}
}
