package check

import (
	"gridferry/plan/diag"
)

// grouper makes one finding out of many alike: the same rule at the same place
// of the plan. The first gives the message, two more follow as notes, and the
// number of the others comes at the end.
type grouper struct {
	list   *diag.List
	inList func(file string) bool // the file is a worklist
	groups map[kind]*group
	order  []*group
	names  map[string]bool
	lists  map[kind]*listedGroups // by the file of a worklist
}

// listedGroups is what was found at the lines of a worklist: of the first few each by itself, and then with
// the last of these.
type listedGroups struct {
	groups int
	last   *group
}

// mostListed and mostWarned are how many lines of a worklist have errors, and warnings, of a kind that stand by
// themselves.
const (
	mostListed = 20
	mostWarned = 3
)

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

func newGrouper(list *diag.List, inList func(file string) bool) *grouper {
	return &grouper{list: list, inList: inList, groups: map[kind]*group{}, names: map[string]bool{}, lists: map[kind]*listedGroups{}}
}

// shown is how many of a kind are shown one by one.
const shown = 3

func (all *grouper) add(s diag.Severity, name string, at diag.Place, format string, args []any) *report {
	all.names[name] = true
	key := kind{name, at}
	g := all.groups[key]
	if g == nil {
		g = all.crowd(s, name, at)
	}
	if g != nil {
		g.finding.Concerns(args...)
		if g.count++; g.count <= shown {
			where := diag.Place{}
			if at != g.finding.Place {
				where = at // another line of a worklist
			}
			g.finding.WithNote(where, format, args...)
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
	if l := all.lists[kind{name, diag.Place{File: at.File}}]; l != nil {
		l.groups, l.last = l.groups+1, g
	}
	return &report{g}
}

// crowd is the last of the findings of a kind that the lines of a worklist may have by themselves; nil as long as there
// may be more, and for a place that is in none.
func (all *grouper) crowd(s diag.Severity, name string, at diag.Place) *group {
	if !all.inList(at.File) {
		return nil
	}
	file := kind{name, diag.Place{File: at.File}}
	if all.lists[file] == nil {
		all.lists[file] = new(listedGroups)
	}
	most := mostListed
	if s == diag.Warning {
		most = mostWarned
	}
	if l := all.lists[file]; l.groups >= most {
		return l.last
	}
	return nil
}

// at is the finding of a rule at a place; nil for none.
func (all *grouper) at(name string, at diag.Place) *diag.Finding {
	if g := all.groups[kind{name, at}]; g != nil {
		return g.finding
	}
	return nil
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
