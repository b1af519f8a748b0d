package check

import (
	"fmt"

	"gridferry/plan/diag"
)

// folder makes one finding out of many alike: the same rule at the same place
// of the plan. The first gives the message, two more follow as notes, and the
// number of the rest is told at the end.
type folder struct {
	list   *diag.List
	groups map[group]*folded
	order  []*folded
}

type group struct {
	rule  string
	place diag.Place
}

type folded struct {
	finding *diag.Finding
	place   diag.Place
	count   int
}

func newFolder(list *diag.List) *folder { return &folder{list: list, groups: map[group]*folded{}} }

// shown is how many of a kind are told one by one.
const shown = 3

func (f *folder) errorf(rule string, at diag.Place, format string, args ...any) {
	f.add(f.list.Errorf, rule, at, format, args)
}

func (f *folder) warnf(rule string, at diag.Place, format string, args ...any) {
	f.add(f.list.Warnf, rule, at, format, args)
}

type reporter func(rule string, at diag.Place, format string, args ...any) *diag.Finding

func (f *folder) add(report reporter, rule string, at diag.Place, format string, args []any) {
	key := group{rule, at}
	g := f.groups[key]
	if g == nil {
		g = &folded{finding: report(rule, at, format, args...), place: at}
		f.groups[key] = g
		f.order = append(f.order, g)
	} else if g.count < shown {
		g.finding.WithNote(diag.Place{}, format, args...)
	}
	g.count++
}

// done tells how many were left out.
func (f *folder) done() {
	for _, g := range f.order {
		if more := g.count - shown; more > 0 {
			g.finding.WithNote(diag.Place{}, "%s", fmt.Sprintf("and %d more like this", more))
		}
	}
}
