package check

import (
	"slices"
	"strings"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// gripperOutput finds a gripper that cannot work.
var gripperOutput = Rule{
	Finds: []manual.Page{{
		Name:     "gripper-never-moves",
		Severity: diag.Error,
		Doc:      `Grip and release write the same levels to the same outputs, and pulse the same ones, so the gripper never moves.`,
		Do:       `Give "grip" and "release" different levels.`,
		Bad:      "-      release: {output: 1, level: off, settle: 0.3}\n+      release: {output: 1, level: on, settle: 0.3}\n",
		Good:     "",
	}, {
		Name:     "output-set-and-pulsed",
		Severity: diag.Error,
		Doc: `The gripper gives an output a level and pulses it as well. Behind a pulse the output is
off, whatever level it was given: which of the two is meant, nobody can say.`,
		Do: `Keep one of the two: a level for a valve that holds by itself, a pulse for one that
remembers.`,
		Bad:  "-      release: {output: 1, level: off, settle: 0.3}\n+      release: {set: {1: off}, pulse: {1: 0.2}, settle: 0.3}\n",
		Good: "-      release: {output: 1, level: off, settle: 0.3}\n+      release: {set: {1: off}, pulse: {2: 0.2}, settle: 0.3}\n",
	}},
	Layout: func(c *Context) { c.eachTool(checkGripperOutput); c.eachTool(checkPulses) },
}

func checkGripperOutput(c *Context, t *layout.Tool) {
	if neverMoves(t) {
		c.find("gripper-never-moves", t.Release.Place, "%q and %q of the tool %q both write %s", "grip", "release", t.Name, outputWords(t.Grip.Sets)).
			note(t.Grip.Place, "%q stands here", "grip").
			hint("one of the two needs the other level")
	}
}

// neverMoves reports whether grip and release do the same. The order of outputs makes
// no difference, nor how long a pulse is.
func neverMoves(t *layout.Tool) bool {
	return sameItems(t.Grip.Sets, t.Release.Sets, func(a, b layout.Set) bool { return a.Output == b.Output && a.Level == b.Level }) &&
		sameItems(t.Grip.Pulses, t.Release.Pulses, func(a, b layout.Pulse) bool { return a.Output == b.Output })
}

// sameItems reports whether each item of either list is in the other; none is there twice.
func sameItems[T any](a, b []T, same func(a, b T) bool) bool {
	in := func(x T) bool { return slices.ContainsFunc(b, func(y T) bool { return same(x, y) }) }
	return len(a) == len(b) && !slices.ContainsFunc(a, func(x T) bool { return !in(x) })
}

// outputWords is outputs with their levels: "output 1 on, output 2 off".
func outputWords(sets []layout.Set) string {
	words := make([]string, len(sets))
	for i, s := range sets {
		words[i] = s.String()
	}
	return strings.Join(words, ", ")
}

func checkPulses(c *Context, t *layout.Tool) {
	sets := slices.Concat(t.Grip.Sets, t.Release.Sets)
	for _, p := range slices.Concat(t.Grip.Pulses, t.Release.Pulses) {
		if i := slices.IndexFunc(sets, func(s layout.Set) bool { return s.Output == p.Output }); i >= 0 {
			c.find("output-set-and-pulsed", p.Place, "the tool %q pulses output %d and gives it a level as well", t.Name, p.Output).
				note(sets[i].Place, "it gets a level here").
				hint("give the output a level in \"grip\" and the other one in \"release\", or pulse it")
		}
	}
}
