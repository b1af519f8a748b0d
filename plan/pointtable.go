package plan

import (
	"errors"
	"slices"
	"strings"

	"gridferry/plan/diag"
	"gridferry/plan/unit"
)

// tableColumns are the columns of the tables that are read, those in round brackets
// being free to be left out.
var tableColumns = map[string][][]string{
	PointsOfFrame: {
		{"nominal_x", "nominal_y", "nominal_z", "measured_x", "measured_y", "measured_z", "(name)"},
		{"name", "x", "y", "z"}, // of origin, along_x, toward_y
	},
	PointsOfTool: {
		{"x", "y", "z", "roll", "pitch", "yaw", "(name)"},
		{"x", "y", "z", "qw", "qx", "qy", "qz", "(name)"},
	},
	PointsOfGrid: {{"slot", "x", "y", "z"}},
}

// record is one line of a table: its fields by column.
type record struct {
	place diag.Place
	cells map[string]Text
}

// largestTable is the most bytes of a table that are read: ten times those of as many
// points as a fit takes.
const largestTable = 1 << 20

// pointTable reads a table of touched points.
func (r *reader) pointTable(kind string, source Source) *Points {
	if n := len(source.Data); n > largestTable {
		r.List.Errorf("file-too-big", diag.Place{File: source.File}, "the table has %d bytes, more than the %d that are read", n, largestTable).
			WithHint("keep the lines of the points, and of columns those that \"gridferry fit --help\" names")
		return &Points{}
	}
	t, lines, ok := r.records(source)
	if !ok {
		return &Points{}
	}
	columns := t.columns(tableColumns[kind]...)
	if columns != nil && !r.decimalCommas(columns, lines) {
		return &Points{}
	}
	records := r.byColumn(columns, lines)
	if columns == nil || records == nil {
		return &Points{}
	}
	file := t.header[0].Place // all the points: findings about the whole table stand at its head
	file.Width = 0
	switch {
	case kind == PointsOfGrid:
		return &Points{Corners: r.tableCorners(file, records)}
	case kind == PointsOfTool:
		return &Points{Pivot: r.tablePoses(file, records), Turn: Pose{Place: file}}
	case slices.Contains(columns, "nominal_x"):
		return &Points{BestFit: r.tableFit(file, records)}
	default:
		return &Points{ThreePoints: r.tableThree(file, records)}
	}
}

// records reads the lines of a table.
func (r *reader) records(source Source) (*table, [][]Text, bool) {
	t, ok := newTable(source.File, string(source.Data), r.List)
	if !ok {
		return t, nil, false
	}
	var lines [][]Text
	for cells, more := t.next(); more; cells, more = t.next() {
		lines = append(lines, slices.Clone(cells))
	}
	if len(lines) == 0 && !t.failed {
		r.List.Errorf("no-points", diag.Place{File: source.File}, "the table has no line of points below a line with the columns' names")
	}
	return t, lines, len(lines) > 0 && !t.failed
}

// byColumn names the fields of every line; nil where a line has too few or too many.
func (r *reader) byColumn(columns []string, lines [][]Text) []record {
	var records []record
	good := columns != nil
	for _, fields := range lines {
		if columns != nil && len(fields) != len(columns) {
			at := fields[0].Place
			at.Width = 0
			f := r.List.Errorf("wrong-length", at, "the line has %d fields, wanted %d", len(fields), len(columns))
			if len(fields) > len(columns) {
				f.WithHint("between figures with decimal commas write \";\", in the line of names as well")
			}
			good = false
			continue
		}
		rec := record{fields[0].Place, map[string]Text{}}
		for i, name := range columns {
			rec.cells[name] = fields[i]
		}
		records = append(records, rec)
	}
	if !good {
		return nil
	}
	return records
}

// fields reads several fields, each in its dimension; unset where one is wrong.
func (r *reader) fields(rec record, d unit.Dimension, names ...string) ([]float64, diag.Place, bool) {
	values, good := make([]float64, len(names)), true
	for i, name := range names {
		cell := rec.cells[name]
		v, err := unit.Parse(cell.V, d)
		if err != nil {
			r.badField(cell, err)
			good = false
		}
		values[i] = v
	}
	return values, rec.cells[names[0]].Place, good
}

func (r *reader) badField(cell Text, err error) {
	rule, hint := "not-a-number", ""
	var e *unit.Error
	if errors.As(err, &e) {
		rule, hint = e.Rule(), e.Hint
	}
	f := r.List.Errorf(rule, cell.Place, "%v", err)
	if hint != "" {
		f.WithHint("%s", hint)
	}
}

func (r *reader) vectorOf(rec record, d unit.Dimension, x, y, z string) Vector {
	v, at, ok := r.fields(rec, d, x, y, z)
	if !ok {
		return Vector{}
	}
	return Vector{V: [3]float64{v[0], v[1], v[2]}, Place: at}
}

func (r *reader) tableFit(file diag.Place, records []record) *BestFit {
	b := &BestFit{Place: file}
	for _, rec := range records {
		p := &FitPoint{
			Place:    rec.place,
			Nominal:  r.vectorOf(rec, unit.Length, "nominal_x", "nominal_y", "nominal_z"),
			Measured: r.vectorOf(rec, unit.Length, "measured_x", "measured_y", "measured_z"),
		}
		if name := rec.cells["name"]; name.V != "" {
			p.Name = name
		}
		b.Points = append(b.Points, p)
	}
	differentNames(&r.Reader, b.Points)
	return b
}

func (r *reader) tableThree(file diag.Place, records []record) *ThreePoints {
	t := &ThreePoints{Place: file}
	into := map[string]*Vector{"origin": &t.Origin, "along_x": &t.AlongX, "toward_y": &t.TowardY}
	for _, rec := range records {
		name := rec.cells["name"]
		dst := into[strings.ToLower(name.V)]
		if dst == nil || dst.IsSet() {
			r.List.Errorf("unknown-word", name.Place, "found %q, wanted one line each of origin, along_x, toward_y", name.V).
				WithHint("points whose places in the frame are known have columns nominal_x … measured_z")
			continue
		}
		*dst = r.vectorOf(rec, unit.Length, "x", "y", "z")
	}
	if !r.List.HasErrors() && !(t.Origin.IsSet() && t.AlongX.IsSet() && t.TowardY.IsSet()) {
		r.List.Errorf("missing-key", file, "the table lacks one of the points origin, along_x, toward_y")
	}
	return t
}

func (r *reader) tablePoses(file diag.Place, records []record) *Pivot {
	p := &Pivot{Place: file}
	for _, rec := range records {
		pose := &Pose{Place: rec.place, At: r.vectorOf(rec, unit.Length, "x", "y", "z")}
		if _, ok := rec.cells["roll"]; ok {
			pose.RPY = r.vectorOf(rec, unit.Angle, "roll", "pitch", "yaw")
		} else {
			pose.Quaternion = r.quaternionOf(rec)
		}
		p.Poses = append(p.Poses, pose)
	}
	return p
}

func (r *reader) quaternionOf(rec record) (q Quaternion) {
	good := true
	for i, name := range []string{"qw", "qx", "qy", "qz"} {
		v, err := unit.ParseNumber(rec.cells[name].V)
		if err != nil {
			r.badField(rec.cells[name], err)
			good = false
		}
		q.V[i] = v
	}
	if good {
		q.Place = rec.cells["qw"].Place
	}
	return q
}

func (r *reader) tableCorners(file diag.Place, records []record) *Corners {
	c := &Corners{Place: file}
	for _, rec := range records {
		c.Slots = append(c.Slots, &TouchedSlot{Slot: rec.cells["slot"], At: r.vectorOf(rec, unit.Length, "x", "y", "z")})
	}
	return c
}
