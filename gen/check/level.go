package check

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// level finds outputs that are written and never change.
var level = Rule{
	Finds: []manual.Page{{
		Name:     "level-never-changes",
		Severity: diag.Warning,
		Doc: `An output is written more than once, and always to the same level: all writes but
the first do nothing. Mostly the other level was forgotten. An output that
a gripper's grip writes has to get the other level in release, and the other way
round: otherwise it is never taken back. Something that is switched on once, at
the beginning, is no mistake.`,
		Do: `Write the other level in one of the steps, or take the step out that changes nothing.`,
		Bad: "-  - {from: \"tray A1:A3\", to: \"rack A1:A3\"}\n" +
			"+  - {from: \"tray A1:A3\", to: {grid: \"rack A1:A3\", then: [set: {output: 2, level: on}]}}\n",
		Good: "-  - {from: \"tray A1:A3\", to: \"rack A1:A3\"}\n" +
			"+  - from: \"tray A1:A3\"\n+    to: {grid: \"rack A1:A3\", then: [set: {output: 2, level: on}, dwell: 1, set: {output: 2, level: off}]}\n",
	}},
	Layout: func(c *Context) { c.eachTool(checkGripperLevels) },
	Watch:  func(c *Context) Watcher { return &levelWatcher{c: c, outputs: map[int]*written{}} },
}

func checkGripperLevels(c *Context, t *layout.Tool) {
	if neverMoves(t) {
		return // which is said already
	}
	grip, release := lasting(&t.Grip, &t.Release), lasting(&t.Release, &t.Grip)
	release = slices.DeleteFunc(release, func(s layout.Set) bool { // what both write is said once
		return slices.ContainsFunc(grip, func(g layout.Set) bool { return g.Output == s.Output })
	})
	if all := slices.Concat(grip, release); len(all) > 0 {
		c.find("level-never-changes", all[0].Place, "the tool %q never takes back %s", t.Name, outputWords(all)).
			hint("%s", takeBack(grip, release))
	}
}

// lasting is what one action writes and the other does not take back.
func lasting(a, other *layout.Action) []layout.Set {
	return slices.DeleteFunc(slices.Clone(a.Sets), func(s layout.Set) bool {
		return slices.ContainsFunc(other.Sets, func(o layout.Set) bool { return o.Output == s.Output && o.Level != s.Level })
	})
}

// takeBack is what to write in grip and release.
func takeBack(grip, release []layout.Set) string {
	back := func(sets []layout.Set) []string {
		var pairs []string
		for _, s := range sets {
			pairs = append(pairs, fmt.Sprintf("%d: %s", s.Output, wording.Level(!s.Level)))
		}
		return pairs
	}
	var words []string
	for _, to := range []struct {
		action string
		pairs  []string
	}{{"release", back(grip)}, {"grip", back(release)}} {
		if len(to.pairs) > 0 {
			words = append(words, fmt.Sprintf("\"set: {…, %s}\" in %q takes it back", strings.Join(to.pairs, ", "), to.action))
		}
	}
	return strings.Join(words, ", ")
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

func (w *levelWatcher) Kinds() []move.Kind { return []move.Kind{move.Set} }

// See leaves out the gripper, whose levels are in the cell.
func (w *levelWatcher) See(m *move.Move, _ *Scene) {
	if !m.Role.Wanted() {
		return
	}
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
