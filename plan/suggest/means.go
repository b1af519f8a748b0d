package suggest

import (
	"strings"
	"unicode/utf8"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Meaning is what a key says.
type Meaning struct {
	Path    string   `json:"path"` // such as grids.tray.rows
	Doc     string   `json:"doc"`
	Needed  bool     `json:"needed,omitempty"`
	LeftOut string   `json:"leftOut,omitempty"` // what holds where it is left out; "" for nothing, or unknown
	Unit    string   `json:"unit,omitempty"`    // of a figure without one
	Words   []string `json:"words,omitempty"`   // where only a few may be written
	Column  int      `json:"column"`            // of the key or the value, in characters, from 1
	End     int      `json:"end"`
	Said    []string `json:"said"` // the same in sentences
}

// MeansLine is what the first key says that stands on a line.
func MeansLine(files []File, file string, line int) (Meaning, bool) {
	of, ok := fileIn(files, file)
	lines := diag.SplitLines(of.Text)
	if !ok || line < 1 || line > len(lines) {
		return Meaning{}, false
	}
	here := lines[line-1]
	return Means(files, file, line, 1+len(here)-len(strings.TrimLeft(here, " -")))
}

// Means is what the key says that stands at a line and a column, or whose value stands there; false
// where none does, or none that is known.
func Means(files []File, file string, line, column int) (Meaning, bool) {
	of, ok := fileIn(files, file)
	if !ok {
		return Meaning{}, false
	}
	at, lineText := find(of.Text, line, column)
	if at == nil || at.start == at.end {
		return Meaning{}, false
	}
	path := at.path
	if at.level != nil {
		path = append(path, lineText[at.start:at.end])
	}
	return meaning(of.form(), path, at, lineText)
}

// meaning is that of the innermost key of a path that has a sentence: an item of a list is
// what its list is.
func meaning(form decode.Form, path []string, at *spot, line string) (Meaning, bool) {
	for n := len(path); n > 0; n-- {
		row, found := decode.Find(form, path[:n]...)
		if !found || row.Doc == "" {
			continue
		}
		column := 1 + utf8.RuneCountInString(line[:at.start])
		m := Meaning{Path: strings.Join(path[:n], "."), Doc: row.Doc, Needed: row.Needed, LeftOut: leftOut(row), Unit: unitOf(row.Form),
			Column: column, End: column + utf8.RuneCountInString(line[at.start:at.end])}
		if table, words := decode.NamesOf(row.Form); table == "" {
			m.Words = words
		}
		m.Said = m.sentences()
		return m, true
	}
	return Meaning{}, false
}

// leftOut is what holds where a key is left out.
func leftOut(k decode.Key) string {
	if k.LeftOut != "" || k.Usual == nil {
		return k.LeftOut
	}
	return usual(k.Usual)
}

// unitOf is the unit of the figures of a form, "" for none.
func unitOf(form decode.Form) string {
	figures := decode.Figures(form)
	if len(figures) == 0 {
		figures = decode.Figures(decode.Alone(form))
	}
	if len(figures) == 0 {
		return ""
	}
	return figures[0].Dimension.Base()
}

// sentence is what is said of a key that is suggested.
func sentence(k decode.Key) string {
	doc := k.Doc
	switch left := leftOut(k); {
	case k.Needed:
		doc += " It has to be there."
	case left != "":
		doc += " Left out: " + left + "."
	}
	return doc
}

// sentences say what is known of the key.
func (m *Meaning) sentences() []string {
	said := []string{m.Path + ": " + m.Doc}
	add := func(before, text string) {
		if text != "" {
			said = append(said, before+text+".")
		}
	}
	if m.Needed {
		said = append(said, "It has to be there.")
	}
	add("Left out: ", m.LeftOut)
	add("A figure without a unit is in ", m.Unit)
	add("It is one of ", strings.Join(m.Words, ", "))
	return said
}
