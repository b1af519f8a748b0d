package summary

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// ReadCSV reads what WriteCSV writes of a table whose programs were not shared out. Names and values stay as they
// stand there (see wording.Inert), and what the table is of is not in it. The error names the line.
func ReadCSV(r io.Reader) (*Table, error) {
	lines, err := csv.NewReader(r).ReadAll()
	if err != nil {
		return nil, err
	}
	t := new(Table)
	if len(lines) > 0 {
		for _, head := range lines[0] {
			if family, ok := strings.CutPrefix(head, "lines "); ok {
				t.Families = append(t.Families, family)
			}
		}
	}
	if len(lines) == 0 || !slices.Equal(lines[0], append(t.heads(), "waits")) {
		return nil, fmt.Errorf("line 1: these are not the columns of a table of variants")
	}
	for i, cells := range lines[1:] {
		row, err := t.row(cells)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", i+2, err)
		}
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}

// row reads the cells of a variant.
func (t *Table) row(cells []string) (r Row, err error) {
	whole := func(text string) (n int) {
		if text != "" && err == nil {
			n, err = strconv.Atoi(text)
		}
		return n
	}
	first, last := cells[:len(firstHeads)], cells[len(firstHeads)+len(t.Families):]
	r = Row{Name: first[0], Values: first[1], State: State(first[2]), Slots: whole(first[3]), Transfers: whole(first[4]), Moves: whole(first[5])}
	if !slices.Contains(states, r.State) {
		return r, fmt.Errorf("%q is no state of a variant", first[2])
	}
	for _, lines := range cells[len(first) : len(first)+len(t.Families)] {
		if lines != "" {
			r.Lines = append(r.Lines, whole(lines))
		}
	}
	r.Errors, r.Warnings, r.Waits = whole(last[1]), whole(last[2]), whole(last[3])
	if last[0] != "" && err == nil {
		r.Seconds, err = strconv.ParseFloat(last[0], 64)
	}
	return r, err
}
