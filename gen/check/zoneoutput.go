package check

import (
	"slices"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// zoneOutput looks at outputs that work several zones of a tool.
var zoneOutput = Rule{
	Finds: []manual.Page{{
		Name:     "zones-share-output",
		Severity: diag.Error,
		Doc: `One output works several zones of a tool, and they do not always work together: the
part in the one falls when the other lets go, or the one takes whatever is beneath it when the
other takes a part. Zones may share an output (such as that of one vacuum valve for all
cups) where they write it alike, and all of them go down at once, each to its own slot, to take and to put down. Then
the number of parts has to be a multiple of their number: a smaller last group leaves zones without one.`,
		Do:   `Give each zone an output of its own, or let all zones on it work in one descent.`,
		Bad:  oneValve("A1:A3"),
		Good: oneValve("A1:A2"),
	}},
	Watch: func(c *Context) Watcher {
		shared := map[*layout.Tool][]shared{}
		for _, t := range c.Layout.UsedTools() {
			if first := t.Zone(0); shared[first] == nil {
				if all := sharedBy(first.Zones); all != nil {
					shared[first] = all
				}
			}
		}
		if len(shared) == 0 {
			return nil
		}
		return &zoneOutputWatcher{c: c, shared: shared}
	},
}

// oneValve is the example plan with two zones that one output works, and some slots that are
// emptied by two.
func oneValve(slots string) manual.Example {
	zone := ", 0, 0], grip: {output: 1, level: on, settle: 0.4}, release: {output: 1, level: off, settle: 0.3}}\n"
	return manual.Example("-      grip:    {output: 1, level: on,  settle: 0.4}\n" +
		"-      release: {output: 1, level: off, settle: 0.3}\n" +
		"+      zones:\n+        left: {at: [0" + zone + "+        right: {at: [50" + zone +
		"-  - {from: \"tray A1:A3\", to: \"rack A1:A3\"}\n" +
		"-  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n" +
		"+  - {from: \"tray " + slots + "\", to: \"rack " + slots + "\", at_once: 2}\n")
}

// shared is an output that several zones of a tool write.
type shared struct {
	output int
	zones  []int // that write it, from 0, in their order
}

// sharedBy is the outputs that several of some zones write, by number.
func sharedBy(zones []*layout.Tool) (all []shared) {
	by := map[int][]int{}
	for i, z := range zones {
		for output := range z.Writes() {
			by[output] = append(by[output], i)
		}
	}
	for output, writers := range by {
		if len(writers) > 1 {
			all = append(all, shared{output, writers})
		}
	}
	slices.SortFunc(all, func(a, b shared) int { return a.output - b.output })
	return all
}

type zoneOutputWatcher struct {
	still
	c      *Context
	shared map[*layout.Tool][]shared // by the tool's first zone; without those that were reported
}

func (w *zoneOutputWatcher) Kinds() []move.Kind { return []move.Kind{move.Straight} }

func (w *zoneOutputWatcher) See(m *move.Move, _ *Scene) {
	if m.Role != move.DownSource && m.Role != move.DownDestination {
		return
	}
	first := w.c.Layout.Tools[m.ToolNumber-1]
	tool := first.Zone(0)
	from := slices.Index(tool.Zones, first)
	below := from + max(1, m.Zones)
	w.shared[tool] = slices.DeleteFunc(w.shared[tool], func(s shared) bool {
		works := func(zone int) bool { return from <= zone && zone < below }
		with, without := slices.IndexFunc(s.zones, works), slices.IndexFunc(s.zones, func(zone int) bool { return !works(zone) })
		switch {
		case with < 0:
			return false
		case without < 0:
			return w.otherwise(m, tool, s)
		}
		w.apart(m, tool, s, s.zones[with], s.zones[without])
		return true
	})
}

// apart reports an output where one zone goes down and another does not.
func (w *zoneOutputWatcher) apart(m *move.Move, tool *layout.Tool, s shared, with, without int) {
	does := "takes a part"
	if m.Role == move.DownDestination {
		does = "puts a part down"
	}
	w.report(m, tool, s, "output %d works %q and %q, but transfer %d %s with %q and without %q",
		s.output, tool.Zone(s.zones[0]).Name, tool.Zone(s.zones[1]).Name, m.Transfer, does, tool.Zone(with).Name, tool.Zone(without).Name).
		hint("give each zone an output of its own; one output may work several zones where all of them always go down at once, each to its own slot")
}

// otherwise reports an output to which two zones do not do the same.
func (w *zoneOutputWatcher) otherwise(m *move.Move, tool *layout.Tool, s shared) bool {
	one := tool.Zone(s.zones[0])
	for _, zone := range s.zones[1:] {
		if other := tool.Zone(zone); does(&one.Grip, s.output) != does(&other.Grip, s.output) || does(&one.Release, s.output) != does(&other.Release, s.output) {
			w.report(m, tool, s, "%q and %q both write output %d, but not to the same levels", one.Name, other.Name, s.output).
				hint("give each zone an output of its own, or write the same into both")
			return true
		}
	}
	return false
}

func (w *zoneOutputWatcher) report(m *move.Move, tool *layout.Tool, s shared, format string, args ...any) *report {
	return w.c.find("zones-share-output", tool.Zone(s.zones[1]).Writes()[s.output], format, args...).
		note(tool.Zone(s.zones[0]).Writes()[s.output], "%q writes it here", tool.Zone(s.zones[0]).Name).
		note(m.Place, "the parts are carried here")
}

// doing is what an action does to an output, however long a pulse is.
type doing struct{ on, off, pulsed bool }

func does(a *layout.Action, output int) (d doing) {
	for _, s := range a.Sets {
		if s.Output == output {
			d.on, d.off = s.Level, !s.Level
		}
	}
	d.pulsed = slices.ContainsFunc(a.Pulses, func(p layout.Pulse) bool { return p.Output == output })
	return d
}
