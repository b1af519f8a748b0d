package manifest

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridferry/plan/wording"
)

// Line is one part: where it stood, where it ends, and where it stood meanwhile; slots as
// in "tray A1".
type Line struct {
	ID       string   `json:"id,omitempty"`
	Part     string   `json:"part,omitempty"`
	From     string   `json:"from"`
	To       string   `json:"to"`
	Via      []string `json:"via,omitempty"`
	Transfer int      `json:"transfer,omitempty"`  // the one that brings it there; 0 for a part that stays
	PlacedAt float64  `json:"placed_at,omitempty"` // s from the start, an estimate
}

// Lines are all lines, one after the other.
func (f *Manifest) Lines(yield func(*Line) bool) {
	for i := range f.ways {
		if !yield(f.line(&f.ways[i])) {
			return
		}
	}
}

func (f *Manifest) line(w *way) *Line {
	line := &Line{From: f.name(w.from), To: f.name(w.to), Transfer: int(w.transfer), PlacedAt: math.Round(w.at*1000) / 1000}
	if w.id != nil {
		line.ID = *w.id
	}
	if w.part != nil {
		line.Part = w.part.Name
	}
	for h := w.halt; h > 0; h = f.halts[h-1].before {
		line.Via = append(line.Via, f.name(f.halts[h-1].place))
	}
	slices.Reverse(line.Via)
	return line
}

// name is a slot as a plan writes it.
func (f *Manifest) name(at place) string {
	g := f.layout.Grids[at.grid]
	return g.Name + " " + g.Label(g.Slot(int(at.slot)))
}

// header is the columns of the table.
var header = []string{"id", "part", "from", "to", "via", "transfer", "placed_at"}

// WriteCSV writes a line for every part (RFC 4180, with LF line ends). An id that a
// spreadsheet would take for a formula is written so that none does.
func (f *Manifest) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	cells := header
	out.Write(cells) // keeps its error for the end
	cells = make([]string, len(header))
	for line := range f.Lines {
		copy(cells, []string{wording.Inert(line.ID), line.Part, line.From, line.To, strings.Join(line.Via, ", "), "", ""})
		if line.Transfer > 0 {
			cells[5], cells[6] = strconv.Itoa(line.Transfer), strconv.FormatFloat(line.PlacedAt, 'f', -1, 64)
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// WriteJSON writes the same as one object, a line for every part.
func (f *Manifest) WriteJSON(w io.Writer, plan string) error {
	out := bufio.NewWriterSize(w, 1<<16)
	name, err := encoded(plan)
	if err != nil {
		return err
	}
	out.WriteString("{\"plan\": " + name + ", \"estimate\": true, \"parts\": [")
	before := "\n"
	for line := range f.Lines {
		text, err := encoded(line)
		if err != nil {
			return err
		}
		if _, err := out.WriteString(before + text); err != nil {
			return err
		}
		before = ",\n"
	}
	out.WriteString("\n]}\n")
	return out.Flush()
}

// encoded is a value as JSON, with its letters as they are.
func encoded(v any) (string, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return strings.TrimRight(b.String(), "\n"), err
}
