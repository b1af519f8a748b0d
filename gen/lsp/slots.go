package lsp

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/plan/lazy"
)

var (
	slotText = lazy.Regexp(`[A-Za-z]{1,3}[0-9]+(?:\.[0-9]+)?`)
	wordText = lazy.Regexp(`[\pL_][\pL\pN_-]*`)
)

// slotsAt says where the slot is that stands at a column of a line; nothing where none does. Whose slot it is says the last grid
// that the line names before it or, with none, the path of its key or the file, as a table of contents.
func slotsAt(l *layout.Layout, file, line string, column int, path string) []string {
	at := utf32Units.bytes(line, column-1)
	for _, found := range slotText().FindAllStringIndex(line, -1) {
		if at < found[0] || found[1] < at {
			continue
		}
		label, ok := slot.Parse(line[found[0]:found[1]])
		if g := gridBefore(l, line[:found[0]], path, file); ok && g != nil && g.Inside(label.Slot) {
			return []string{whereIs(g, label.Slot)}
		}
	}
	return nil
}

// gridBefore is the grid whose slot stands behind a text.
func gridBefore(l *layout.Layout, text, path, file string) *layout.Grid {
	words := wordText().FindAllString(text, -1)
	slices.Reverse(words)
	for _, word := range append(words, strings.Split(path, ".")...) {
		if i := slices.IndexFunc(l.Grids, func(g *layout.Grid) bool { return g != nil && g.Name == word }); i >= 0 {
			return l.Grids[i]
		}
	}
	if i := slices.IndexFunc(l.Grids, func(g *layout.Grid) bool {
		return g != nil && g.Source.Contents != nil && g.Source.Contents.Shown == file
	}); i >= 0 {
		return l.Grids[i]
	}
	return nil
}

// whereIs says where a slot is.
func whereIs(g *layout.Grid, s slot.Slot) string {
	name := g.Name + " " + s.Label(g.Layers > 1)
	if !g.Has(s) {
		return name + " is missing."
	}
	in, base := g.Points(s)
	return fmt.Sprintf("%s is at %s in %s, at %s in base.", name, coordinates(in.Vec), g.Frame.Name, coordinates(base.Vec))
}

// coordinates is a position in mm.
func coordinates(v geom.Vec) string {
	fine := func(x float64) string { return strconv.FormatFloat(math.Round(x*1000)/1000+0, 'f', -1, 64) }
	return fmt.Sprintf("(%s, %s, %s) mm", fine(v.X), fine(v.Y), fine(v.Z))
}
