package check

import (
	"gridferry/plan/diag"
)

// folder makes one finding out of many alike: the same rule at the same place
// of the plan. The first gives the message, two more follow as notes, and the
// number of the rest is told at the end.
type folder struct {
	list   *diag.List
	groups map[group]*folded
	order  []*folded
	names  map[string]bool
}

type group struct {
	name  string
	place diag.Place
}

type folded struct {
	finding *diag.Finding
	notes   []diag.Note // that the first one asked for
	count   int
}

// told is the first finding of its kind, to which advice can be added; nil for
// those after it, which need none.
type told struct{ f *folded }

func newFolder(list *diag.List) *folder {
	return &folder{list: list, groups: map[group]*folded{}, names: map[string]bool{}}
}

// shown is how many of a kind are told one by one.
const shown = 3

func (f *folder) add(s diag.Severity, name string, at diag.Place, format string, args []any) *told {
	f.names[name] = true
	key := group{name, at}
	g := f.groups[key]
	if g != nil {
		if g.count++; g.count <= shown {
			g.finding.WithNote(diag.Place{}, format, args...)
		}
		return nil
	}
	report := f.list.Errorf
	if s == diag.Warning {
		report = f.list.Warnf
	}
	g = &folded{finding: report(name, at, format, args...), count: 1}
	f.groups[key] = g
	f.order = append(f.order, g)
	return &told{g}
}

// done tells how many were left out, and then what belongs to all of them.
func (f *folder) done() {
	for _, g := range f.order {
		if more := g.count - shown; more > 0 {
			g.finding.WithNote(diag.Place{}, "and %d more like this", more)
		}
		g.finding.Notes = append(g.finding.Notes, g.notes...)
	}
}

func (t *told) hint(format string, args ...any) *told {
	if t != nil {
		t.f.finding.WithHint(format, args...)
	}
	return t
}

// hinted is hint for advice that takes some looking up.
func (t *told) hinted(advice func() string) {
	if t != nil {
		t.f.finding.WithHint("%s", advice())
	}
}

// note points at something in the plan or cell; what was not written has no
// place and is left out.
func (t *told) note(at diag.Place, format string, args ...any) *told {
	if t != nil && !at.IsZero() {
		var with diag.Finding
		t.f.notes = append(t.f.notes, with.WithNote(at, format, args...).Notes...)
	}
	return t
}
