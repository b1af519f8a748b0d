package check

import (
	"fmt"
	"math"

	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// winding holds the last joint to the turns that hoses and cables bear.
var winding = Rule{
	Finds: []manual.Page{{
		Name:     "wound-up",
		Severity: diag.Error,
		Doc: `The last joint that turns is turned farther from where the job begins than the cell allows ("winding" of the arm): hoses and cables at
the tool would be wound up. Every job begins at the same readings, so a job that is repeated winds up no farther, as
long as the program gives the joints' readings.`,
		Do: `Turn the grid, or the parts in it, so that the tool need not turn as far, or let the job
begin with the joint turned the other way.`,
		Bad:  anArm() + turnedRack + wound("90"),
		Good: anArm() + turnedRack + wound("350"),
	}, {
		Name:     "may-wind-up",
		Severity: diag.Warning,
		Doc: `A program of poses alone leaves it to the controller on which turn the last joint comes to each of them, and on some turns that
the controller may choose the joint is turned farther than the cell allows ("winding" of the arm): it takes the
shorter turn to every pose, run after run of the job, so that a job that ends whole turns from where it began winds up with
every run; or it takes the turn nearest to 0 at the end of every travel. A program that gives the joints' readings
leaves nothing open.`,
		Do: `Choose a family that gives the joints' readings, or turn the grid, or the parts in it, so
that the tool need not turn as far.`,
		Bad:  anArm("[-350, 350]", "[-900, 900]") + wound("400") + turnedOn("120", "240"),
		Good: anArm("[-350, 350]", "[-900, 900]") + wound("400") + turnedOn("120", "60"),
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

// turnedOn turns the tool twice before the end of the job.
func turnedOn(first, second string) manual.Example {
	return manual.Example("-    clear: {at: [330, 0, 300]}\n+    clear: {at: [330, 0, 300]}\n" +
		"+    first: {at: [330, 0, 300], rpy: [180, 0, " + first + "]}\n+    second: {at: [330, 0, 300], rpy: [180, 0, " + second + "]}\n" +
		"-  fly_by: 10\n+  fly_by: 0\n-transfers:\n+end: [{go: first}, {go: second}, {go: clear}]\n+transfers:\n")
}

// turnedRack has the tool turn by half a turn on the way to the rack.
const turnedRack = `-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, rpy: [180, 0, 180]}
`

func wound(winding string) manual.Example {
	return manual.Example("-    flange: {at: [480, 0, 660], rpy: [0, 90, 0]}\n+    flange: {at: [480, 0, 660], rpy: [0, 90, 0]}\n+    winding: " + winding + "\n")
}

type windingWatcher struct {
	motions
	c     *Context
	joint int
	began bool
	first float64 // the reading with which the job begins
	found bool    // the list itself winds up

	shorter []run // by controllers that take the shorter turn: of each turn on which a run may begin, the lowest first
	nearest run   // by one that takes the turn nearest to 0
}

// run is one run of the job by a controller that chooses the turns of the joint itself.
type run struct {
	from float64   // whence it counts how far the joint is turned
	at   float64   // where that is
	over move.Move // the first motion that turns it too far, as far as a finding asks for it
	far  float64   // how far that is; 0 for none
}

// mostRuns is how many turns are reckoned with on which a run may begin: 64 are more than any hose bears.
const mostRuns = 64

func (w *windingWatcher) See(m *move.Move, _ *Scene) {
	if m.Joints == nil {
		return
	}
	at, a := m.Joints[w.joint], w.c.Layout.Arm
	if !w.began {
		w.begin(at)
	}
	if turned := at - w.first; math.Abs(turned) > a.Winding {
		w.found = true
		w.c.find("wound-up", m.Place, "%sat %q the joint %s is turned by %.1f° from where the job begins; %g° are allowed", during(m), m.Target, a.Joints[w.joint].Name, turned, a.Winding).
			note(a.Place, "the arm is given here").
			hint("turn the grid, or the parts in it, so that the tool need not turn as far; or let the job begin with the joint turned the other way (\"joints\" of the start pose)")
	}
	for i := range w.shorter {
		w.goOn(&w.shorter[i], m, w.shorter[i].at)
	}
	near := w.nearest.at
	if m.Kind == move.Travel {
		near = 0
	}
	w.goOn(&w.nearest, m, near)
}

func (w *windingWatcher) begin(at float64) {
	w.began, w.first = true, at
	j := &w.c.Layout.Arm.Joints[w.joint]
	lowest, count := j.Within(at)
	for k := range min(count, mostRuns) {
		w.shorter = append(w.shorter, run{from: at, at: lowest + float64(360*k)})
	}
	w.nearest.from, _ = j.Nearest(at, 0)
	w.nearest.at = w.nearest.from
}

// goOn takes the joint to the end of a motion, on the turn nearest to a reading.
func (w *windingWatcher) goOn(r *run, m *move.Move, near float64) {
	r.at, _ = w.c.Layout.Arm.Joints[w.joint].Nearest(m.Joints[w.joint], near)
	if turned := r.at - r.from; r.far == 0 && math.Abs(turned) > w.c.Layout.Arm.Winding {
		r.far = turned
		r.over.Transfer, r.over.Target, r.over.Place = m.Transfer, m.Target, m.Place
	}
}

// Done goes from run to run.
func (w *windingWatcher) Done() {
	if !w.began || w.found {
		return
	}
	j := &w.c.Layout.Arm.Joints[w.joint]
	lowest, _ := j.Within(w.first)
	at := w.first
	for n := range w.shorter {
		k := int(math.Round((at - lowest) / 360))
		if k < 0 || k >= len(w.shorter) {
			break // outside of the range, which is found as that
		}
		r := &w.shorter[k]
		if r.far != 0 {
			w.mayWind(r, fmt.Sprintf("takes the shorter turn to each, in run %d of the job", n+1))
			return
		}
		at, _ = j.Nearest(w.first, r.at)
	}
	if w.nearest.far != 0 {
		w.mayWind(&w.nearest, "takes the turn nearest to 0 with every travel")
	}
}

func (w *windingWatcher) mayWind(r *run, how string) {
	m, a := &r.over, w.c.Layout.Arm
	w.c.find("may-wind-up", m.Place, "%sat %q the joint %s is turned by %.1f° from where it began, if the controller gets poses alone and %s; %g° are allowed", during(m), m.Target, a.Joints[w.joint].Name, r.far, how, a.Winding).
		note(a.Place, "the arm is given here").
		hint("give the program the joints' readings, if its family has words for them; or let the job turn the tool back the way that it came")
}
