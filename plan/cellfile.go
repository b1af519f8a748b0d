package plan

import (
	"path"
	"slices"
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// MeasuredFormat is the first line of every file of measured values.
const MeasuredFormat = "gridferry measured 1"

// cellText is what a cell is read from: a mapping in the plan or in a file of its
// own, and perhaps a second file with what was measured, which is laid over it.
type cellText struct {
	root     decode.Node // absent where it could not be read
	inPlace  bool
	measured decode.Node // absent where there is none

	dir  string // the plan's folder, which no path leads out of
	file string // the cell's file below it; "" in place
}

// openCell reads the files of the cell that a plan names, after the settings that
// say which files those are, and changes it as the other settings say.
func (r *reader) openCell(source Source, plan decode.Node, settings []Setting, files []string) cellText {
	n := cellNode(plan)
	c := cellText{dir: source.Dir}
	if decode.IsMap(n) {
		c.root, c.inPlace = n, true
	} else {
		c.root, c.file = r.openBeside(source.Dir, "", n, "cell")
	}
	if c.root.IsZero() {
		return c
	}
	for i, s := range settings {
		if ofCell(s) && s.Path == "cell.measured" {
			r.changeCell(c, plan, files[i], s)
		}
	}
	if m := c.root.Child("measured"); !m.IsZero() {
		c.measured, _ = r.openBeside(source.Dir, path.Dir(c.file), m, "measured")
	}
	for i, s := range settings {
		if ofCell(s) && s.Path != "cell.measured" && !r.List.Full() {
			r.changeCell(c, plan, files[i], s)
		}
	}
	return c
}

// IsCell reports whether a file is a cell by itself.
func IsCell(source Source) bool {
	root, ok := decode.File(source.File, string(source.Data), new(diag.List))
	return ok && decode.IsMap(root) && root.Child("format").Text() == CellFormat
}

// ReadCell reads a cell alone, of its own file or of a plan, whose other keys are not looked at: a plan that has nothing
// but the cell, or nil.
func ReadCell(source Source, list *diag.List, sources *diag.Sources) *Plan {
	r := &reader{Reader: decode.Reader{List: list}, sources: sources, read: source.Read, given: map[string]bool{}}
	root, ok := r.file(source.File, source.Data)
	if !ok {
		return nil
	}
	text := cellText{root: root, dir: source.Dir}
	if root.Child("format").Text() != CellFormat {
		if f := r.mistaken(root, kinds[Format]); f != nil {
			f.WithHint("name a cell or a plan")
			return nil
		}
		text = r.openCell(source, root, nil, nil)
	} else if m := root.Child("measured"); !m.IsZero() {
		text.measured, _ = r.openBeside(source.Dir, "", m, "measured")
	}
	return &Plan{File: source.File, Place: root.Place(), Cell: r.cell(text)}
}

// openBeside reads the YAML file that a key names.
func (r *reader) openBeside(dir, below string, n decode.Node, key string) (root decode.Node, file string) {
	var name Text
	if !n.IsZero() {
		decode.Text(&name).Read(&r.Reader, n)
	}
	if !name.IsSet() {
		return decode.Node{}, ""
	}
	of, data, ok := r.readBeside(dir, below, name, key)
	if !ok {
		return decode.Node{}, ""
	}
	root, _ = r.file(of.File, data)
	return root, of.below
}

// readBeside reads the file that a key of the plan or its cell names.
func (r *reader) readBeside(dir, below string, name Text, key string) (of Named, data []byte, ok bool) {
	of, data, err := r.beside(key, dir, below, name.V)
	if err != nil {
		f := r.List.Errorf(key+"-unreadable", name.Place, "the %s %q cannot be read: %v", fileWord[key], name.V, err)
		if key == "cell" {
			f.WithHint("name a file that lies beside this plan, or write the cell's keys in place")
		} else {
			f.WithHint("name a file that lies beside the cell")
		}
		return of, nil, false
	}
	return of, data, true
}

// fileWord is how messages speak of the file that a key names.
var fileWord = map[string]string{"cell": "cell", "measured": "measured file", "urdf": "URDF file", "contents": "table of contents", "list": "worklist"}

// changeCell applies a setting where it counts: in the measured file as far as
// that has what the path leads to, else in the cell.
func (r *reader) changeCell(c cellText, plan decode.Node, file string, s Setting) {
	inner := strings.TrimPrefix(s.Path, "cell.")
	switch {
	case c.root.IsZero():
	case reaches(c.measured, inner) >= max(2, reaches(c.root, inner)) && !(adds(c.measured, inner) && isKnown(s.Path)):
		r.change(c.measured, file, s, 1)
	case c.inPlace:
		r.change(plan, file, s, 0)
	default:
		r.change(c.root, file, s, 1)
	}
}

// isKnown reports whether a plan or its cell can have a key at a path.
func isKnown(path string) bool {
	parts := strings.Split(path, ".")
	last := len(parts) - 1
	return slices.Contains(knownKeys(parts[:last]), parts[last])
}

// adds reports whether a path leads to something that is not there.
func adds(n decode.Node, path string) bool { return reaches(n, path) < 1+strings.Count(path, ".") }

// reaches is how many parts of a path can be followed from n.
func reaches(n decode.Node, path string) int {
	count := 0
	for _, part := range strings.Split(path, ".") {
		if n = n.Child(part); n.IsZero() {
			break
		}
		count++
	}
	return count
}

// measurements are the entries of a measured file by name.
type measurements struct {
	frames, tools measured
}

// measured is what was measured of several things, by name.
type measured struct {
	names []Text
	nodes map[string]decode.Node
}

func (r *reader) measurements(n decode.Node) *measurements {
	m := &measurements{}
	if !n.IsZero() {
		m.form().Read(&r.Reader, n)
	}
	return m
}

func (m *measurements) form() decode.Form {
	return decode.Object{What: "a measured file", Keys: []decode.Key{
		decode.FirstLine(MeasuredFormat, "file of measured values"),
		decode.May("frames", "Frames of the cell, with the keys that they have there.", measuredTable("frames", &m.frames, new(Frame).form(nil))),
		decode.May("tools", "Tools of the cell, with the keys that they have there.", measuredTable("tools", &m.tools, new(Tool).form(nil))),
	}}
}

// measuredTable keeps the entries of a table, which are read with the cell that they
// are laid over.
func measuredTable(what string, dst *measured, of decode.Form) decode.Form {
	dst.nodes = map[string]decode.Node{}
	return decode.Table{What: what, Of: what, Each: func(name Text) decode.Form {
		keep := func(_ *decode.Reader, n decode.Node) {
			dst.names, dst.nodes[name.V] = append(dst.names, name), n
		}
		return decode.As(of, decode.Own(decode.Under(of, partly).Schema, keep))
	}}
}

// overlayOf is what was measured of a thing of the cell.
func (r *reader) overlayOf(all measured, name string, alternatives ...string) *decode.Overlay {
	if n, there := all.nodes[name]; there {
		return &decode.Overlay{Node: n, Alternatives: alternatives, Hidden: r.hidden}
	}
	return nil
}

// hidden reports a setting that changed a value which the measured file hides.
func (r *reader) hidden(e decode.Entry) {
	if at := r.setInside(e.Value); !at.IsZero() {
		r.List.Errorf("set-hidden", at, "the value goes to %q in the cell, which the measured file replaces", e.Key.Text()).
			WithHint("set what the measured file says instead")
	}
}

// setInside is the place of a value that a setting gave, anywhere below n.
func (r *reader) setInside(n decode.Node) diag.Place {
	if p := n.Place(); r.given[p.File] {
		return p
	}
	for _, item := range n.Items() {
		if p := r.setInside(item); !p.IsZero() {
			return p
		}
	}
	for _, e := range n.Entries() {
		if p := r.setInside(e.Value); !p.IsZero() {
			return p
		}
	}
	return diag.Place{}
}

// unknownMeasurements reports what was measured of things that the cell does not
// have: the cell says what there is, and a mistake in a name would leave the old
// values in force.
func (r *reader) unknownMeasurements(c *Cell, m *measurements) {
	var tools, frames []string
	for _, t := range c.Tools {
		tools = append(tools, t.Name.V)
	}
	for _, f := range c.Frames {
		frames = append(frames, f.Name.V)
	}
	r.known("tool", m.tools, tools)
	r.known("frame", m.frames, frames)
}

func (r *reader) known(what string, all measured, names []string) {
	known := make(map[string]bool, len(names))
	for _, name := range names {
		known[name] = true
	}
	for _, name := range all.names {
		if known[name.V] {
			continue
		}
		f := r.List.Errorf("unknown-name", name.Place, "the cell has no %s %q", what, name.V)
		if near := r.List.Nearest(name.V, names); near != "" {
			f.DidYouMean(name.V, near)
		} else {
			f.WithHint("the cell says what there is: write \"%s: {}\" under \"%ss\" there; its figures can stay here", name.V, what)
		}
	}
}
