package sheet

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"strconv"
	"strings"

	"gridferry/gen/check"
	"gridferry/gen/draw"
	"gridferry/gen/margin"
	"gridferry/gen/slot"
)

// marginMap is how near the arm comes to what it must not, at the slots of one grid at which the job works.
type marginMap struct {
	Name, Size string
	At, Least  string // the slot where least is left, and of what
	Map        template.HTML
	Notes      []string
	Things     table // of a map that has no room for all words
}

// bandSign is a band of margins as maps show it.
type bandSign struct{ Class, Words string }

// What the maps of margins may take up, mm on paper, and how many things are named at each grid.
const (
	marginWide = 174.0
	roomy      = 16.0 // a field that is no larger than it need be
	forFigure  = 9.0  // the least field that has room for a figure
	forWords   = 13.0 // and for what it is to
	mostThings = 12
)

// bands are those of the legend.
func (j *Job) bands() (bands []bandSign) {
	if j.Margins == nil {
		return nil
	}
	for i := range margin.Bands {
		bands = append(bands, bandSign{margin.BandName(i), margin.BandWords(i)})
	}
	return bands
}

func (j *Job) margins() (maps []marginMap) {
	if j.Margins == nil {
		return nil
	}
	right, up := draw.Directions(j.Layout)
	for _, g := range j.Slots.Grids[:min(len(j.Slots.Grids), mostGrids)] {
		if j.Margins.In(g.Grid) != nil {
			maps = append(maps, j.marginMap(g, newMarginChart(g, lieOf(g.Grid, right, up))))
		}
	}
	return maps
}

func newMarginChart(g *check.GridSlots, lies lie) *chart {
	return newChart(g, lies, mostCells/8, marginWide, roomy)
}

func (j *Job) marginMap(g *check.GridSlots, c *chart) marginMap {
	things := j.Margins.Things(g.Grid)
	m := marginMap{Name: g.Name, Size: sizeOf(g), Map: c.margins(j.Margins)}
	m.At, m.Least = g.Label(g.Slot(things[0].Slot)), j.Margins.Words(things[0].Margin)
	if !inRows(g.Grid) {
		m.Notes = append(m.Notes, notInRows)
	}
	if c.block > 1 {
		m.Notes = append(m.Notes, fmt.Sprintf("Each field stands for up to %d × %d slots, and shows the one that has least.", c.block, c.block))
	}
	if g.Layered() {
		m.Notes = append(m.Notes, "Of slots above each other the one is shown that has least.")
	}
	if c.block > 1 || c.cell < forWords || g.Layered() {
		for _, l := range things {
			m.Things.add(g.Label(g.Slot(l.Slot)), j.Margins.Words(l.Margin), strconv.Itoa(l.Slots))
		}
		m.Things.keep(mostThings, "row")
	}
	return m
}

// margins is the map of what is left at the slots of the chart's grid, as an SVG picture.
func (c *chart) margins(of *margin.Slots) template.HTML {
	var b strings.Builder
	across, down := c.lies.size(c.rows, c.cols)
	w, h := c.left+float64(float64(across)*c.cell)+0.5, c.top+float64(float64(down)*c.cell)+0.5
	fmt.Fprintf(&b, `<svg class="map" role="img" aria-label="%s: the margins of the arm, slot by slot" width="%smm" height="%smm" viewBox="0 0 %s %s">`,
		html.EscapeString(c.g.Name), dim(w), dim(h), dim(w), dim(h))
	c.edges(&b)
	fields := c.leastFields(of)
	c.marginFields(&b, of, fields)
	if c.block == 1 && c.cell >= forFigure {
		for _, f := range fields {
			if f.least.Kind != margin.None {
				c.marginText(&b, of, f)
			}
		}
	}
	b.WriteString("</svg>")
	return template.HTML(b.String())
}

// field is one field of a map of margins, with what is left in that of its slots that has least.
type field struct {
	row, col int
	there    bool
	least    margin.Margin
}

func (c *chart) leastFields(of *margin.Slots) (fields []field) {
	all := of.In(c.g.Grid)
	for row := range c.rows {
		for col := range c.across(row) {
			f := field{row: row, col: col}
			c.slots(row, col, func(i int) {
				if f.there = true; of.Less(all[i], f.least) {
					f.least = all[i]
				}
			})
			fields = append(fields, f)
		}
	}
	return fields
}

// slots shows the slots of a field, in all layers.
func (c *chart) slots(row, col int, show func(i int)) {
	for layer := range c.g.Layers {
		for r := row * c.block; r < min((row+1)*c.block, c.g.Rows); r++ {
			for k := col * c.block; k < min((col+1)*c.block, c.g.Length(r)); k++ {
				if i := c.g.Index(slot.Slot{Row: int32(r), Col: int32(k), Layer: int32(layer)}); !c.g.Missing.Has(i) {
					show(i)
				}
			}
		}
	}
}

// marginFields draws the fields, those of one band together.
func (c *chart) marginFields(b *strings.Builder, of *margin.Slots, fields []field) {
	var paths [margin.Bands + 2]strings.Builder // the last ones: where the job does not work, and no slot
	gap := 0.05 * c.cell
	side := dim(c.cell - 2*gap)
	for _, f := range fields {
		x, y := c.at(f.row, f.col)
		at := "M" + dim(x+gap) + " " + dim(y+gap)
		square := at + "h" + side + "v" + side + "h-" + side + "z"
		switch {
		case !f.there:
			paths[margin.Bands+1].WriteString(at + "l" + side + " " + side + "m0-" + side + "l-" + side + " " + side)
		case f.least.Kind == margin.None:
			paths[margin.Bands].WriteString(square)
		default:
			paths[of.Band(f.least)].WriteString(square)
		}
	}
	for i := range paths {
		class := ""
		switch i {
		case margin.Bands:
			class = "free"
		case margin.Bands + 1:
			class = "gone"
		default:
			class = margin.BandName(i)
		}
		if d := paths[i].String(); d != "" {
			fmt.Fprintf(b, `<path class="%s" stroke-width="%s" d="%s"/>`, class, dim(min(0.3, 0.08*c.cell)), d)
		}
	}
}

// marginText writes what is left into a field, and what it is to where there is room.
func (c *chart) marginText(b *strings.Builder, of *margin.Slots, f field) {
	const perLetter = 1.45 // mm, of letters of 3 mm
	x, y := c.middle(f.row, f.col)
	class := "turn"
	if of.Band(f.least) < 2 {
		class = "turn lit"
	}
	if c.cell < forWords {
		c.letters(b, class, x, y, of.Figure(f.least))
		return
	}
	c.letters(b, class, x, y-1.9, of.Figure(f.least))
	name := []rune(of.To(f.least))
	if most := int(math.Floor((0.9*c.cell - 0.4) / perLetter)); len(name) > most {
		name = append(name[:most-1], '…')
	}
	c.letters(b, class, x, y+2.1, html.EscapeString(string(name)))
}
