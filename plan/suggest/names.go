package suggest

import (
	"strconv"
	"strings"

	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// name is one that stands in a file.
type name struct {
	name string
	what string // such as "frame"
	file string
	line int
}

func (n name) doc() string { return n.what + ", " + n.file + ":" + strconv.Itoa(n.line) }

// names is all that the files name, table by table, and how large grids are.
type names struct {
	tables map[string][]name
	grids  map[string]*grid
	seen   map[string]bool // tables with names
}

func (n *names) of(table string) []name { return n.tables[table] }

func (n *names) grid(name string) grid {
	if g := n.grids[name]; g != nil {
		return *g
	}
	return grid{}
}

// Tables are those whose names are written elsewhere, each with what one of them is.
var Tables = map[string]string{"parts": "part", "grids": "grid", "tools": "tool", "frames": "frame", "poses": "pose"}

// namesIn goes through all files.
func namesIn(files []File) *names {
	all := &names{tables: map[string][]name{}, grids: map[string]*grid{}, seen: map[string]bool{}}
	for _, f := range files {
		s := newScanner()
		s.onKey = func(levels []*level, key string, at span) { all.key(f.Name, levels, key, at.line) }
		s.onValue = all.value
		for _, line := range diag.SplitLines(strings.TrimPrefix(f.Text, "\ufeff")) {
			if !s.line(line) {
				break
			}
		}
	}
	return all
}

// key keeps a key that names something: one below a table of the file or, in a plan, of its cell.
func (n *names) key(file string, levels []*level, key string, line int) {
	if len(levels) == 3 && levels[0].key == "cell" {
		levels = levels[1:]
	}
	if len(levels) != 2 {
		return
	}
	table := levels[0].key
	what, known := Tables[table]
	if again := table + " " + key; !known || n.seen[again] {
		return
	} else {
		n.seen[again] = true
	}
	n.tables[table] = append(n.tables[table], name{key, what, file, line})
	if table == "grids" {
		n.grids[key] = &grid{}
	}
}

// value keeps how large a grid is.
func (n *names) value(levels []*level, text string, _ span) {
	if len(levels) != 3 || levels[0].key != "grids" || n.grids[levels[1].key] == nil {
		return
	}
	g := n.grids[levels[1].key]
	number, err := strconv.Atoi(text)
	switch key := levels[2].key; {
	case key == "standard":
		g.rows, g.columns = plates[text][0], plates[text][1]
	case err != nil || number < 1:
	case key == "rows":
		g.rows = number
	case key == "columns":
		g.columns = number
	}
}

// plates are the rows and columns of the plates of ANSI/SLAS 4-2004.
var plates = map[string][2]int{"ansi-slas-96": {8, 12}, "ansi-slas-384": {16, 24}, "ansi-slas-1536": {32, 48}}

// grid is the size of one; 0 where it is not known.
type grid struct{ rows, columns int }

// selection is slots as they are written.
type selection struct{ slots, doc string }

// mostRows bounds the selections that are offered.
const mostRows = 32

// selections is some that a person may want: all, row by row, the first slot.
func (g grid) selections() []selection {
	if g.rows == 0 || g.columns == 0 || g.rows > 18278 {
		return nil
	}
	last := strconv.Itoa(g.columns)
	all := []selection{{"A1", "the first slot"}}
	if g.rows*g.columns > 1 {
		all = append(all, selection{"A1:" + letters(g.rows-1) + last, "all " + wording.Count(g.rows*g.columns, "slot")})
	}
	for row := 0; row < min(g.rows, mostRows) && g.rows > 1 && g.columns > 1; row++ {
		all = append(all, selection{letters(row) + "1:" + letters(row) + last, "row " + letters(row)})
	}
	return all
}

// letters is the name of a row, counted from 0: A to Z, AA and so on.
func letters(row int) string {
	text := ""
	for row++; row > 0; row = (row - 1) / 26 {
		text = string(rune('A'+(row-1)%26)) + text
	}
	return text
}
