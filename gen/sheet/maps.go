package sheet

import (
	"cmp"
	"fmt"
	"html"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridferry/gen/check"
	"gridferry/gen/draw"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/plan/wording"
)

// gridMap is one grid before the first move and after the last one.
type gridMap struct {
	Name, Size    string
	Before, After string // in words
	Layers        []layerMap
	Notes         []string
}

// layerMap is one layer drawn twice.
type layerMap struct {
	Title         string
	Before, After template.HTML
}

// What maps may take up: mm on paper, and fields in all of them together.
const (
	mapWide   = 84.0
	mapTall   = 105.0
	widest    = 14.0 // a field
	narrowest = 1.2
	mostCells = 16000
	mostTiers = 6 // layers of one grid
)

func (j *Job) maps() []gridMap {
	grids := j.Slots.Grids[:min(len(j.Slots.Grids), mostGrids)]
	drawn := 0
	for _, g := range grids {
		drawn += 2 * min(g.Layers, mostTiers)
	}
	right, up := draw.Directions(j.Layout)
	stacks := map[string][]string{}
	for _, note := range check.StackNotes(j.Layout) {
		stacks[note.Grid] = append(stacks[note.Grid], strings.ToUpper(note.Text[:1])+note.Text[1:]+".")
	}
	var all []gridMap
	for _, g := range grids {
		var m gridMap
		if g.Stacked() && g.PerLayer() <= mostDrawn {
			m = mapOf(g, newFloorPlan(g, right, up), 1, true)
		} else {
			c := newChart(g, lieOf(g.Grid, right, up), max(100, mostCells/drawn), mapWide, widest)
			m = mapOf(g, c, c.block, inRows(g.Grid))
		}
		m.Notes = append(m.Notes, stacks[g.Name]...)
		all = append(all, m)
	}
	return all
}

// drawing draws the layers of a grid.
type drawing interface {
	draw(layer int, when string, full, due layout.Slots, numbers []int32) template.HTML
	numbered() bool
}

// mapOf is a grid by a drawing whose fields stand for so many slots a side, and lie as the slots do or not.
func mapOf(g *check.GridSlots, c drawing, block int, asSeen bool) gridMap {
	m := gridMap{Name: g.Name, Size: sizeOf(g)}
	m.Before, m.After = holding(g, g.Before), holding(g, g.After)
	if !asSeen {
		m.Notes = append(m.Notes, notInRows)
	}
	due := dueIn(g)
	for layer := range min(g.Layers, mostTiers) {
		l := layerMap{Before: c.draw(layer, "before", g.Before, due, g.First), After: c.draw(layer, "after", g.After, nil, g.Last)}
		if g.Layered() {
			l.Title = fmt.Sprintf("Layer %d", layer+1)
		}
		m.Layers = append(m.Layers, l)
	}
	if order := orderOf(g); order != "" && !c.numbered() {
		m.Notes = append(m.Notes, order)
	}
	if block > 1 {
		m.Notes = append(m.Notes, fmt.Sprintf("Each field stands for up to %d × %d slots.", block, block))
	}
	if g.Layers > mostTiers {
		m.Notes = append(m.Notes, fmt.Sprintf("Layers %d to %d are not drawn.", mostTiers+1, g.Layers))
	}
	return m
}

const notInRows = "The slots of this grid lie in no straight rows: here they stand row by row, and not as in the picture."

// sizeOf is how many slots a grid has, and in which frame.
func sizeOf(g *check.GridSlots) string {
	size := fmt.Sprintf("%s, %s", wording.Count(g.Rows, "row"), g.Wide())
	if g.Stacked() {
		size = wording.Number(g.PerLayer(), "box", "boxes") + " a layer"
	}
	if g.Layered() {
		size += ", " + wording.Count(g.Layers, "layer")
	}
	return size + ", frame " + g.Frame.Name
}

// dueIn is the slots that are free at first and get a part, also one that goes on.
func dueIn(g *check.GridSlots) layout.Slots {
	due := layout.NewSlots(g.Size())
	for i, first := range g.First {
		if first != 0 && !g.Before.Has(i) {
			due.Add(i)
		}
	}
	return due
}

// orderOf is in which order the slots of a grid have their turn, where there is no room for
// numbers.
func orderOf(g *check.GridSlots) string {
	var in []int // slots by their first transfer
	for i, first := range g.First {
		if first != 0 {
			in = append(in, i)
		}
	}
	if len(in) < 2 {
		return ""
	}
	slices.SortStableFunc(in, func(a, b int) int { return cmp.Compare(g.First[a], g.First[b]) })
	var names []string
	for _, i := range in[:min(3, len(in))] {
		names = append(names, g.Label(g.Slot(i)))
	}
	last := in[len(in)-1]
	return fmt.Sprintf("Order: %s … %s, transfers %d to %d.", strings.Join(names, ", "), g.Label(g.Slot(last)), g.First[in[0]], g.First[last])
}

// holding is which slots hold a part, in words that can be checked slot by slot.
func holding(g *check.GridSlots, full layout.Slots) string {
	if g.Feeder() {
		return g.Flow.Words()
	}
	there, holds := 0, 0
	for i := range g.Size() {
		if g.Missing.Has(i) {
			continue
		}
		there++
		if full.Has(i) {
			holds++
		}
	}
	switch {
	case there == 1 && holds == 0:
		return "free"
	case there == 1:
		return "a part in it"
	case holds == 0:
		return fmt.Sprintf("all %d free", there)
	case holds == there:
		return fmt.Sprintf("a part in all %d", there)
	}
	return fmt.Sprintf("a part in %d of %d: %s", holds, there, wording.List(runs(g, full), 14))
}

// runs are the filled slots, row by row, as ranges. A missing slot ends none.
func runs(g *check.GridSlots, full layout.Slots) []string {
	var out []string
	first, last := -1, -1
	end := func() {
		if first < 0 {
			return
		}
		text := g.Label(g.Slot(first))
		if last > first {
			text += ":" + g.Label(g.Slot(last))
		}
		out, first = append(out, text), -1
	}
	for i := range g.Size() {
		if g.Slot(i).Col == 0 {
			end()
		}
		switch {
		case full.Has(i):
			if first < 0 {
				first = i
			}
			last = i
		case !g.Missing.Has(i):
			end()
		}
	}
	end()
	return out
}

// chart draws the layers of one grid as fields, as the grid lies in the picture.
type chart struct {
	g          *check.GridSlots
	lies       lie
	block      int     // slots a side of one field
	rows, cols int     // fields
	cell       float64 // mm
	left, top  float64 // room for letters and numbers
	digits     int     // of the greatest number of a transfer
}

// newChart is a chart of at most so many fields, so wide in all and none wider than the widest, mm.
func newChart(g *check.GridSlots, lies lie, cells int, wide, widest float64) *chart {
	c := &chart{g: g, lies: lies, block: 1, top: 4.5}
	for ; ; c.block++ {
		c.rows, c.cols = (g.Rows+c.block-1)/c.block, (g.Columns+c.block-1)/c.block
		across, down := c.lies.size(c.rows, c.cols)
		c.cell = min(widest, wide/float64(across), mapTall/float64(down))
		if c.cell >= narrowest && c.rows*c.cols <= cells {
			break
		}
	}
	beside := slot.Letters(g.Rows - 1)
	if lies.across {
		beside = strconv.Itoa(g.Columns)
	}
	c.left = 2 + 2.1*float64(len(beside))
	for _, last := range g.Last {
		c.digits = max(c.digits, len(strconv.Itoa(int(last))))
	}
	return c
}

// at is the upper left corner of a field.
func (c *chart) at(row, col int) (x, y float64) {
	i, k := c.lies.place(row, col, c.rows, c.cols)
	return c.left + float64(float64(i)*c.cell), c.top + float64(float64(k)*c.cell)
}

// middle is the middle of a field, as far down as figures stand.
func (c *chart) middle(row, col int) (x, y float64) {
	x, y = c.at(row, col)
	return x + c.cell/2, y + c.cell/2 + 1
}

// draw is one layer as an SVG picture; numbers, if there are any, are transfers.
func (c *chart) draw(layer int, when string, full, due layout.Slots, numbers []int32) template.HTML {
	var b strings.Builder
	across, down := c.lies.size(c.rows, c.cols)
	w, h := c.left+float64(float64(across)*c.cell)+0.5, c.top+float64(float64(down)*c.cell)+0.5
	fmt.Fprintf(&b, `<svg class="map" role="img" aria-label="%s %s: %s" width="%smm" height="%smm" viewBox="0 0 %s %s">`,
		html.EscapeString(c.g.Name), when, html.EscapeString(holding(c.g, full)), dim(w), dim(h), dim(w), dim(h))
	c.edges(&b)
	c.fields(&b, layer, full, due)
	if c.numbered() && numbers != nil {
		c.numbers(&b, layer, numbers)
	}
	b.WriteString("</svg>")
	return template.HTML(b.String())
}

// numbered reports whether fields have room for the numbers of transfers: a digit of 3 mm is
// 1.67 mm wide, and a field fills 0.8 of its cell.
func (c *chart) numbered() bool {
	return c.block == 1 && c.cell >= max(4.5, (0.2+1.67*float64(c.digits))/0.8)
}

func dim(x float64) string { return strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64) }

// edges are the row letters and column numbers, as many as can be read: above the fields
// what goes across, to their left what goes down.
func (c *chart) edges(b *strings.Builder) {
	wide, high := 1+1.9*float64(len(strconv.Itoa(c.g.Columns))), 3.4
	rowRoom, colRoom := high, wide
	if c.lies.across {
		rowRoom, colRoom = 1+2.1*float64(len(slot.Letters(c.g.Rows-1))), high
	}
	for i := 0; i < c.cols; i += int(math.Ceil(colRoom / c.cell)) {
		c.edge(b, 0, i, !c.lies.across, strconv.Itoa(i*c.block+1))
	}
	for i := 0; i < c.rows; i += int(math.Ceil(rowRoom / c.cell)) {
		c.edge(b, i, 0, c.lies.across, slot.Letters(i*c.block))
	}
}

func (c *chart) edge(b *strings.Builder, row, col int, above bool, text string) {
	x, y := c.middle(row, col)
	if above {
		y = 3.2
	} else {
		x = c.left / 2
	}
	c.letters(b, "edge", x, y, text)
}

func (c *chart) letters(b *strings.Builder, class string, x, y float64, text string) {
	fmt.Fprintf(b, `<text class="%s" x="%s" y="%s">%s</text>`, class, dim(x), dim(y), text)
}

// fields draws every field: full, waiting for a part, free, some of each, or not there.
func (c *chart) fields(b *strings.Builder, layer int, full, due layout.Slots) {
	var paths [5]strings.Builder // free, due, full, the halves, gone
	gap := 0.1 * c.cell
	side := dim(c.cell - 2*gap)
	for row := range c.rows {
		for col := range c.across(row) {
			x, y := c.at(row, col)
			x, y = x+gap, y+gap
			at := "M" + dim(x) + " " + dim(y)
			square := at + "h" + side + "v" + side + "h-" + side + "z"
			switch there, holds := c.count(layer, row, col, full); {
			case there == 0:
				paths[4].WriteString(at + "l" + side + " " + side + "m0-" + side + "l-" + side + " " + side)
			case holds == there:
				paths[2].WriteString(square)
			default:
				kind := 0
				if _, waits := c.count(layer, row, col, due); waits > 0 {
					kind = 1
				}
				paths[kind].WriteString(square)
				if holds > 0 {
					paths[3].WriteString(at + "h" + side + "l-" + side + " " + side + "z")
				}
			}
		}
	}
	for i, class := range []string{"free", "due", "full", "full", "gone"} {
		if d := paths[i].String(); d != "" {
			fmt.Fprintf(b, `<path class="%s" stroke-width="%s" d="%s"/>`, class, dim(min(0.3, 0.08*c.cell)), d)
		}
	}
}

// across is how many fields a row of them has: as many as its longest row of slots.
func (c *chart) across(row int) int {
	longest := 0
	for r := row * c.block; r < min((row+1)*c.block, c.g.Rows); r++ {
		longest = max(longest, c.g.Length(r))
	}
	return (longest + c.block - 1) / c.block
}

// count is how many slots of a field there are and how many hold a part.
func (c *chart) count(layer, row, col int, full layout.Slots) (there, holds int) {
	for r := row * c.block; r < min((row+1)*c.block, c.g.Rows); r++ {
		for k := col * c.block; k < min((col+1)*c.block, c.g.Length(r)); k++ {
			i := c.g.Index(slot.Slot{Row: int32(r), Col: int32(k), Layer: int32(layer)})
			if c.g.Missing.Has(i) {
				continue
			}
			there++
			if full.Has(i) {
				holds++
			}
		}
	}
	return there, holds
}

func (c *chart) numbers(b *strings.Builder, layer int, numbers []int32) {
	for row := range c.rows {
		for col := range c.across(row) {
			n := numbers[c.g.Index(slot.Slot{Row: int32(row), Col: int32(col), Layer: int32(layer)})]
			if n != 0 {
				x, y := c.middle(row, col)
				c.letters(b, "turn", x, y, strconv.Itoa(int(n)))
			}
		}
	}
}
