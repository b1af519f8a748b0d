package check

import (
	"strings"

	"gridferry/gen/arm"
	"gridferry/gen/joints"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// anArm gives the example plan an arm of invented dimensions; changes are pairs of what stands in it and what stands there instead.
func anArm(changes ...string) manual.Example {
	text := `-  name: example bench
+  name: example bench
+  arm:
+    joints:
+      - {name: J1, axis: [0, 0, 1], point: [0, 0, 0],      range: [-170, 170]}
+      - {name: J2, axis: [0, 1, 0], point: [60, 0, 300],   range: [-100, 130]}
+      - {name: J3, axis: [0, 1, 0], point: [60, 0, 620],   range: [-200, 70]}
+      - {name: J4, axis: [1, 0, 0], point: [60, 0, 660],   range: [-185, 185]}
+      - {name: J5, axis: [0, 1, 0], point: [400, 0, 660],  range: [-120, 120]}
+      - {name: J6, axis: [1, 0, 0], point: [400, 0, 660],  range: [-350, 350]}
+    flange: {at: [480, 0, 660], rpy: [0, 90, 0]}
`
	for i := 0; i < len(changes); i += 2 {
		text = strings.ReplaceAll(text, changes[i], changes[i+1])
	}
	return manual.Example(text)
}

// linked is the same arm with the room that its upper and lower arm fill.
var linked = anArm() + `-    flange: {at: [480, 0, 660], rpy: [0, 90, 0]}
+    flange: {at: [480, 0, 660], rpy: [0, 90, 0]}
+    links:
+      J2: [{capsule: {from: [60, 0, 300], to: [60, 0, 620], radius: 50}}]
+      J3: [{capsule: {from: [60, 0, 660], to: [330, 0, 660], radius: 40}}]
`

// fourAxes gives it an arm of which no axis is level.
const fourAxes manual.Example = `-  name: example bench
+  name: example bench
+  arm:
+    joints:
+      - {name: J1, axis: [0, 0, 1], point: [0, 0, 0],   range: [-170, 170]}
+      - {name: J2, axis: [0, 0, 1], point: [260, 0, 0], range: [-150, 150]}
+      - {name: J3, slides: [0, 0, 1],                  range: [-400, 100]}
+      - {name: J4, axis: [0, 0, 1], point: [500, 0, 0], range: [-350, 350]}
+    flange: {at: [500, 0, 500], rpy: [180, 0, 0]}
`

// joint holds the ends of all motions to the arm's joints.
var joint = Rule{
	Finds: []manual.Page{{
		Name:     "arm-out-of-reach",
		Severity: diag.Error,
		Doc: `The arm does not get to a pose at the end of a motion, whatever its joints do: it is too far away, too near, or
turned in a way in which the arm cannot turn.`,
		Do: `Move the frame or the grid; "gridferry arm PLAN --reach GRID" shows which slots the arm
gets to.`,
		Bad:  anArm() + "-    clear: {at: [330, 0, 300]}\n+    clear: {at: [560, 0, 600]}\n",
		Good: anArm() + "-    clear: {at: [330, 0, 300]}\n+    clear: {at: [400, 0, 560]}\n",
	}, {
		Name:     "arm-cannot-turn",
		Severity: diag.Error,
		Doc: `The arm has too few joints to turn the tool as a pose asks, by more than 0.2 degrees; up to that, which a measured frame
may be off level, it holds the tool as nearly as it can, with the TCP in its place.`,
		Do: `Level the frame, or turn the grid or the pose so that the tool stands as this arm can
hold it.`,
		Bad:  fourAxes + "-    clear: {at: [330, 0, 300]}\n+    clear: {at: [330, 0, 300], rpy: [178, 0, 0]}\n",
		Good: fourAxes + "-    clear: {at: [330, 0, 300]}\n+    clear: {at: [330, 0, 300], rpy: [179.9, 0, 0]}\n",
	}, {
		Name:     "joint-out-of-range",
		Severity: diag.Error,
		Doc: `The arm could get to a pose, but one of its joints would have to leave its range. The message names the joint
of the way that leaves the ranges least.`,
		Do: `Move or turn the frame, or the tool there; "gridferry arm PLAN --reach GRID" shows which
slots the arm gets to.`,
		Bad:  anArm("[-200, 70]", "[-40, 50]"),
		Good: anArm("[-200, 70]", "[-40, 70]"),
	}, {
		Name:     "configuration-not-possible",
		Severity: diag.Error,
		Doc: `The arm gets to a pose only in another configuration than the one in which it has to: because the plan asks
for that one, or because a straight line leads there, along which it cannot change.`,
		Do:   `Leave the configuration out, and one that serves is chosen; or ask for another one.`,
		Bad:  anArm() + "-  clear: clear\n+  clear: clear\n+  configuration: back up up\n",
		Good: anArm() + "-  clear: clear\n+  clear: clear\n+  configuration: front up up\n",
	}, {
		Name:     "configuration-changes",
		Severity: diag.Warning,
		Doc: `On a travel the arm changes from one configuration to another one, because none serves for all that it has to do: it may swing wide. Whether
the way is free is not looked at.`,
		Do:   `Ask for one with "configuration" in "motion" to see what stands in its way, and move that.`,
		Bad:  anArm("[-170, 170]", "[-30, 170]"),
		Good: anArm("[-170, 170]", "[-50, 170]"),
	}},
	Watch: func(c *Context) Watcher {
		if c.Layout.Arm == nil {
			return nil
		}
		return &jointWatcher{c: c, asker: joints.NewAsker(c.Layout), found: map[move.Target]bool{}}
	},
}

type jointWatcher struct {
	still
	motions
	c     *Context
	asker joints.Asker
	found map[move.Target]bool // at which something was found: a slot and the point above it are one
	last  arm.Configuration    // of the last motion that has one
	any   bool
}

func (w *jointWatcher) See(m *move.Move, _ *Scene) {
	if m.Joints == nil {
		w.without(m)
		return
	}
	if w.any && w.last != m.Configuration {
		w.changes(m)
	}
	w.last, w.any = m.Configuration, true
}

// without finds why a motion has no readings. What was found at a slot is not said again of the
// point above it.
func (w *jointWatcher) without(m *move.Move) {
	if w.found[m.Target.Below()] {
		return
	}
	w.found[m.Target.Below()] = true
	why, asked := w.asker.Why(m), w.c.Layout.FiguresOf(m)
	switch {
	case why.Tilt > joints.MostTilt:
		w.c.find("arm-cannot-turn", m.Place, "%sthe arm cannot turn as %q asks: the nearest that it can is %.2f degrees off; it turns its flange %s", during(m), m.Target, why.Tilt, w.c.Layout.Arm.Turns()).
			note(w.c.Layout.Arm.Place, "the arm is given here").
			hint("level the frame, or turn the grid or the pose so that the tool stands as this arm can hold it")
	case why.Solutions == 0:
		w.c.find("arm-out-of-reach", m.Place, "%sthe arm does not get to %q, whatever its joints do", during(m), m.Target).
			note(w.c.Layout.Arm.Place, "the arm is given here").
			hint("move the frame nearer to the arm, or turn the tool there; \"gridferry arm PLAN --reach GRID\" shows which slots it gets to")
	case len(why.Others) == 0:
		w.c.find("joint-out-of-range", m.Place, "%sat %q the joint %s would have to go to %.1f%s, %.1f%s beyond its range of %g to %g",
			during(m), m.Target, why.Joint.Name, why.Reading, why.Joint.Unit(), why.Beyond, why.Joint.Unit(), why.Joint.Lo, why.Joint.Hi).
			note(w.c.Layout.Arm.Place, "the arm is given here").
			hint("move or turn the frame, or the tool there; \"gridferry arm PLAN --reach GRID\" shows which slots the arm gets to")
	case !asked.ConfigurationPlace.IsZero():
		w.c.find("configuration-not-possible", asked.ConfigurationPlace, "%sthe arm does not get to %q as %q, only as %s", during(m), m.Target, asked.Configuration, wording.List(why.Others, 8)).
			hint("leave the configuration out, and one that serves is chosen")
	default:
		w.c.find("configuration-not-possible", m.Place, "%son the straight line to %q the arm would have to change to the configuration %s", during(m), m.Target, wording.List(why.Others, 8)).
			hint("move the grid or its approach point to where one configuration serves for both ends; \"gridferry arm PLAN --reach GRID\" shows where that is")
	}
}

// changes finds where the configuration changes. It is chosen so that this is on a travel, but in a prove-out
// a family may get a straight line in its place.
func (w *jointWatcher) changes(m *move.Move) {
	if m.Kind == move.Straight {
		w.c.find("configuration-not-possible", m.Place, "%son the straight line to %q the arm would have to change from %q to %q", during(m), m.Target, w.last, m.Configuration).
			hint("choose a family that keeps travels in a prove-out, or poses that one configuration serves")
		return
	}
	w.c.find("configuration-changes", m.Place, "%son the way to %q the arm changes from %q to %q", during(m), m.Target, w.last, m.Configuration).
		hint("no configuration serves for all before and behind; ask for one with \"configuration\" in \"motion\" to see what stands in its way")
}
