package check

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"gridferry/gen/layout"
	"gridferry/gen/slot"
)

// WriteMaps draws every grid for people, no wider than width characters (120
// where width is 0, for no screen): which slots hold a part before the first
// move and after the last one, and at which transfers each slot changed. Of a
// large grid some rows and columns are left out in the middle.
func (s *Slots) WriteMaps(w io.Writer, width int) error {
	if len(s.Grids) == 0 {
		return nil
	}
	if width <= 0 {
		width = usualWidth
	}
	out := bufio.NewWriter(w)
	for i, g := range s.Grids {
		if i > 0 {
			fmt.Fprintln(out)
		}
		g.write(out, width)
	}
	fmt.Fprintf(out, "\n%c a part, %c free, blank: no slot\n", filled, free)
	if s.several() > 2 {
		fmt.Fprint(out, "7…20 (3×): transfer 7 is the first and 20 the last of 3 that change the slot\n")
	}
	return out.Flush()
}

// usualWidth is for what goes into a file or a pipe.
const usualWidth = 120

// The marks of a map.
const (
	filled  = '#'
	free    = '.'
	missing = ' '
)

func (g *GridSlots) write(out io.Writer, width int) {
	fmt.Fprintf(out, "%s, %d × %s", g.Name, g.Rows, g.Across())
	if g.Layered() {
		fmt.Fprintf(out, " × %d", g.Layers)
	}
	if g.Feeder() {
		fmt.Fprintf(out, ": %s", g.Flow.Words())
	} else {
		fmt.Fprintf(out, ": %d before, %d after", count(g.Before, g.Size()), count(g.After, g.Size()))
	}
	first, last := g.span()
	if first == 0 {
		fmt.Fprint(out, "; no transfer changes it\n")
	} else {
		fmt.Fprintf(out, "; transfers %d to %d change it\n", first, last)
	}
	for _, layer := range shownOf(g.Layers, mostLayers) {
		switch {
		case layer < 0:
			fmt.Fprint(out, "  …\n")
			continue
		case g.Layered():
			fmt.Fprintf(out, "  layer %d\n", layer+1)
		}
		g.layer(out, layer, width)
	}
}

// How many rows and layers of a grid are drawn at most, and how far a map is
// indented.
const (
	mostRows   = 32
	mostLayers = 12
	indent     = 2
)

// layer draws one layer: before and after beside each other where they fit,
// and what changed under them.
func (g *GridSlots) layer(out io.Writer, layer, width int) {
	before := g.plot("before", layer, width, mark(g, g.Before))
	if !g.changes(layer) {
		before.print(out)
		return
	}
	after := g.plot("after", layer, width, mark(g, g.After))
	if both := beside(before, after); both.width() <= width {
		both.print(out)
	} else {
		before.print(out)
		after.print(out)
	}
	g.plot("changed by transfer", layer, width, g.transfers).print(out)
}

func (g *GridSlots) changes(layer int) bool {
	perLayer := g.PerLayer()
	for i := layer * perLayer; g.First != nil && i < (layer+1)*perLayer; i++ {
		if g.First[i] != 0 {
			return true
		}
	}
	return false
}

// mark is how a slot looks in a map of full and free slots.
func mark(g *GridSlots, full layout.Slots) func(i int) string {
	return func(i int) string {
		switch {
		case g.Missing.Has(i):
			return string(missing)
		case full.Has(i):
			return string(filled)
		default:
			return string(free)
		}
	}
}

// transfers is the transfers that changed a slot: "7", "7,20" for two of them, or
// "7…20 (3×)" for the first and the last of three.
func (g *GridSlots) transfers(i int) string {
	switch first, last := g.First[i], g.Last[i]; {
	case g.Missing.Has(i):
		return string(missing)
	case first == 0:
		return string(free)
	case first == last:
		return strconv.Itoa(int(first))
	case g.Times[i] == 2:
		return fmt.Sprintf("%d,%d", first, last)
	default:
		return fmt.Sprintf("%d…%d (%d×)", first, last, g.Times[i])
	}
}

// several is how many transfers changed the slot that is changed most often.
func (s *Slots) several() int32 {
	most := int32(0)
	for _, g := range s.Grids {
		for _, n := range g.Times {
			most = max(most, n)
		}
	}
	return most
}

// drawing is lines of text.
type drawing []string

// plot draws a table with row letters and column numbers, cut to a width.
func (g *GridSlots) plot(title string, layer, width int, cell func(i int) string) drawing {
	rows := shownOf(g.Rows, mostRows)
	letters := len(slot.Letters(g.Rows - 1))
	wide := g.cellWidth(layer, cell)
	columns := shownOf(g.Columns, max(2, (width-indent-letters)/(wide+1)))
	head := fmt.Sprintf("%*s", indent+letters, "")
	for _, col := range columns {
		head += fmt.Sprintf(" %*s", wide, number(col))
	}
	d := drawing{strings.Repeat(" ", indent+letters+1) + title, strings.TrimRight(head, " ")}
	for _, row := range rows {
		line := fmt.Sprintf("%*s", indent+letters, "…")
		if row >= 0 {
			line = fmt.Sprintf("%*s", indent+letters, slot.Letters(row))
			for _, col := range columns {
				text := "…"
				if col >= 0 {
					text = g.cell(row, col, layer, cell)
				}
				line += fmt.Sprintf(" %*s", wide, text)
			}
		}
		d = append(d, strings.TrimRight(line, " "))
	}
	return d
}

// cell is empty where the row ends before it.
func (g *GridSlots) cell(row, col, layer int, cell func(i int) string) string {
	if at := (slot.Slot{Row: int32(row), Col: int32(col), Layer: int32(layer)}); g.Inside(at) {
		return cell(g.Index(at))
	}
	return ""
}

// cellWidth is the width of the widest cell that could be shown.
func (g *GridSlots) cellWidth(layer int, cell func(i int) string) int {
	wide := len(strconv.Itoa(g.Columns))
	for _, row := range shownOf(g.Rows, mostRows) {
		for col := 0; row >= 0 && col < g.Columns; col++ {
			wide = max(wide, utf8.RuneCountInString(g.cell(row, col, layer, cell)))
		}
	}
	return wide
}

func number(col int) string {
	if col < 0 {
		return "…"
	}
	return strconv.Itoa(col + 1)
}

// shownOf is which of n things are shown where only so many can be: the first
// ones, a gap (-1), and the last one.
func shownOf(n, most int) []int {
	var shown []int
	for i := range n {
		switch {
		case n <= most || i < most-2 || i == n-1:
			shown = append(shown, i)
		case i == most-2:
			shown = append(shown, -1)
		}
	}
	return shown
}

// beside puts two drawings of the same height next to each other.
func beside(a, b drawing) drawing {
	const gap = 4
	wide := a.width() + gap
	both := make(drawing, len(a))
	for i := range a {
		both[i] = fmt.Sprintf("%-*s", wide, a[i]) + strings.TrimPrefix(b[i], strings.Repeat(" ", indent))
	}
	return both
}

func (d drawing) width() int {
	wide := 0
	for _, line := range d {
		wide = max(wide, utf8.RuneCountInString(line))
	}
	return wide
}

func (d drawing) print(out io.Writer) {
	for _, line := range d {
		fmt.Fprintln(out, line)
	}
}
