// Package check proves a plan before the machine moves. Its rules are values
// in one list, a file a rule.
package check

import (
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Rule is one thing that is looked at. Layout is run once, before any move;
// Watch makes an eye that sees every move in turn. Either may be nil.
type Rule struct {
	Names  []string // of the findings that it gives
	Doc    string
	Layout func(c *Context)
	Watch  func(c *Context) Watcher
}

// Watcher sees the move list go by.
type Watcher interface {
	See(m *move.Move)
	Done()
}

// Context is what a rule may look at, and where it reports.
type Context struct {
	Layout *layout.Layout
	List   *diag.List
}

// Rules is every rule, in the order in which they are documented.
var Rules = []Rule{limits, speed, load, occupancy}

// Run looks at the layout, then lets the moves go by all watchers once.
func Run(l *layout.Layout, moves move.Seq, list *diag.List) {
	c := &Context{l, list}
	var watchers []Watcher
	for _, r := range Rules {
		if r.Layout != nil {
			r.Layout(c)
		}
		if r.Watch != nil {
			watchers = append(watchers, r.Watch(c))
		}
	}
	for m := range moves {
		for _, w := range watchers {
			w.See(&m)
		}
	}
	for _, w := range watchers {
		w.Done()
	}
}
