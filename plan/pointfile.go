package plan

import (
	"path"
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
)

// What a file of touched points can be about.
const (
	PointsOfFrame = "frame"
	PointsOfTool  = "tool"
	PointsOfGrid  = "grid"
)

// Points is a file of touched points by itself. At most one of ThreePoints, BestFit,
// Pivot and Corners is set; none where the file could not be read.
type Points struct {
	ThreePoints *ThreePoints
	BestFit     *BestFit
	Pivot       *Pivot
	Turn        Pose // of the tool centre point: its orientation only
	Corners     *Corners
}

// ReadPoints reads touched points: YAML with the keys that a cell has for them, or a
// table (CSV). What is wrong goes to list.
func ReadPoints(kind string, source Source, list *diag.List, sources *diag.Sources) *Points {
	r := &reader{Reader: decode.Reader{List: list}, sources: sources, given: map[string]bool{}}
	if isTable(source) {
		sources.Add(source.File, source.Data)
		return r.pointTable(kind, source)
	}
	root, ok := r.file(source.File, source.Data)
	if !ok {
		return &Points{}
	}
	if f := r.mistaken(root, "a file of touched points of one "+kind); f != nil {
		f.WithHint("copy what stands under the %s's name (%s) into a file of its own; \"check\" looks at all that a plan and its cell have", kind, pointKeys[kind])
		return &Points{}
	}
	p := &Points{Turn: Pose{Place: root.Place()}}
	p.form(kind).Read(&r.Reader, root)
	return p
}

// isTable goes by the file's name, and without one by its first line: a table has a
// comma or semicolon there and no colon.
func isTable(source Source) bool {
	switch strings.ToLower(path.Ext(source.File)) {
	case ".csv":
		return true
	case ".yaml", ".yml", ".json":
		return false
	}
	for line := range strings.Lines(string(source.Data)) {
		line = strings.TrimSpace(line)
		if line != "" && !strings.HasPrefix(line, "#") {
			return strings.ContainsAny(line, ",;") && !strings.ContainsAny(line, ":{[")
		}
	}
	return false
}

// pointKeys are what a file of touched points has to have, as hints name it.
var pointKeys = map[string]string{PointsOfFrame: "\"three_points\" or \"best_fit\"", PointsOfTool: "\"pivot\"", PointsOfGrid: "\"corners\""}

func (p *Points) form(kind string) decode.Form {
	switch kind {
	case PointsOfFrame:
		return p.ofFrame()
	case PointsOfTool:
		return p.ofTool()
	default:
		return p.ofGrid()
	}
}

const pointsFile = "a file of touched points"

// ofFrame reads {three_points: …}, {best_fit: …}, or what stands inside of a best fit.
func (p *Points) ofFrame() decode.Form {
	bare := bestFit(&p.BestFit)
	forms := decode.Object{What: pointsFile, Check: p.oneForm, Rules: []schema.Rule{schema.OneOf("three_points", "best_fit")}, Keys: []decode.Key{
		decode.May("three_points", "Three points that were touched with the tool's tip.", threePoints(&p.ThreePoints)),
		decode.May("best_fit", "Points whose places in the frame are known, and where they were touched.", bestFit(&p.BestFit)),
	}}
	return decode.Own(func() schema.Schema { return ifKey("points", bare.Schema(), forms.Schema()) }, func(r *decode.Reader, n decode.Node) {
		if n.Child("points").IsZero() {
			forms.Read(r, n)
		} else {
			bare.Read(r, n)
		}
	})
}

func (p *Points) oneForm(r *decode.Reader, written decode.Written) {
	switch {
	case p.ThreePoints != nil && p.BestFit != nil:
		r.List.Errorf("two-placements", written["best_fit"], "the frame is given both by three points and by a best fit").
			WithNote(written["three_points"], "\"three_points\" stands here").WithHint("keep one of them")
		p.BestFit = nil
	case written != nil && len(written) == 0:
		r.List.Errorf("missing-key", p.Turn.Place, pointsFile+" needs \"three_points\" or \"best_fit\"")
	}
}

// ofTool reads what stands inside of "tcp".
func (p *Points) ofTool() decode.Form {
	pivot := new(Pivot)
	keys := append(p.Turn.keys(decode.May, unturned)[1:],
		decode.Must("pivot", pivotDoc, keptAs(&p.Pivot, pivot, pivot.form())), toleranceKey(&pivot.Tolerance))
	return decode.Object{What: pointsFile, Keys: keys, Check: p.Turn.oneOrientation, Rules: []schema.Rule{oneOrientation}}
}

// ofGrid reads the keys of a grid that is given by corners.
func (p *Points) ofGrid() decode.Form {
	c := new(Corners)
	needing := schema.With("required", []string{"corners"})
	return decode.Object{What: pointsFile, Keys: c.keys(), Rules: []schema.Rule{needing}, Check: func(r *decode.Reader, written decode.Written) {
		switch {
		case written.Has("corners"):
			p.Corners = c
		case written != nil:
			r.List.Errorf("missing-key", p.Turn.Place, pointsFile+" needs \"corners\"")
		}
	}}
}

// IsName reports whether a text can be the name of a frame, tool or grid.
func IsName(text string) bool { return text != BaseFrame && decode.IsName(text) }
