package fitfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"gridferry/gen/slot"
)

// JSON writes the answer with all its figures.
func (a *Answer) JSON(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(a.document())
}

// Text writes the answer, the residuals and the conditioning for people.
func (a *Answer) Text(w io.Writer) error {
	d := a.document()
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s %q by %s, %d points\n\n", d.Kind, d.Name, d.Method, d.Points)
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', tabwriter.AlignRight)
	line := func(what, unit string, figures ...num) {
		if len(figures) > 0 && figures[0] != "" {
			fmt.Fprintf(t, "%s\t%s\t %s\n", what, joined(figures, "\t"), unit)
		}
	}
	line(map[string]string{"frame": "origin", "tool": "tip", "grid": "slot A1"}[d.Kind], "mm", d.At...)
	line("rpy", "°", d.RPY...)
	line("quaternion", "", d.Quaternion...)
	for _, row := range d.Matrix {
		line("turn", "", row...)
	}
	line("post", "mm", d.Post...)
	line("length", "mm", d.Length)
	line("step to the next column", "mm", d.ColumnStep...)
	line("step to the next row", "mm", d.RowStep...)
	line("pitch of the columns, first and last row", "mm", d.ColumnPitch...)
	line("pitch of the rows, first and last column", "mm", d.RowPitch...)
	line("out of square", "°", d.Skew)
	line("miss of the fourth corner", "mm", d.Miss)
	line("of it out of the plane", "mm", d.Warp)
	t.Flush() // into memory, which cannot fail
	a.residualTable(&b, d)
	fmt.Fprintf(&b, "\nuncertainty, assuming a touch error of %s mm\n", strings.TrimRight(string(mm(a.touchOf())), "0"))
	t = tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	for _, f := range d.Conditioning {
		fmt.Fprintf(t, "  %s\t%s %s\n", f.What, f.Value, f.Unit)
	}
	t.Flush()
	_, err := w.Write(trimmed(b.Bytes()))
	return err
}

func (a *Answer) residualTable(b *bytes.Buffer, d document) {
	if d.RMS == "" {
		return
	}
	b.WriteString("\nresiduals, mm\n")
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(t, "\tx\ty\tz\tlength\t\n")
	for _, r := range d.Residuals {
		fmt.Fprintf(t, "%s\t%s\t%s\t\n", r.Point, joined(r.Off, "\t"), r.Length)
	}
	t.Flush()
	fmt.Fprintf(b, "rms %s mm", d.RMS)
	if d.CoordinateRMS != "" {
		fmt.Fprintf(b, " (%s mm in each coordinate)", d.CoordinateRMS)
	}
	fmt.Fprintf(b, ", largest %s mm at %s\n", d.Largest, d.Worst)
}

// trimmed takes away the blanks at the ends of lines that columns leave.
func trimmed(text []byte) []byte {
	lines := strings.Split(string(text), "\n")
	for i, l := range lines {
		lines[i] = strings.TrimRight(l, " ")
	}
	return []byte(strings.Join(lines, "\n"))
}

func joined(figures []num, by string) string {
	texts := make([]string, len(figures))
	for i, f := range figures {
		texts[i] = string(f)
	}
	return strings.Join(texts, by)
}

func list(figures []num) string { return "[" + joined(figures, ", ") + "]" }

// YAML writes the answer with the keys that it has in a cell, or in a plan for a grid.
func (a *Answer) YAML(w io.Writer) error {
	d := a.document()
	var b strings.Builder
	fmt.Fprintf(&b, "# %s of %d points%s\n", d.Method, d.Points, worth(d))
	switch d.Kind {
	case "frame":
		fmt.Fprintf(&b, "frames:\n  %s:\n    at: %s\n    rpy: %s\n", d.Name, list(d.At), list(d.RPY))
	case "tool":
		fmt.Fprintf(&b, "tools:\n  %s:\n    tcp:\n      at: %s\n", d.Name, list(d.At))
		if d.RPY != nil {
			fmt.Fprintf(&b, "      rpy: %s\n", list(d.RPY))
		}
	default:
		a.yamlGrid(&b, d)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func worth(d document) string {
	switch {
	case d.RMS != "":
		return fmt.Sprintf(", rms %s mm, largest %s mm at %s", d.RMS, d.Largest, d.Worst)
	case d.Miss != "":
		return fmt.Sprintf(", the fourth misses the others by %s mm", d.Miss)
	}
	return ""
}

func (a *Answer) yamlGrid(b *strings.Builder, d document) {
	row, col := last(a.Grid)
	fmt.Fprintf(b, "grids:\n  %s:\n    frame: base    # or the frame that the corners were read in\n    rows: %d\n    columns: %d\n    corners:\n", d.Name, row+1, col+1)
	for _, c := range extremes(a.Grid) {
		label := slot.Slot{Row: int32(c.Row), Col: int32(c.Col)}.Label(false)
		fmt.Fprintf(b, "      %s: %s\n", label, list(place(c.At)))
	}
}
