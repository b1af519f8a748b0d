package check

import (
	"maps"
	"slices"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// level finds outputs that are written and never change.
var level = Rule{
	Finds: []Find{{
		Name:     "level-never-changes",
		Severity: diag.Warning,
		Doc: `An output is written more than once, and always to the same level: all writes but
the first do nothing. Mostly the other level was forgotten. A gripper whose grip
and release write two different outputs never takes either back. Something that
is switched on once, at the beginning, is no mistake.`,
		Bad: "-  - {from: \"tray A1:A3\", to: \"rack A1:A3\"}\n" +
			"+  - {from: \"tray A1:A3\", to: {grid: \"rack A1:A3\", then: [set: {output: 2, level: on}]}}\n",
		Good: "-  - {from: \"tray A1:A3\", to: \"rack A1:A3\"}\n" +
			"+  - from: \"tray A1:A3\"\n+    to: {grid: \"rack A1:A3\", then: [set: {output: 2, level: on}, dwell: 1, set: {output: 2, level: off}]}\n",
	}},
	Layout: func(c *Context) { c.eachTool(checkGripperLevels) },
	Watch:  func(c *Context) Watcher { return &levelWatcher{c: c, outputs: map[int]*written{}} },
}

func checkGripperLevels(c *Context, t *layout.Tool) {
	if grip, release := t.Grip, t.Release; grip.Output != release.Output {
		c.find("level-never-changes", release.Place, "the tool %q grips with output %d %s and releases with output %d %s, so neither output is ever taken back",
			t.Name, grip.Output, wording.Level(grip.Level), release.Output, wording.Level(release.Level)).
			note(grip.Place, "%q stands here", "grip").
			hint("write the other level of output %d in \"release\"", grip.Output)
	}
}

// written is what became of one output.
type written struct {
	place   diag.Place
	level   bool
	times   int
	changed bool
}

type levelWatcher struct {
	c       *Context
	outputs map[int]*written
}

// Kinds leaves out the gripper, whose levels are in the cell.
func (w *levelWatcher) Kinds() []move.Kind { return []move.Kind{move.Set} }

func (w *levelWatcher) See(m *move.Move, _ *Scene) {
	o := w.outputs[m.Signal]
	if o == nil {
		o = &written{place: m.Place, level: m.Level}
		w.outputs[m.Signal] = o
	}
	o.times++
	o.changed = o.changed || o.level != m.Level
}

func (w *levelWatcher) Done() {
	for _, number := range slices.Sorted(maps.Keys(w.outputs)) {
		if o := w.outputs[number]; o.times > 1 && !o.changed {
			w.c.find("level-never-changes", o.place, "output %d is written %d times and is always %s", number, o.times, wording.Level(o.level)).
				hint("write it %s where its work is done", wording.Level(!o.level))
		}
	}
}
