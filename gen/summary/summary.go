// Package summary writes the table of the variants of a plan and what became of each,
// as text, CSV and HTML.
package summary

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// Row is what became of one variant.
type Row struct {
	Name             string // also of its folder
	Values           string // what it changes: "grids.tray.rows=2, cell=bench-a.yaml"
	Slots            int
	Transfers, Moves int
	Lines            []int // of each family's program; nil where none was written
	Seconds          float64
	Waits            int // for inputs, which the seconds do not hold
	Errors, Warnings int
	State            State
	Folder           string // of its programs, in a table of shards; else it has the variant's name
}

// State says what happened to a variant's programs.
type State string

// The states.
const (
	Written    State = "written"
	Unchanged  State = "unchanged"   // the file that is there has the same bytes
	Refused    State = "refused"     // there are errors, nothing was written
	NotWritten State = "not written" // it has no errors, but a file could not be written
)

var states = []State{Written, Unchanged, Refused, NotWritten}

// Table is all variants of a plan.
type Table struct {
	Plan     string
	Families []string // in the order of each Row's Lines
	Rows     []Row
	Shards   int // that wrote the programs, each in a folder of its own; 0 where they were not shared out
}

// Lasting is the table without what depends on this run: an unchanged program counts
// as written, so that a second run gives the same table.
func (t *Table) Lasting() *Table {
	lasting := *t
	lasting.Rows = slices.Clone(t.Rows)
	for i := range lasting.Rows {
		if lasting.Rows[i].State == Unchanged {
			lasting.Rows[i].State = Written
		}
	}
	return &lasting
}

// Has says whether something became one of these of some variant.
func (t *Table) Has(of ...State) bool {
	return slices.ContainsFunc(t.Rows, func(r Row) bool { return slices.Contains(of, r.State) })
}

// cells are a row's entries as texts; what is not known stays empty.
func (t *Table) cells(r *Row, seconds string) []string {
	cells := []string{r.Name, r.Values, string(r.State), number(r.Slots), number(r.Transfers), number(r.Moves)}
	for i := range t.Families {
		if i < len(r.Lines) {
			cells = append(cells, strconv.Itoa(r.Lines[i]))
		} else {
			cells = append(cells, "")
		}
	}
	if r.Moves == 0 {
		seconds = ""
	}
	cells = append(cells, seconds, strconv.Itoa(r.Errors), strconv.Itoa(r.Warnings))
	if t.Shards > 0 {
		cells = append(cells, r.Folder)
	}
	return cells
}

// firstHeads are the heads of the columns that every table has.
var firstHeads = []string{"variant", "values", "state", "slots", "transfers", "moves"}

func (t *Table) heads() []string {
	heads := slices.Clone(firstHeads)
	for _, f := range t.Families {
		heads = append(heads, "lines "+f)
	}
	heads = append(heads, "time", "errors", "warnings")
	if t.Shards > 0 {
		heads = append(heads, "folder")
	}
	return heads
}

func number(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// String counts the variants by what became of them.
func (t *Table) String() string {
	count := map[State]int{}
	for i := range t.Rows {
		count[t.Rows[i].State]++
	}
	var parts []string
	for _, s := range states {
		if count[s] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", count[s], s))
		}
	}
	return wording.Count(len(t.Rows), "variant") + ": " + strings.Join(parts, ", ")
}

// WriteText writes the table for people, columns under each other.
func (t *Table) WriteText(w io.Writer) error {
	tab := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	t.line(tab, t.heads())
	for i := range t.Rows {
		r := &t.Rows[i]
		t.line(tab, t.cells(r, wording.Lasts(r.Seconds, r.Waits)))
	}
	if err := tab.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintln(w, t.String())
	return err
}

// line writes cells with nothing in them that could move the others.
func (t *Table) line(w io.Writer, cells []string) {
	for i, c := range cells {
		if c == "" {
			c = "-"
		}
		cells[i] = diag.Visible(c)
	}
	fmt.Fprintln(w, strings.Join(cells, "\t")) // tabwriter keeps its error for Flush
}

// WriteCSV writes the table as data (RFC 4180); the time is in seconds, and the waits that it does not hold stand
// in the last column.
func (t *Table) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	if err := out.Write(append(t.heads(), "waits")); err != nil {
		return err
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		cells := t.cells(r, strconv.FormatFloat(r.Seconds, 'f', 3, 64))
		cells[0], cells[1] = wording.Inert(cells[0]), wording.Inert(cells[1]) // the others are ours
		if err := out.Write(append(cells, number(r.Waits))); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// Ours reports from a file's first bytes whether it is a table of variants, in any form.
func Ours(head []byte) bool {
	first, _, _ := strings.Cut(string(head), "\n")
	words := strings.Fields(first)
	return strings.HasPrefix(string(head), pageHead) || strings.HasPrefix(first, strings.Join(firstHeads, ",")+",") ||
		len(words) > len(firstHeads) && slices.Equal(words[:len(firstHeads)], firstHeads)
}
