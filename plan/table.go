package plan

import (
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// table goes through the records of a CSV file one after the other: RFC 4180, and what spreadsheets
// make of it. A byte order mark is passed over; commas, semicolons or tabs stand between fields; lines end with LF or
// CR LF; blank lines, and empty fields behind the last column, count for nothing; an apostrophe before what
// looks like a formula is taken off. A line that begins with "#" is a comment.
type table struct {
	list   *diag.List
	file   string
	text   string
	csv    *csv.Reader
	header []Text // the names of the columns, as they are compared: "Nominal X" is nominal_x
	cells  []Text // of the present record, used again for the next
	failed bool

	line, start, counted, characters int // the present line, where it begins, and how much of it was counted
}

// newTable reads the header; false where that cannot be done, which is reported.
func newTable(file, text string, list *diag.List) (*table, bool) {
	t := &table{list: list, file: file, text: strings.TrimPrefix(text, "\ufeff"), line: 1}
	if !t.isText() || !t.isNarrow() {
		return t, false
	}
	t.csv = csv.NewReader(strings.NewReader(t.text))
	t.csv.Comment, t.csv.FieldsPerRecord, t.csv.ReuseRecord = '#', -1, true
	named := t.separator()
	t.csv.TrimLeadingSpace = t.csv.Comma != '\t' // the library would pass over empty fields between tabs
	if named {
		t.record()
	}
	header, _ := t.record()
	if t.failed {
		return t, false
	}
	for _, cell := range header {
		cell.V = strings.NewReplacer(" ", "_", "-", "_").Replace(strings.ToLower(cell.V))
		t.header = append(t.header, cell)
	}
	for n := len(t.header); n > 1 && t.header[n-1].V == ""; n-- {
		t.header = t.header[:n-1]
	}
	return t, true
}

// isText refuses what is not UTF-8, as spreadsheets save it by another name.
func (t *table) isText() bool {
	at := strings.IndexByte(t.text, 0)
	if !utf8.ValidString(t.text) {
		for i, c := range t.text {
			if _, size := utf8.DecodeRuneInString(t.text[i:]); c == utf8.RuneError && size == 1 {
				at = i
				break
			}
		}
	}
	if at < 0 {
		return true
	}
	line := 1 + strings.Count(t.text[:at], "\n")
	col := 1 + utf8.RuneCountInString(t.text[1+strings.LastIndexByte(t.text[:at], '\n'):at])
	t.list.Errorf("not-utf8", diag.Place{File: t.file, Line: line, Col: col, Width: 1}, "the byte 0x%02x is not UTF-8 text", t.text[at]).
		WithHint("save the table as CSV in UTF-8")
	return false
}

// mostFields is how many fields a record may have: a table has a few columns, and a file of separators alone would
// fill the memory.
const mostFields = 1000

// isNarrow holds every record to mostFields, whatever separates them, before any is made.
func (t *table) isNarrow() bool {
	line, begun, fields, quoted := 1, 1, 1, false
	for i := range len(t.text) {
		switch c := t.text[i]; {
		case c == '"':
			quoted = !quoted
		case c == '\n':
			if line++; !quoted {
				begun, fields = line, 1
			}
		case !quoted && (c == ',' || c == ';' || c == '\t'):
			if fields++; fields > mostFields {
				t.list.Errorf("too-many-values", diag.Place{File: t.file, Line: begun}, "the line has more than %d fields, which is more than are read", mostFields).
					WithHint("keep the columns that are needed")
				return false
			}
		}
	}
	return true
}

// separator finds what stands between fields: what the header has most of, outside of quotes, or what
// a first line says by itself, "sep=;", as some spreadsheets write it. It reports whether there is such a line.
func (t *table) separator() (named bool) {
	for line := range strings.Lines(t.text) {
		line = strings.TrimRight(line, "\r\n")
		if strings.TrimSpace(line) == "" || line[0] == '#' {
			continue
		}
		if rest, found := strings.CutPrefix(line, "sep="); found && len(rest) == 1 && strings.Contains(",;\t", rest) {
			t.csv.Comma = rune(rest[0])
			return true
		}
		counts := [3]int{}
		quoted := false
		for i := range len(line) {
			quoted = quoted != (line[i] == '"')
			if k := strings.IndexByte(",;\t", line[i]); k >= 0 && !quoted {
				counts[k]++
			}
		}
		t.csv.Comma = rune(",;\t"[slices.Index(counts[:], slices.Max(counts[:]))])
		return false
	}
	return false
}

// next is the fields of the next record that is not empty, by column; false behind the last one. They are valid
// until the one after it is asked for.
func (t *table) next() ([]Text, bool) {
	for {
		cells, ok := t.record()
		if !ok {
			return nil, false
		}
		for n := len(cells); n > len(t.header) && cells[n-1].V == ""; n-- {
			cells = cells[:n-1]
		}
		if slices.ContainsFunc(cells, func(c Text) bool { return c.V != "" }) {
			return cells, true
		}
	}
}

// record is the next one, with the places of its fields.
func (t *table) record() ([]Text, bool) {
	fields, err := t.csv.Read()
	if err != nil {
		if t.failed = t.failed || err != io.EOF; err != io.EOF {
			t.bad(err)
		}
		return nil, false
	}
	t.cells = t.cells[:0]
	for i, field := range fields {
		field = wording.FromInert(strings.TrimSpace(field))
		t.cells = append(t.cells, Text{V: field, Place: t.place(i, field)})
	}
	return t.cells, true
}

// place is where a field of the present record stands; the library counts columns in bytes.
func (t *table) place(i int, field string) diag.Place {
	line, col := t.csv.FieldPos(i)
	for ; t.line < line; t.line++ {
		next := strings.IndexByte(t.text[t.start:], '\n')
		if next < 0 {
			break
		}
		t.start += next + 1
		t.counted, t.characters = t.start, 0
	}
	if end := min(t.start+col-1, len(t.text)); end > t.counted {
		t.characters += utf8.RuneCountInString(t.text[t.counted:end])
		t.counted = end
	}
	return diag.Place{File: t.file, Line: line, Col: t.characters + 1, Width: utf8.RuneCountInString(field)}
}

func (t *table) bad(err error) {
	at := diag.Place{File: t.file}
	var p *csv.ParseError
	if errors.As(err, &p) {
		at.Line, err = p.StartLine, p.Err
	}
	f := t.list.Errorf("bad-table", at, "the table cannot be read: %v", err)
	if errors.Is(err, csv.ErrQuote) || errors.Is(err, csv.ErrBareQuote) {
		f.WithHint("a field in quotes has one at its beginning and one at its end, and two for each inside of it")
	}
}

// columns is the names of the columns, where the header fits one of some forms, in any order; nil where it fits none,
// which is reported. The names of a form in round brackets may be left out.
func (t *table) columns(forms ...[]string) []string {
	names := make([]string, len(t.header))
	for i, h := range t.header {
		names[i] = h.V
	}
	for _, form := range forms {
		if fits(names, form) {
			return names
		}
	}
	var wanted []string
	for _, form := range forms {
		wanted = append(wanted, strings.Join(form, ", "))
	}
	place := diag.Place{File: t.file, Line: 1, Col: 1}
	if len(t.header) > 0 {
		place = t.header[0].Place
		place.Width = 0
	}
	odd, meant := misspelt(names, forms)
	if meant != "" {
		place = t.header[odd].Place
	}
	if len(names) == 0 {
		t.list.Errorf("bad-columns", place, "the table has no line that names its columns, wanted %s", strings.Join(wanted, "; or "))
		return nil
	}
	twice := repeated(t.header)
	if twice.V != "" {
		place = twice.Place
	}
	f := t.list.Errorf("bad-columns", place, "the columns are %s, wanted %s", wording.List(names, 12), strings.Join(wanted, "; or "))
	extra, some := beyond(names, forms)
	switch {
	case meant != "":
		f.DidYouMean(t.header[odd].V, meant)
	case twice.V != "":
		f.WithHint("the column %q stands twice: take one of the two out of the table", twice.V)
	case len(extra) > 0 && fits(without(names, extra), forms[0]):
		f.WithHint("take %s out of the table", wording.List(extra, 12))
	case !some:
		f.WithHint("the first line names the columns; those in brackets may be left out")
	}
	return nil
}

// repeated is a column that has the name of one before it; "" where there is none.
func repeated(header []Text) Text {
	for i, h := range header {
		if slices.ContainsFunc(header[:i], func(before Text) bool { return before.V == h.V }) {
			return h
		}
	}
	return Text{}
}

// beyond is the names that no form has, and whether some form has any of the others.
func beyond(names []string, forms [][]string) (extra []string, some bool) {
	for _, name := range names {
		if slices.ContainsFunc(forms, func(form []string) bool { return slices.Contains(form, name) || slices.Contains(form, "("+name+")") }) {
			some = true
		} else {
			extra = append(extra, name)
		}
	}
	return extra, some
}

func without(names, some []string) []string {
	return slices.DeleteFunc(slices.Clone(names), func(name string) bool { return slices.Contains(some, name) })
}

// placesIn is where the columns of a form stand among some names, -1 where one is left out.
func placesIn(form, names []string) []int {
	at := make([]int, len(form))
	for i, column := range form {
		at[i] = slices.Index(names, strings.Trim(column, "()"))
	}
	return at
}

// misspelt is the one column that keeps a header from being that of a known table,
// and what it should be called; "" where more is wrong.
func misspelt(names []string, forms [][]string) (odd int, meant string) {
	for _, form := range forms {
		plain := strings.Split(strings.NewReplacer("(", "", ")", "").Replace(strings.Join(form, ",")), ",")
		isOdd := func(name string) bool { return !slices.Contains(plain, name) }
		odd := slices.IndexFunc(names, isOdd)
		if odd < 0 {
			continue
		}
		lacking := slices.DeleteFunc(plain, func(column string) bool { return slices.Contains(names, column) })
		put := slices.Clone(names)
		put[odd] = diag.Nearest(names[odd], lacking)
		if fits(put, form) {
			return odd, put[odd]
		}
	}
	return 0, ""
}

func fits(names, form []string) bool {
	var allowed []string
	for _, column := range form {
		free := strings.HasPrefix(column, "(")
		column = strings.Trim(column, "()")
		if !free && !slices.Contains(names, column) {
			return false
		}
		allowed = append(allowed, column)
	}
	sorted := slices.Sorted(slices.Values(names))
	if len(slices.Compact(sorted)) != len(names) {
		return false // a column stands twice
	}
	return !slices.ContainsFunc(names, func(n string) bool { return !slices.Contains(allowed, n) })
}
