package check

import (
	"gridferry/plan/diag"
)

// grouper makes one finding out of many alike: the same rule at the same place
// of the plan. The first gives the message, two more follow as notes, and the
// number of the others comes at the end.
type grouper struct {
	list   *diag.List
	groups map[kind]*group
	order  []*group
	names  map[string]bool
}

// kind is what findings that become one have in common.
type kind struct {
	name  string
	place diag.Place
}

type group struct {
	finding *diag.Finding
	notes   []diag.Note // that the first one asked for
	count   int
}

// report is the first finding of its kind, to which advice can be added; nil for
// those after it, which need none.
type report struct{ g *group }

func newGrouper(list *diag.List) *grouper {
	return &grouper{list: list, groups: map[kind]*group{}, names: map[string]bool{}}
}

// shown is how many of a kind are shown one by one.
const shown = 3

func (all *grouper) add(s diag.Severity, name string, at diag.Place, format string, args []any) *report {
	all.names[name] = true
	key := kind{name, at}
	g := all.groups[key]
	if g != nil {
		if g.count++; g.count <= shown {
			g.finding.WithNote(diag.Place{}, format, args...)
		}
		return nil
	}
	add := all.list.Errorf
	if s == diag.Warning {
		add = all.list.Warnf
	}
	g = &group{finding: add(name, at, format, args...), count: 1}
	all.groups[key] = g
	all.order = append(all.order, g)
	return &report{g}
}

// done says how many were left out, and then what belongs to all of them.
func (all *grouper) done() {
	for _, g := range all.order {
		if more := g.count - shown; more > 0 {
			g.finding.WithNote(diag.Place{}, "and %d more like this", more)
		}
		g.finding.Notes = append(g.finding.Notes, g.notes...)
	}
}

func (r *report) hint(format string, args ...any) *report {
	if r != nil {
		r.g.finding.WithHint(format, args...)
	}
	return r
}

// hinted is hint for advice that takes some looking up.
func (r *report) hinted(advice func() string) *report {
	if r != nil {
		r.g.finding.WithHint("%s", advice())
	}
	return r
}

// note points at something in the plan or cell; what was not written has no
// place and is left out.
func (r *report) note(at diag.Place, format string, args ...any) *report {
	if r != nil && !at.IsZero() {
		var with diag.Finding
		r.g.notes = append(r.g.notes, with.WithNote(at, format, args...).Notes...)
	}
	return r
}
