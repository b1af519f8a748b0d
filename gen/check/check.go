// Package check proves a plan before the machine moves: what arithmetic can
// foresee, it says, at the line of the plan that caused it.
//
// Its rules are values in one list, a file a rule. A rule looks at the layout
// once, or watches the moves go by, or both; all rules watch the same single
// pass over the list, beside a Scene that knows where the arm and every part
// are, so that a list of ten million moves needs no more memory than one of ten.
//
// An error is what goes wrong for certain; a warning is what is probably not
// meant, or what depends on the path that the controller chooses.
package check

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Rule is one thing that is looked at, and the findings that may come of it.
// Layout is run once, before any move; Watch makes an eye that sees every move
// in turn. Either may be nil.
type Rule struct {
	Finds  []Find
	Layout func(c *Context)
	Watch  func(c *Context) Watcher
}

// Find is one finding that a rule can make, with what its manual page says.
type Find struct {
	Name     string // kebab-case, as it stands behind a message
	Severity diag.Severity
	Doc      string
	Bad      Example // a plan that has this finding and no other
	Good     Example // one that is like it and has none
	// Guard marks a finding that no plan can cause as long as the move list is
	// made rightly. It has no examples.
	Guard bool
}

// Watcher sees the move list go by. The scene is as the move finds it: what
// the move itself changes comes after, but for where a motion leads.
type Watcher interface {
	See(m *move.Move, s *Scene) // m is not to be kept
	Done()
}

// Context is what a rule may look at, and where it reports.
type Context struct {
	Layout *layout.Layout
	report *folder
}

// Rules is every rule, in the order in which they are documented.
var Rules = []Rule{
	limits,
	frameDown, twinFrames, measured, pallet,
	payload, gravity, moment,
	speed, approach, blend, clearWay,
	settle, jawOutput, sharedOutput, level, await,
	partKind, pick, place, jaw,
	reach, keepOut, collision,
}

// Run looks at the layout, then lets the moves go by all rules once. More
// watchers may look on.
func Run(l *layout.Layout, moves move.Seq, list *diag.List, more ...Watcher) {
	c := newContext(l, list)
	watchers := more
	for i := range Rules {
		if r := &Rules[i]; r.Layout != nil {
			r.Layout(c)
		}
	}
	for i := range Rules {
		if r := &Rules[i]; r.Watch != nil {
			watchers = append(watchers, r.Watch(c))
		}
	}
	c.watch(moves, watchers)
	c.report.done()
}

func newContext(l *layout.Layout, list *diag.List) *Context {
	return &Context{Layout: l, report: newFolder(list)}
}

func (c *Context) watch(moves move.Seq, watchers []Watcher) {
	s := newScene(c.Layout)
	m := new(move.Move) // one for all: each would be a new one on the heap
	for next := range moves {
		*m = next
		s.see(m)
		for _, w := range watchers {
			w.See(m, s)
		}
		s.apply(m)
	}
	for _, w := range watchers {
		w.Done()
	}
}

// find reports under a rule's name. The severity is the one in its manual page.
func (c *Context) find(name string, at diag.Place, format string, args ...any) *told {
	return c.report.add(severities[name], name, at, format, args)
}

// said tells whether something was found under a name already: what rests on
// it then stays silent.
func (c *Context) said(name string) bool { return c.report.names[name] }

// severities of all findings by name. It is filled at the start because the
// rules' functions, which look into it, are themselves values in Rules.
var severities = map[string]diag.Severity{}

func init() {
	for _, r := range Rules {
		for _, f := range r.Finds {
			severities[f.Name] = f.Severity
		}
	}
}

// still is for watchers that have nothing to say at the end.
type still struct{}

func (still) Done() {}
