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
    jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: GRIP, release: {output: 1, level: off, settle: 0.3}CHANGE-jaw}
    cup: {tcp: {at: [10, 0, 80], rpy: [0, 0, 90]}, mass: 1, grip: {output: 11, level: on, holds: {input: 6, level: on, within: 1}}, release: {output: 11, level: off}CHANGE-cup}
    comb:
      tcp: {at: [0, 0, 90]}
      mass: 1
      zones:
        a: {at: [-30, 0, 0], grip: {output: 21, level: on, settle: 0.4}, release: {output: 21, level: off, settle: 0.1}}
        b: {at: [0, 0, 0], grip: {output: 22, level: on, settle: 0.2, holds: {input: 8, level: on, within: 2}}, release: {set: {22: off, 25: on}, pulse: {26: 0.2}, settle: 0.3}}
        c: {at: [30, 0, 0], grip: {output: 23, level: on}, release: {output: 23, level: off}}
CHANGE-comb
  frames:
    left: {at: [100, 200, 10]}
    right: {at: [-300, 50, 20], rpy: [0, 0, 30]}
    slope: {at: [0, -400, 100], rpy: [25, 0, 0]}
  poses:
    high: {at: [300, 0, 500]}
    rest: {frame: left, at: [200, 0, 400]}
    door: {frame: right, at: [20, -30, 300], rpy: [170, 10, 0]}
    porch: {frame: right, at: [20, -130, 300]}
parts:
  block: {mass: 0.1}
`

// draw is one of some texts; where none is written, the empty one stands for a key that
// is left out.
func draw(r *rapid.T, what string, from ...string) string {
	return rapid.SampledFrom(from).Draw(r, what)
}

// chance is true once in so many times.
func chance(r *rapid.T, what string, in int) bool {
	return rapid.IntRange(1, in).Draw(r, what) == in
}

// randomPlan writes a plan; many are sound, some are not.
func randomPlan(r *rapid.T) string {
	var b strings.Builder
	b.WriteString(cellOf(r) + "grids:\n")
	grids := []randomGrid{
		{name: "spot", text: "  spot: {frame: left, rows: 1, columns: 1, first: [900, 0, 0], part: block" + motionOf(r, "spot", false) + "}\n", rows: 1, columns: 1},
		{name: "infeed", rows: 1, columns: rapid.IntRange(1, 3).Draw(r, "lanes")},
	}
	grids[1].text = fmt.Sprintf("  infeed: {frame: right, rows: 1, columns: %d, pitch: [30, 0], first: [0, 900, 0], part: block, flow: in%s}\n", grids[1].columns, motionOf(r, "infeed", false))
	for i := range 3 {
		grids = append(grids, randomGridOf(r, i))
	}
	for _, g := range grids {
		b.WriteString(g.text)
	}
	b.WriteString("  chute: {frame: left, rows: 1, columns: 2, pitch: [30, 0], first: [0, 900, 0], flow: out" + motionOf(r, "chute", false) + "}\n")
	b.WriteString("  sheet: {frame: slope, rows: 2, columns: 3, layers: 2, layer_pitch: 9, corners: {A1: [0, 0, 0], A3: [60, 1, 0], B3: [62, 30, 1], B1: [0, 29, 1]}, part: block, filled: A1:A3" + motionOf(r, "sheet", false) + "}\n")
	b.WriteString("motion: {tool: jaw, approach: 50, speed: {travel: 400, near: 50" + draw(r, "loaded", "", ", loaded: 300") + "}")
	b.WriteString(draw(r, "clear", ", clear: high", ", clear: high", "") + draw(r, "start", "", ", start: rest") + draw(r, "entry", "", "", ", entry: [porch]"))
	b.WriteString(draw(r, "stops", "", "", ", optional_stop: after-transfer") + draw(r, "along", "", "", ", along: tool"))
	b.WriteString("}\n")
	for _, when := range []string{"begin", "end"} {
		if steps := stepsOf(r, when, 3); steps != "" {
			b.WriteString(when + ": " + steps + "\n")
		}
	}
	b.WriteString("transfers:\n")
	for range rapid.IntRange(1, 3).Draw(r, "entries") {
		b.WriteString(randomEntry(r, grids))
	}
	return b.String()
}

func cellOf(r *rapid.T) string {
	grip := draw(r, "grip",
		"{output: 1, level: on, settle: 0.4}",
		"{output: 1, level: on, settle: 0.4, holds: {input: 5, level: on, within: 1.5}}",
		"{set: {1: on, 2: off}, holds: {input: 5, level: off, within: 2}}",
		"{set: {1: on, 2: on, 3: off}, pulse: {7: 0.2, 6: 0.1}, settle: 0.4}",
	)
	cell := strings.Replace(randomCell, "GRIP", grip, 1)
	if rapid.Bool().Draw(r, "two coils") {
		cell = strings.Replace(cell, "output: 1, level: off, settle", "set: {1: off, 2: on}, pulse: {8: 0.25}, settle", 1)
	}
	for _, tool := range []string{"jaw", "cup", "comb"} {
		format, keys := ", %s", ""
		if tool == "comb" {
			format = "      %s\n"
		}
		for _, key := range []string{"fetch", "leave"} {
			if rapid.Bool().Draw(r, key) {
				keys += fmt.Sprintf(format, key+": [{go: porch}, {line: door}, {set: {output: 30, level: on}}, {await: {input: 31, level: on, within: 2}}, {line: porch}]")
			}
		}
		cell = strings.Replace(cell, "CHANGE-"+tool+"\n", keys+"\n", 1)
		cell = strings.Replace(cell, "CHANGE-"+tool, keys, 1)
	}
	return cell
}

// motionOf is the motion of a grid or an entry, mostly none.
func motionOf(r *rapid.T, of string, tool bool) string {
	if !tool && !chance(r, of+" moves", 3) {
		return ""
	}
	var keys, speed []string
	some := func(to *[]string, texts ...string) {
		if chance(r, of, 3) {
			*to = append(*to, draw(r, of, texts...))
		}
	}
	some(&speed, "travel: 200", "travel: 250")
	some(&speed, "near: 20", "near: 60")
	some(&speed, "loaded: 100", "loaded: 350")
	some(&keys, "approach: 30", "approach: 45")
	some(&keys, "fly_by: 5")
	some(&keys, "release_above: 1", "release_above: 2.5")
	some(&keys, "along: tool", "along: frame", "along: [0, 0.4, 1]", "along: [-1, 0.5, 3]")
	some(&keys, "clear: high", "clear: rest", "clear: none", "clear: none")
	some(&keys, "entry: [porch, door]", "entry: [door]", "entry: [porch, door]", "entry: []", "entry: [rest, high, rest]")
	some(&keys, "optional_stop: after-transfer", "optional_stop: never")
	if tool {
		keys = append(keys, "tool: "+draw(r, "tool", "jaw", "cup", "comb", "comb", "comb"))
	}
	if speed != nil {
		keys = append(keys, "speed: {"+strings.Join(speed, ", ")+"}")
	}
	if keys == nil {
		return ""
	}
	return ", motion: {" + strings.Join(keys, ", ") + "}"
}

// stepsOf is up to so many steps, mostly none.
func stepsOf(r *rapid.T, where string, most int) string {
	var steps []string
	for range max(0, rapid.IntRange(-most, most).Draw(r, where)) {
		steps = append(steps, draw(r, where,
			"{go: porch}", "{go: door}", "{go: high}", "{line: door}", "{line: porch}", "{go: rest}", "{note: look}", "{dwell: 1}",
			"{pulse: {output: 9, seconds: 0.2}}", "{set: {output: 7, level: on}}", "{await: {input: 4, level: off, within: 3, else: go-on}}"))
	}
	if steps == nil {
		return ""
	}
	return "[" + strings.Join(steps, ", ") + "]"
}

type randomGrid struct {
	name, text    string
	rows, columns int
}

func randomGridOf(r *rapid.T, number int) randomGrid {
	name := fmt.Sprint("g", number)
	size := func(what string, most int) int { return rapid.IntRange(1, most).Draw(r, what) }
	g := randomGrid{name: name, rows: size("rows", 5), columns: size("columns", 14)}
	layers := max(1, rapid.IntRange(-2, 3).Draw(r, "layers"))
	g.text = fmt.Sprintf("  %s: {frame: %s, rows: %d, columns: %d, layers: %d, pitch: [%s, -25.5], layer_pitch: 12, first: [%d, 40, 20], part: block%s",
		name, draw(r, "frame", "left", "right", "slope"), g.rows, g.columns, layers, draw(r, "pitch", "30", "30", "45"), 1000*number, motionOf(r, name, false))
	g.text += draw(r, "roll", "", "", ", rpy: [165, 0, 0]", ", rpy: [180, 0, 180]")
	if chance(r, "staggered", 3) {
		g.text += ", stagger: 15"
	}
	if chance(r, "off", 4) {
		g.text += fmt.Sprintf(", offsets: {%s: [0.5, -0.25, 1]}", g.label(r))
	}
	if chance(r, "holes", 4) {
		g.text += fmt.Sprintf(", missing: [%q]", g.selection(r))
	}
	switch {
	case number == 0, chance(r, "full", 4):
		g.text += ", filled: all"
	case chance(r, "some", 4):
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

func randomEntry(r *rapid.T, grids []randomGrid) string {
	stop := func(more ...string) string {
		names := more
		for _, g := range grids[2:] {
			names = append(names, g.name, g.name)
		}
		target := draw(r, "grid", names...)
		for _, g := range grids {
			if g.name == target && chance(r, "exact", 6) {
				target += " " + g.selection(r)
			}
		}
		text := fmt.Sprintf("{grid: %q", target)
		for _, when := range []string{"before", "then"} {
			if steps := stepsOf(r, when, 2); steps != "" && rapid.Bool().Draw(r, "with "+when) {
				text += ", " + when + ": " + steps
			}
		}
		return text + "}"
	}
	stops, advance := []string{stop("infeed", "sheet", "g0", "g0"), stop("chute", "sheet", "g1", "g2")}, "part"
	if chance(r, "chain", 3) {
		advance = draw(r, "advance", "leg", "part")
		stops = []string{stops[0], stop("spot", "spot"), stops[1]}
	}
	text := fmt.Sprintf("  - {chain: [%s], advance: %s", strings.Join(stops, ", "), advance)
	text += ", order: " + draw(r, "order", orders...)
	if rapid.Bool().Draw(r, "limited") {
		text += fmt.Sprintf(", take: %d", rapid.IntRange(1, 12).Draw(r, "take"))
	}
	own := motionOf(r, "an entry", rapid.Bool().Draw(r, "with tool"))
	text += own
	if strings.Contains(own, "comb") && !chance(r, "one by one", 4) {
		text += fmt.Sprintf(", at_once: %d", rapid.IntRange(2, 3).Draw(r, "zones"))
	}
	return text + "}\n"
}
