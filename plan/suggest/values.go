package suggest

import (
	"encoding/json"
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/unit"
)

// value suggests what may stand at the spot, where it is no key: keys of a mapping or an item of
// a list that may begin there, words, names, units.
func (w *writer) value() {
	row, found := decode.Find(w.form, w.path...)
	if !found {
		return
	}
	form := row.Form
	if w.below && w.level == nil {
		w.keys(w.path)
	}
	if w.below && !w.flow && decode.ShapeOf(form) == decode.Listed && len(decode.Figures(form)) == 0 {
		w.items(form)
		return
	}
	w.words(row)
}

// items suggests the first item of a list.
func (w *writer) items(form decode.Form) {
	item, _ := decode.Find(form, "1")
	first := *w
	first.dash, first.level, first.path, first.out = true, nil, append(w.path, "1"), nil
	first.keys(first.path)
	first.words(item)
	w.out = append(w.out, first.out...)
}

// words suggests what single values there are.
func (w *writer) words(row decode.Key) {
	table, words := decode.NamesOf(row.Form)
	names := namesIn(w.files)
	switch table {
	case "":
	case "grids":
		w.gridAndSlots(names)
	case "slots":
		if at := len(w.path) - 2; at >= 0 {
			w.slots(names.grid(gridOf(w.path)), w.word)
		}
	default:
		for _, n := range names.of(table) {
			w.add(Name, n.name, n.name, n.doc())
		}
	}
	for _, word := range words {
		w.add(Word, word, word, "")
	}
	if words == nil && w.word == "" && row.Usual != nil {
		w.add(Word, usual(row.Usual), usual(row.Usual), "holds where the key is left out")
	}
	if figures := decode.Figures(decode.Alone(row.Form)); len(figures) == 1 && figures[0].Dimension != 0 {
		w.units(figures[0].Dimension)
	}
}

// usual is a value as it is written.
func usual(value any) string {
	text, err := json.Marshal(value)
	if err != nil {
		return ""
	}
	return strings.ReplaceAll(strings.Trim(string(text), `"`), ",", ", ")
}

// units suggests those of a dimension behind a number.
func (w *writer) units(d unit.Dimension) {
	digits := strings.TrimRight(w.word, " ")
	letters := ""
	if i := strings.LastIndexAny(digits, "0123456789."); i >= 0 {
		digits, letters = digits[:i+1], strings.TrimLeft(w.word[i+1:], " ")
	}
	if _, err := unit.ParseNumber(digits); err != nil {
		return
	}
	behind := *w
	behind.start, behind.word, behind.out = w.start+len(digits), letters, nil
	behind.end = max(behind.start, min(w.end, behind.start+len(w.word)-len(digits)))
	for _, symbol := range unit.Symbols(d) {
		behind.add(Word, symbol, " "+symbol, "")
	}
	w.out = append(w.out, behind.out...)
}

// gridAndSlots suggests a grid or, behind its name, some of its slots.
func (w *writer) gridAndSlots(names *names) {
	grid, slots, named := strings.Cut(w.word, " ")
	if !named {
		for _, n := range names.of("grids") {
			w.add(Name, n.name, n.name, n.doc())
		}
		return
	}
	w.slots(names.grid(grid), slots)
}

// slots suggests the next slots of a selection of which some may be written.
func (w *writer) slots(g grid, written string) {
	last := strings.TrimLeft(written[strings.LastIndexAny(written, ",")+1:], " ")
	rest := *w
	rest.start, rest.word, rest.out = w.start+len(w.word)-len(last), last, nil
	rest.end = max(rest.start, w.start+len(w.word))
	for _, text := range g.selections() {
		rest.add(Word, text.slots, text.slots, text.doc)
	}
	w.out = append(w.out, rest.out...)
}

// gridOf is the grid in whose keys a path leads, "" for none.
func gridOf(path []string) string {
	if len(path) > 1 && (path[0] == "grids" || path[0] == "filled") {
		return path[1]
	}
	return ""
}
