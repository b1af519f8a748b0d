package gen

import (
	"fmt"

	"gridferry/gen/layout"
	"gridferry/plan/wording"
)

// partsBehind names the grids whose parts stay behind; of many the first.
func partsBehind(l *layout.Layout) []string {
	const most = 5
	var lines []string
	behind := l.Behind
	for _, b := range behind[:min(len(behind), most)] {
		parts := wording.Number(b.Parts, "part stays", "parts stay")
		lines = append(lines, fmt.Sprintf("%s:%d: %s in %q, since %q is full", b.Place.File, b.Place.Line, parts, b.From.Name, b.To.Name))
	}
	if more := len(behind) - most; more > 0 {
		lines = append(lines, fmt.Sprintf("parts stay in %d more grids", more))
	}
	return lines
}
