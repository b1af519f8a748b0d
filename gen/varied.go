package gen

import (
	"fmt"
	"strings"

	"gridferry/plan/diag"
)

// WasRead names the files that variants have read.
func WasRead(all []Varied) (names []string) {
	for i := range all {
		names = append(names, all[i].Sources.Names()...)
	}
	return names
}

// NotWritten is one error for all variants that could not be written, mostly for one
// reason; nil for none.
func NotWritten(all []Varied) error {
	var first *Varied
	more := 0
	for i := range all {
		switch {
		case all[i].Err == nil:
		case first == nil:
			first = &all[i]
		default:
			more++
		}
	}
	switch {
	case first == nil:
		return nil
	case more == 0:
		return fmt.Errorf("the variant %q was not written: %w", first.Row.Name, first.Err)
	}
	return fmt.Errorf("%d variants were not written, the first of them %q: %w", more+1, first.Row.Name, first.Err)
}

// Group is the findings that a variant is the first to have.
type Group struct {
	Findings []diag.Finding
	Sources  *diag.Sources // of that variant
}

// Together lists all findings of all variants, each once, with a note that names the
// variants that have it.
func Together(all []Varied) []Group {
	var groups []Group
	holders := map[string][]string{} // names of variants by finding
	for i := range all {
		g := Group{Sources: all[i].Sources}
		for _, f := range all[i].Findings {
			key := f.Place.String() + "\x00" + f.Rule + "\x00" + f.Message
			if holders[key] == nil {
				g.Findings = append(g.Findings, f)
			}
			holders[key] = append(holders[key], all[i].Row.Name)
		}
		groups = append(groups, g)
	}
	for _, g := range groups {
		for i := range g.Findings {
			f := &g.Findings[i]
			f.WithNote(diag.Place{}, "%s", inVariants(holders[f.Place.String()+"\x00"+f.Rule+"\x00"+f.Message], len(all)))
		}
	}
	return groups
}

// inVariants names the variants that have a finding.
func inVariants(names []string, all int) string {
	const most = 3
	switch {
	case len(names) == all:
		return fmt.Sprintf("in all %d variants", all)
	case len(names) == 1:
		return fmt.Sprintf("in the variant %q", names[0])
	case len(names) <= most:
		return "in the variants " + strings.Join(names, ", ")
	}
	return fmt.Sprintf("in the variants %s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}
