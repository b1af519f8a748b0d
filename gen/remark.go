package gen

import (
	"fmt"

	"gridferry/gen/layout"
	"gridferry/plan/wording"
)

// partsBehind tells what stays behind, of many grids the first.
func partsBehind(l *layout.Layout) []string {
	const most = 5
	var remarks []string
	behind := l.Behind
	for _, b := range behind[:min(len(behind), most)] {
		parts := wording.Number(b.Parts, "part stays", "parts stay")
		remarks = append(remarks, fmt.Sprintf("%s:%d: %s in %q, since %q is full", b.Place.File, b.Place.Line, parts, b.From.Name, b.To.Name))
	}
	if more := len(behind) - most; more > 0 {
		remarks = append(remarks, fmt.Sprintf("parts stay in %d more grids, too", more))
	}
	return remarks
}
