package plan

import (
	"fmt"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// Field is a field of a CSV file: its text without blanks around it, and where it stands. There may be hundreds of
// thousands, which share the name of their file.
type Field struct {
	V         string
	Line, Col int32
}

// In is the field as a text of its file.
func (f Field) In(file string) Text {
	return Text{V: f.V, Place: diag.Place{File: file, Line: int(f.Line), Col: int(f.Col), Width: utf8.RuneCountInString(f.V)}}
}

func fieldOf(t Text) Field { return Field{t.V, int32(t.Place.Line), int32(t.Place.Col)} }

// Contents is which part is which in a grid when the job begins: a CSV file with a line for each slot that holds
// one.
type Contents struct {
	File  Text   // as the plan names it
	Shown string // as findings name it
	Lines []ContentsLine
	// Unread says that something here was refused, so that it is unknown what is full: what is wrong with the
	// other lines can still be said.
	Unread bool
}

// ContentsLine is one part: its slot, its id, and its name among the plan's parts, "" where the grid says that.
type ContentsLine struct{ Slot, ID, Part Field }

// Worklist is transfers in a CSV file, a line each.
type Worklist struct {
	File   Text
	Shown  string
	Lines  []WorklistLine
	Unread bool
}

// WorklistLine is one transfer: the slots, such as "tray A1", and the part's id and a note, "" for none.
type WorklistLine struct{ From, To, ID, Note Field }

// longestID is the most bytes of a part's id.
const longestID = 64

// readContents reads the files of contents that the grids of a plan name.
func (r *reader) readContents(dir string, grids []*Grid) {
	for _, g := range grids {
		if c := g.Contents; c != nil {
			c.Shown, c.Unread = r.readTable(dir, "contents", c.File, []string{"slot", "id", "(part)"}, func(fields []Text) bool {
				slot, id := r.needed(fields[0], "slot", fields), r.needed(fields[1], "id", fields)
				if !slot || !id || !r.goodID(fields[1]) {
					return false
				}
				c.Lines = append(c.Lines, ContentsLine{fieldOf(fields[0]), fieldOf(fields[1]), fieldOf(fields[2])})
				return true
			})
		}
	}
}

// readWorklists reads the worklists that the entries of a plan name.
func (r *reader) readWorklists(dir string, transfers []*Transfer) {
	for _, t := range transfers {
		if w := t.List; w != nil {
			w.Shown, w.Unread = r.readTable(dir, "list", w.File, []string{"from", "to", "(id)", "(note)"}, func(fields []Text) bool {
				from, to := r.needed(fields[0], "from", fields), r.needed(fields[1], "to", fields)
				if !from || !to || !r.goodID(fields[2]) || !r.goodNote(fields[3]) {
					return false
				}
				w.Lines = append(w.Lines, WorklistLine{fieldOf(fields[0]), fieldOf(fields[1]), fieldOf(fields[2]), fieldOf(fields[3])})
				return true
			})
		}
	}
}

// tableText is the text of a CSV file, from beside the plan or, where a flag names it, from wherever that says.
func (r *reader) tableText(dir, key string, name Text) (shown string, data []byte, ok bool) {
	of, hint := Named{Key: key, File: filepath.ToSlash(name.V), typed: true}, "name a file as it is seen from the folder that you are in"
	var err error
	if isShortForm(name.Place.File) {
		data, err = r.text(of)
	} else {
		of, data, err = r.beside(key, dir, "", name.V)
		hint = "name a file that lies beside this plan"
	}
	if err != nil {
		r.List.Errorf(key+"-unreadable", name.Place, "the %s %q cannot be read: %v", fileWord[key], name.V, err).WithHint("%s", hint)
	}
	return of.File, data, err == nil
}

// readTable reads a CSV file beside the plan. Each record goes to keep as the fields of the form, in its order, "" for
// those that are left out; keep is false for one that is wrong. The name is that of findings; unread says that
// something was refused.
func (r *reader) readTable(dir, key string, name Text, form []string, keep func(fields []Text) bool) (shown string, unread bool) {
	if !name.IsSet() {
		return "", true
	}
	shown, data, ok := r.tableText(dir, key, name)
	if !ok {
		return "", true
	}
	text := string(data)
	switch r.tabled.bytes += len(data); {
	case len(data) > LargestFile:
		r.List.Errorf("file-too-big", diag.Place{File: shown}, "the table has more than the %d bytes that are read", LargestFile).
			WithHint("split it into several")
		return shown, true
	case r.tabled.bytes > mostTabled:
		r.List.Errorf("file-too-big", name.Place, "up to here the tables of the plan have more than the %d bytes that are read", mostTabled).
			WithHint("name fewer tables, or smaller ones, and each of them once")
		return shown, true
	}
	r.sources.AddText(shown, text)
	t, ok := newTable(shown, text, r.List)
	if !ok {
		return shown, true
	}
	columns := t.columns(form)
	if columns == nil {
		return shown, true
	}
	at := placesIn(form, columns)
	r.rounded = roundedIDs{}
	fields, good := make([]Text, len(form)), true
	for cells, more := t.next(); more && !r.List.Full(); cells, more = t.next() {
		if r.tabled.lines++; r.tabled.lines > mostLines {
			r.List.Errorf("too-many-values", cells[0].Place, "up to here the tables of the plan have more than the %d lines that are read", mostLines).
				WithHint("split the plan")
			return shown, true
		}
		if len(cells) > len(columns) {
			r.surplus(cells, len(columns))
			good = false
			continue
		}
		for i, k := range at {
			if fields[i] = (Text{}); k >= 0 && k < len(cells) {
				fields[i] = cells[k]
			}
		}
		good = keep(fields) && good
	}
	r.rounded.warn(r.List)
	return shown, !good || t.failed
}

// naming are the columns of the tables that keys name whose fields stand for things of the plan, each with where those are named.
var naming = map[string]map[string]string{"contents": {"part": "parts"}, "list": {"from": "grids", "to": "grids"}}

// NamesIn goes through the fields of a table that name something, with or without slots: that of the key "contents" or
// "list". It is false where the text cannot be read to its end.
func NamesIn(key, file, text string, see func(named string, field Text)) bool {
	t, ok := newTable(file, text, new(diag.List))
	if !ok {
		return false
	}
	for cells, more := t.next(); more; cells, more = t.next() {
		for i, cell := range cells {
			if i < len(t.header) && naming[key][t.header[i].V] != "" && cell.V != "" {
				see(naming[key][t.header[i].V], cell)
			}
		}
	}
	return !t.failed
}

// All tables of a plan together: as many transfers as are made in a month, and no more memory than YAML may take.
const (
	mostTabled = 4 * LargestFile // bytes
	mostLines  = 1_000_000
)

// surplus reports a record with more fields than there are columns.
func (r *reader) surplus(cells []Text, columns int) {
	r.List.Errorf("wrong-length", cells[columns].Place, "the line has %d fields, wanted %d", len(cells), columns).
		WithHint("a text with a comma or semicolon in it stands in quotes")
}

// needed reports a field that is empty although its column is not.
func (r *reader) needed(f Text, column string, record []Text) bool {
	if f.V != "" {
		return true
	}
	at := f.Place
	for i := 0; at.IsZero() && i < len(record); i++ {
		at = record[i].Place
		at.Col, at.Width = 0, 0
	}
	r.List.Errorf("missing-field", at, "the line has no %s", column).WithHint("fill it in, or leave the line out")
	return false
}

// goodID refuses an id that is too long, or that shows otherwise than it is.
func (r *reader) goodID(id Text) bool {
	if n := len(id.V); n > longestID {
		r.List.Errorf("bad-id", id.Place, "the id %q has %d bytes, at most %d fit", id.V, n, longestID).
			WithHint("shorten it; a note may be longer")
		return false
	}
	if strings.Contains(id.V, "E+") && rounded().MatchString(id.V) {
		r.rounded.add(id)
	}
	return r.visible(id, "id")
}

// roundedIDs is the first id of a file that a spreadsheet seems to have rounded, and how many there are.
type roundedIDs struct {
	first Text
	n     int
}

func (d *roundedIDs) add(id Text) {
	if d.n++; d.n == 1 {
		d.first = id
	}
}

func (d *roundedIDs) warn(list *diag.List) {
	if d.n == 0 {
		return
	}
	more := ""
	if d.n > 1 {
		more = fmt.Sprintf("; it is the first of %d", d.n)
	}
	list.Warnf("id-rounded", d.first.Place, "the id %q looks like a long number that a spreadsheet has rounded%s", d.first.V, more).
		WithHint("set the column to text in the spreadsheet, fill in the numbers again, and save it")
}

// rounded is how spreadsheets write long numbers: 4.05E+12, with a comma in other languages.
var rounded = lazy.Regexp(`^[0-9](?:[.,][0-9]+)?E\+[0-9]+$`)

func (r *reader) goodNote(note Text) bool {
	if n := len(note.V); n > decode.LongestText {
		r.List.Errorf("text-too-long", note.Place, "the note has %d bytes, at most %d fit", n, decode.LongestText).WithHint("shorten it")
		return false
	}
	return r.visible(note, "note")
}

// visible refuses characters that nobody sees.
func (r *reader) visible(t Text, what string) bool {
	for _, c := range t.V {
		if decode.IsHidden(c) || what == "id" && c < ' ' {
			r.List.Errorf("hidden-character", t.Place, "the %s holds the hidden character %U", what, c).
				WithHint("write it again without it")
			return false
		}
	}
	return true
}
