package nest_test

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"

	"gridferry/gen/slot"
)

const randomCell = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: made up
  tools:
    jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: GRIP, release: {output: 1, level: off, settle: 0.3}}
  frames:
    left: {at: [100, 200, 10]}
    right: {at: [-300, 50, 20], rpy: [0, 0, 30]}
  poses:
    high: {at: [300, 0, 500]}
    rest: {frame: left, at: [200, 0, 400]}
parts:
  block: {mass: 0.1}
`

// randomPlan writes a plan; many are sound, some are not.
func randomPlan(r *rapid.T) string {
	var b strings.Builder
	grip := rapid.SampledFrom([]string{
		"{output: 1, level: on, settle: 0.4}",
		"{output: 1, level: on, settle: 0.4, holds: {input: 5, level: on, within: 1.5}}",
		"{set: {1: on, 2: off}, holds: {input: 5, level: off, within: 2}}",
		"{set: {1: on, 2: on, 3: off}, pulse: {7: 0.2, 6: 0.1}, settle: 0.4}",
	}).Draw(r, "grip")
	cell := strings.Replace(randomCell, "GRIP", grip, 1)
	if rapid.Bool().Draw(r, "two coils") {
		cell = strings.Replace(cell, "output: 1, level: off, settle", "set: {1: off, 2: on}, pulse: {8: 0.25}, settle", 1)
	}
	b.WriteString(cell + "grids:\n")
	var grids []randomGrid
	for i := range 3 {
		grids = append(grids, randomGridOf(r, i))
		b.WriteString(grids[i].text)
	}
	single := randomGrid{name: "spot", rows: 1, columns: 1, layers: 1}
	b.WriteString("  spot: {frame: left, rows: 1, columns: 1, first: [900, 0, 0], part: block}\n")
	b.WriteString("motion: {tool: jaw, approach: 50, speed: {travel: 400, near: 50}")
	if rapid.Bool().Draw(r, "clear") {
		b.WriteString(", clear: high")
	}
	if rapid.Bool().Draw(r, "start") {
		b.WriteString(", start: rest")
	}
	b.WriteString("}\ntransfers:\n")
	for range rapid.IntRange(1, 3).Draw(r, "entries") {
		b.WriteString(randomEntry(r, grids, single))
	}
	return b.String()
}

type randomGrid struct {
	name, text            string
	rows, columns, layers int
}

func randomGridOf(r *rapid.T, number int) randomGrid {
	name := fmt.Sprint("g", number)
	size := func(what string, most int) int { return rapid.IntRange(1, most).Draw(r, what) }
	g := randomGrid{name: name, rows: size("rows", 5), columns: size("columns", 14), layers: size("layers", 3)}
	g.text = fmt.Sprintf("  %s: {frame: %s, rows: %d, columns: %d, layers: %d, pitch: [30, -25.5], layer_pitch: 12, first: [%d, 40, 20], part: block",
		name, rapid.SampledFrom([]string{"left", "right"}).Draw(r, "frame"), g.rows, g.columns, g.layers, 1000*number)
	if rapid.Bool().Draw(r, "staggered") {
		g.text += ", stagger: 15"
	}
	if rapid.IntRange(0, 2).Draw(r, "holes") == 2 {
		g.text += fmt.Sprintf(", missing: [%q]", g.selection(r))
	}
	switch {
	case number == 0, rapid.Bool().Draw(r, "full"):
		g.text += ", filled: all"
	case rapid.Bool().Draw(r, "some"):
		g.text += fmt.Sprintf(", filled: %q", g.selection(r))
	}
	g.text += "}\n"
	return g
}

// selection is one rectangle or a few slots.
func (g randomGrid) selection(r *rapid.T) string {
	var items []string
	for range max(1, rapid.IntRange(-3, 3).Draw(r, "items")) {
		item := g.label(r)
		if rapid.Bool().Draw(r, "range") {
			item += ":" + g.label(r)
		}
		items = append(items, item)
	}
	return strings.Join(items, ", ")
}

func (g randomGrid) label(r *rapid.T) string {
	at := slot.Slot{Row: int32(rapid.IntRange(0, g.rows-1).Draw(r, "row")), Col: int32(rapid.IntRange(0, g.columns-1).Draw(r, "column"))}
	return at.Label(false)
}

var orders = []string{"by-row", "by-column", "serpentine", "{from: serpentine, to: by-column}", "{from: by-column, to: serpentine}", "{to: by-column}"}

func randomEntry(r *rapid.T, grids []randomGrid, single randomGrid) string {
	stop := func() string {
		g := rapid.SampledFrom(grids).Draw(r, "grid")
		if rapid.IntRange(0, 4).Draw(r, "exact") == 4 {
			return g.name + " " + g.selection(r)
		}
		return g.name
	}
	text := fmt.Sprintf("  - {from: %q, to: %q", stop(), stop())
	if rapid.Bool().Draw(r, "chain") {
		middle := stop()
		advance := rapid.SampledFrom([]string{"leg", "part"}).Draw(r, "advance")
		if rapid.Bool().Draw(r, "spot") {
			middle, advance = single.name, "part"
		}
		text = fmt.Sprintf("  - {chain: [%q, {grid: %q, then: [dwell: 1, set: {output: 7, level: on}]}, %q], advance: %s", stop(), middle, stop(), advance)
	}
	text += ", order: " + rapid.SampledFrom(orders).Draw(r, "order")
	if rapid.Bool().Draw(r, "limited") {
		text += fmt.Sprintf(", take: %d", rapid.IntRange(1, 12).Draw(r, "take"))
	}
	return text + "}\n"
}
