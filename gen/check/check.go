// Package check looks for what is wrong with a plan before the machine moves: what
// can be calculated, it reports, at the line of the plan that caused it.
//
// Its rules are values in one list, a file a rule. A rule looks at the layout
// once, or watches the moves, or both. All rules watch the same single pass over
// the list, beside a Scene that knows where the arm and every part are, so that a
// list of ten million moves needs no more memory than one of ten.
//
// An error is what certainly goes wrong; a warning is what is probably not
// meant, or what depends on the path that the controller chooses.
package check

import (
	"sync"

	"gridferry/gen/arm"
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Rule is one thing that is checked, and the findings that it can make. Layout is
// run once, before any move. Watch makes a watcher of the moves; nil where this
// layout gives it nothing to look for. Either function may be nil.
type Rule struct {
	Finds  []manual.Page
	Layout func(c *Context)
	Watch  func(c *Context) Watcher
}

// Watcher sees the moves of the list in their order, those of the kinds that it asks
// for. The scene is as it is before the move, except that To is where a motion ends.
type Watcher interface {
	Kinds() []move.Kind
	See(m *move.Move, s *Scene) // m is not to be kept
	Done()
}

// Context is what a rule may look at, and where it reports.
type Context struct {
	Layout   *layout.Layout
	found    *grouper
	most     int // effort, of every pass
	effort   *effort
	gaveUp   bool // too much of it, which was said
	travel   Travel
	pinned   move.Target           // the part that was reported last to rest on one that is taken
	follow   map[int]*arm.Follower // by the number of a tool; see follower
	blocked  []*Blocked
	seeks    bool // poses between are looked for
	searches int
	harm     map[diag.Place]bool // entries by which a part hits another, does not fit or is over an edge
}

// Pages is the page of every finding that the rules can make.
func Pages() []manual.Page {
	var all []manual.Page
	for i := range Rules {
		all = append(all, Rules[i].Finds...)
	}
	return all
}

// Rules is every rule, in the order in which they are documented.
var Rules = []Rule{
	limits,
	frameDown, twinFrames, measured, direction,
	ratedLoad, gravity, inertia, moment,
	speed, approach, flyByRadius, clearWay,
	settle, gripperOutput, sharedOutput, zoneOutput, level, await,
	turned, mirrored, partKind, pick, place, lie, gripper,
	reach, joint, alongLine, winding, armWay, keepOut, collision, fingers, pallet, stackGap, rotors,
}

// Run checks the layout, then shows the moves to all rules in one pass, and to more
// watchers. It gives the ways that are not free.
func Run(l *layout.Layout, moves move.Batches, list *diag.List, more ...Watcher) []*Blocked {
	return newContext(l, list).run(moves, more)
}

// Seek is Run that looks for poses by which the ways that are not free can be gone, which may take some seconds.
func Seek(l *layout.Layout, moves move.Batches, list *diag.List, more ...Watcher) []*Blocked {
	c := newContext(l, list)
	c.seeks = true
	return c.run(moves, more)
}

func (c *Context) run(moves move.Batches, more []Watcher) []*Blocked {
	for i := range Rules {
		if r := &Rules[i]; r.Layout != nil {
			r.Layout(c)
		}
	}
	c.watch(moves, append(more, c.eyes()...))
	c.found.done()
	return c.blocked
}

func newContext(l *layout.Layout, list *diag.List) *Context {
	return &Context{Layout: l, found: newGrouper(list, l.HasList), most: effortFor(l), effort: new(effort), harm: map[diag.Place]bool{}, follow: map[int]*arm.Follower{}}
}

// follower follows straight lines with a tool.
func (c *Context) follower(tool int) *arm.Follower {
	if c.follow[tool] == nil {
		c.follow[tool] = c.Layout.Arm.Follower(c.Layout.Tools[tool-1].TCP)
	}
	return c.follow[tool]
}

// eyes is a watcher of every rule that has one for this layout.
func (c *Context) eyes() []Watcher {
	var eyes []Watcher
	for i := range Rules {
		if r := &Rules[i]; r.Watch != nil {
			if w := r.Watch(c); w != nil {
				eyes = append(eyes, w)
			}
		}
	}
	return eyes
}

func (c *Context) watch(moves move.Batches, watchers []Watcher) {
	s, asking := c.scene(), byKind(watchers)
	s.travel = c.travel
	for piece := range moves {
		for i := range piece {
			m := &piece[i]
			s.see(m)
			for _, w := range asking[m.Kind] {
				w.See(m, s)
			}
			s.apply(m)
		}
		if n := len(piece); n > 0 && c.crowded(piece[n-1].Place) {
			break
		}
	}
	for _, w := range watchers {
		w.Done()
	}
}

// byKind is the watchers that ask for a kind of move, in their order: most ask for
// one kind or two, and most moves are of others.
func byKind(watchers []Watcher) (asking [move.NumKinds][]Watcher) {
	for _, w := range watchers {
		for _, k := range w.Kinds() {
			asking[k] = append(asking[k], w)
		}
	}
	return asking
}

// motions is for watchers of where the arm goes.
type motions struct{}

func (motions) Kinds() []move.Kind { return move.Motions }

// handling is for watchers of what the gripper does.
type handling struct{}

func (handling) Kinds() []move.Kind { return move.Handlings }

// eachTool looks at every tool that the plan works with.
func (c *Context) eachTool(look func(c *Context, t *layout.Tool)) {
	for _, t := range c.Layout.UsedTools() {
		look(c, t)
	}
}

// find reports under a rule's name. The severity is the one in its manual page.
func (c *Context) find(name string, at diag.Place, format string, args ...any) *report {
	if c.effort.over() {
		return nil // nobody looked any more
	}
	return c.found.add(severities()[name], name, at, format, args)
}

// said reports whether something was found under a name already: what depends on
// it is then not reported.
func (c *Context) said(name string) bool { return c.found.names[name] }

// severities of all findings by name, made when something is found. It is set at the start because the rules' functions, which
// look into it, are themselves values in Rules.
var severities func() map[string]diag.Severity

func init() {
	severities = sync.OnceValue(func() map[string]diag.Severity {
		all := map[string]diag.Severity{}
		for _, f := range Pages() {
			all[f.Name] = f.Severity
		}
		return all
	})
}

// still is for watchers that have nothing to say at the end.
type still struct{}

func (still) Done() {}
