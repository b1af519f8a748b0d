// Package knob finds the figures of a plan and its cell that can be turned: where each stands,
// and between which values. It goes by the tables of keys that read the files.
package knob

import (
	"cmp"
	"iter"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// Knob is a figure that can be turned. The number alone stands from Column to before End of
// its line, in characters from 1; all values are in Unit.
type Knob struct {
	File   string  `json:"file"`
	Line   int     `json:"line"`
	Column int     `json:"column"`
	End    int     `json:"end"`
	Path   string  `json:"path"`  // as "--set" has it, such as grids.tray.columns
	Group  string  `json:"group"` // what it is of: "grid tray"
	Name   string  `json:"name"`  // "columns"
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"` // as it is written behind the number, or in which a number alone is; "" for a count
	Text   string  `json:"text"` // the number as it is written
	Whole  bool    `json:"whole"`
	Least  float64 `json:"least"`
	Most   float64 `json:"most"`
	Step   float64 `json:"step"`

	behind string // what stands behind the number: its unit, with a blank or without
}

// most is how many knobs there are at most: more than a person looks through.
const most = 300

// largest is the most bytes of a file that is looked through: nobody turns figures in a longer one, and to
// read it takes its time.
const largest = 1 << 20

// Of is the knobs of some files, each by its name with its text: of a plan, then of a cell,
// then of measured values. What cannot be read has none.
func Of(texts iter.Seq2[string, string]) []Knob {
	byRole := map[string][]Knob{}
	for name, text := range texts {
		if len(text) > largest {
			continue
		}
		f := file{name: name, text: text, lines: diag.SplitLines(text)}
		root, ok := decode.File(name, text, new(diag.List))
		if !ok || !decode.IsMap(root) {
			continue
		}
		format := root.Child("format").Text()
		switch format {
		case plan.Format:
		case plan.CellFormat, plan.MeasuredFormat:
			f.prefix = "cell."
		default:
			continue
		}
		form, _ := plan.FormOf(format)
		f.visit(root, form, nil)
		byRole[format] = append(byRole[format], f.knobs...)
	}
	all := slices.Concat(byRole[plan.Format], byRole[plan.CellFormat], byRole[plan.MeasuredFormat])
	slices.SortStableFunc(all, func(a, b Knob) int { return cmp.Compare(ofCell(a), ofCell(b)) })
	return all[:min(len(all), most)]
}

// ofCell is 1 for a figure of the cell, which may stand in the plan.
func ofCell(k Knob) int {
	if strings.HasPrefix(k.Path, "cell.") {
		return 1
	}
	return 0
}

// Worded is a value as it is written in place of the number: in as many decimals as it
// needs, at most six.
func (k Knob) Worded(value float64) string {
	if k.Whole {
		return strconv.Itoa(int(math.Round(value)))
	}
	text := strconv.FormatFloat(value, 'f', mostDecimals, 64)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

// mostDecimals is that of a number that can be turned.
const mostDecimals = 6

// Turn is the text of the knob's file with another value; nothing else in it changes.
func (k Knob) Turn(text string, value float64) string {
	start := 0
	for range k.Line - 1 {
		i := strings.IndexAny(text[start:], "\r\n")
		start += i + 1
		if text[start-1] == '\r' && strings.HasPrefix(text[start:], "\n") {
			start++
		}
	}
	if k.Line == 1 {
		start = len(text) - len(strings.TrimPrefix(text, "\ufeff"))
	}
	for range k.Column - 1 {
		_, size := utf8.DecodeRuneInString(text[start:])
		start += size
	}
	return text[:start] + k.Worded(value) + text[start+len(k.Text):]
}

// Setting is the same as a setting of the plan, for "--set".
func (k Knob) Setting(value float64) plan.Setting {
	return plan.Setting{Path: k.Path, Value: k.Worded(value) + k.behind}
}

// file is a text in which knobs are looked for.
type file struct {
	name, text string
	lines      []string
	prefix     string // of paths
	knobs      []Knob
}

// left is the keys below which nothing is turned: what was measured or what a maker says of an arm,
// numbers that the controller knows things by, and values of variants.
var left = []string{"arm", "three_points", "best_fit", "pivot", "corners", "number", "variants"}

// visit goes through all that is written below a node. What an alias or a merge stands for
// is written, and turned, further up.
func (f *file) visit(n decode.Node, form decode.Form, path []string) {
	if len(f.knobs) >= most {
		return
	}
	figures := decode.Figures(form)
	if decode.IsText(n) {
		if single := decode.Figures(decode.Alone(form)); len(single) == 1 {
			f.take(n, single[0], path)
		}
		return
	}
	inner := func(part string, value decode.Node, at diag.Place) {
		if at.Less(n.Place()) || slices.Contains(left, part) {
			return
		}
		if row, known := decode.Find(form, part); known {
			f.visit(value, row.Form, append(slices.Clone(path), part))
		}
	}
	shape := decode.ShapeOf(form)
	for _, e := range n.Entries() {
		if shape == decode.Keyed || shape == decode.Tabled {
			inner(e.Key.Text(), e.Value, e.Key.Place())
		}
	}
	for i, item := range n.Items() {
		part := strconv.Itoa(i + 1)
		switch {
		case shape != decode.Listed:
		case len(figures) == 0:
			inner(part, item, item.Place())
		case i < len(figures) && !item.Place().Less(n.Place()):
			f.take(item, figures[i], append(slices.Clone(path), part))
		}
	}
}

// figure is a number as it is turned, with what may stand behind it.
var figure = lazy.Regexp(`^([-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+))(\s*([^\s0-9.,:'_].*)?)$`)

// take makes a knob of a value that stands in the text as a plain figure.
func (f *file) take(n decode.Node, of decode.Figure, path []string) {
	at := n.Place()
	if at.Line < 1 || at.Line > len(f.lines) || of.Dimension == 0 && !of.Whole || of.High == plan.HighestSignal {
		return
	}
	line := []rune(f.lines[at.Line-1])
	start := at.Col - 1
	if n.Quoted() {
		start++
	}
	m := figure().FindStringSubmatch(n.Text())
	if m == nil || of.Whole && m[2] != "" || start > len(line) || !strings.HasPrefix(string(line[start:]), n.Text()) {
		return
	}
	number, err := strconv.ParseFloat(m[1], 64)
	k := Knob{File: f.name, Line: at.Line, Column: start + 1, End: start + 1 + len(m[1]), Path: f.prefix + strings.Join(path, "."),
		Value: number, Unit: m[3], Text: m[1], Whole: of.Whole, behind: strings.TrimRight(m[2], " ")}
	if k.Unit == "" {
		k.Unit = of.Dimension.Base()
	}
	if err != nil || decimals(k.Text) > mostDecimals || !k.scale(of) {
		return
	}
	k.Group, k.Name = named(strings.Split(strings.TrimPrefix(k.Path, "cell."), "."), of.Name)
	f.knobs = append(f.knobs, k)
}
