package timing

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// grid is a table for people: its cells stand to the left (<) or to the right
// (>) of their column.
type grid struct {
	sides string
	rows  [][]string
}

func (g *grid) add(cells ...string) { g.rows = append(g.rows, cells) }

// write lines the columns up under a title. The writer keeps its error for the end.
func (g *grid) write(w io.Writer, title string) {
	widths := make([]int, len(g.sides))
	for _, row := range g.rows {
		for i, cell := range row {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	fmt.Fprintf(w, "\n%s\n", title)
	for _, row := range g.rows {
		var line strings.Builder
		for i, cell := range row {
			if g.sides[i] == '<' {
				fmt.Fprintf(&line, "  %-*s", widths[i], cell)
			} else {
				fmt.Fprintf(&line, "  %*s", widths[i], cell)
			}
		}
		fmt.Fprintln(w, strings.TrimRight(line.String(), " "))
	}
}
