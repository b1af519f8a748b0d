// Package suggest offers what may be written at a place of a plan, a cell or another file
// with a table of keys, and says what stands there. It asks the tables that read the files,
// and the names in them. It works on texts that are half written, and opens no file.
package suggest

import (
	"slices"
	"strings"
	"unicode/utf8"

	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// File is the text of a file.
type File struct {
	Name, Text string
	Form       decode.Form // how it is written; nil for what it says itself, or its name
}

// Suggestion is something that may be written.
type Suggestion struct {
	Text   string `json:"text"`   // to be shown
	Insert string `json:"insert"` // to be put in place of columns [Column, End) of the line
	Kind   Kind   `json:"kind"`
	Doc    string `json:"doc,omitempty"`
	Column int    `json:"column"` // in characters, from 1
	End    int    `json:"end"`
}

// Kind is what a suggestion is.
type Kind string

// The kinds.
const (
	Key  Kind = "key"
	Name Kind = "name" // that stands in one of the files
	Word Kind = "word" // one of a few, a unit, or what holds where a key is left out
)

// most is how many suggestions are made at most.
const most = 200

// Of is what may be written in a file at a line and a column, both from 1: first the keys that have
// to be there, then the others as their table has them. Keys of the mapping that are written
// are left out. There may be nothing to suggest.
func Of(files []File, file string, line, column int) []Suggestion {
	of, ok := fileIn(files, file)
	if !ok {
		return nil
	}
	at, lineText := find(of.Text, line, column)
	if at == nil {
		return nil
	}
	w := &writer{files: files, form: of.form(), spot: *at, line: lineText}
	if w.all(); len(w.out) == 0 && w.word != "" {
		w.loose = true
		w.all()
	}
	return w.out
}

func (w *writer) all() {
	if w.level != nil {
		w.keys(w.path)
	}
	if w.level == nil || w.below {
		w.value()
	}
}

// fileIn is the one of a name, without the byte order mark that its text may begin with.
func fileIn(files []File, name string) (File, bool) {
	i := slices.IndexFunc(files, func(f File) bool { return f.Name == name })
	if i < 0 {
		return File{}, false
	}
	f := files[i]
	f.Text = strings.TrimPrefix(f.Text, "\ufeff")
	return f, true
}

var formatLine = lazy.Regexp(`(?m)^\s*\{?\s*"?format"?\s*:\s*["']?(gridferry [a-z]+ [0-9]+)`)

// FormatOf is the format that a text says of itself; "" for none. The text may be half written.
func FormatOf(text string) string {
	if m := formatLine().FindStringSubmatch(text[:min(len(text), 1<<16)]); m != nil {
		return m[1]
	}
	return ""
}

// Format is the one that the file says or, where that says none that is known, the one that its name stands for.
func (f *File) Format() string {
	format := FormatOf(f.Text)
	if _, ok := plan.FormOf(format); ok {
		return format
	}
	for part, format := range map[string]string{".cell.": plan.CellFormat, ".variants.": plan.VariantsFormat} {
		if strings.Contains(f.Name, part) {
			return format
		}
	}
	return plan.Format
}

// form is how a file is written.
func (f *File) form() decode.Form {
	if f.Form != nil {
		return f.Form
	}
	form, _ := plan.FormOf(f.Format())
	return form
}

// find is what stands at a line and a column, and the text of that line; nil for nothing that is
// understood.
func find(text string, line, column int) (*spot, string) {
	lines := diag.SplitLines(text)
	if line < 1 || line > len(lines) {
		return nil, ""
	}
	s := newScanner()
	for _, before := range lines[:line-1] {
		if !s.line(before) {
			return nil, ""
		}
	}
	here := lines[line-1]
	s.cursor = bytesOf(here, column-1)
	usable := s.line(here)
	s.cursor = -1
	for _, behind := range lines[line:] { // until the mapping at the cursor ends, for the keys behind it
		if !usable || s.found == nil || s.found.level == nil || !slices.Contains(s.levels, s.found.level) {
			break
		}
		usable = s.line(behind)
	}
	return s.found, here
}

// bytesOf is how many bytes the first n characters of a line take.
func bytesOf(line string, n int) int {
	for i := range line {
		if n <= 0 {
			return i
		}
		n--
	}
	return len(line)
}

// writer makes the suggestions for a spot.
type writer struct {
	files []File
	form  decode.Form // of the whole file
	line  string
	spot
	loose bool // words that are only near are good enough
	out   []Suggestion
}

// add makes a suggestion, if it goes on with what is written.
func (w *writer) add(kind Kind, text, insert, doc string) {
	if len(w.out) == most || !w.fits(text) {
		return
	}
	if w.tight {
		insert = " " + insert
	}
	if w.dash {
		insert = "- " + insert
	}
	column := 1 + utf8.RuneCountInString(w.line[:w.start])
	w.out = append(w.out, Suggestion{Text: text, Insert: insert, Kind: kind, Doc: doc,
		Column: column, End: column + utf8.RuneCountInString(w.line[w.start:w.end])})
}

// fits reports whether a text goes on with what is written, or may have been meant.
func (w *writer) fits(text string) bool {
	text, word := strings.ToLower(text), strings.ToLower(w.word)
	if !w.loose {
		return strings.HasPrefix(text, word)
	}
	return strings.Contains(text, word) || diag.Nearest(word, []string{text}) != ""
}

// keys suggests those of the mapping that a path leads to.
func (w *writer) keys(path []string) {
	row, found := decode.Find(w.form, path...)
	if !found {
		return
	}
	var written []string
	if w.level != nil {
		written = w.level.keys
	}
	if most, ok := row.Form.Schema().Get("maxProperties").(int); ok && len(written) >= most {
		return
	}
	keys := decode.Keys(row.Form)
	for _, needed := range []bool{true, false} {
		for _, k := range keys {
			if k.Needed == needed && !slices.Contains(written, k.Name) {
				w.add(Key, k.Name, w.withColon(k), sentence(k))
			}
		}
	}
	if table := decode.NamesElsewhere(row.Form); table != "" {
		for _, n := range namesIn(w.files).of(table) {
			if !slices.Contains(written, n.name) {
				w.add(Name, n.name, w.colonBehind(n.name+":"), n.doc())
			}
		}
	}
}

// withColon is a key with what stands behind it: of a block that begins on the next line, no blank.
func (w *writer) withColon(k decode.Key) string {
	if shape := decode.ShapeOf(k.Form); !w.flow && (shape == decode.Keyed || shape == decode.Tabled) {
		return w.colonBehind(k.Name + ":")
	}
	return w.colonBehind(k.Name + ": ")
}

func (w *writer) colonBehind(key string) string {
	if w.colon {
		return strings.TrimRight(key, ": ")
	}
	return key
}
