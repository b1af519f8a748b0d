package plan

import (
	"path"
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
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
	r := &reader{decode.Reader{List: list}, sources, map[string]bool{}}
	sources.Add(source.File, source.Data)
	if isTable(source) {
		return r.pointTable(kind, source)
	}
	root, ok := decode.File(source.File, source.Data, list)
	if !ok {
		return &Points{}
	}
	if f := r.mistaken(root, "a file of touched points of one "+kind); f != nil {
		f.WithHint("copy what stands under the %s's name (%s) into a file of its own; \"check\" looks at all that a plan and its cell have", kind, pointKeys[kind])
		return &Points{}
	}
	switch kind {
	case PointsOfFrame:
		return r.framePoints(root)
	case PointsOfTool:
		return r.toolPoints(root)
	default:
		return r.gridPoints(root)
	}
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

// framePoints reads {three_points: …}, {best_fit: …}, or what stands inside of a
// best fit.
func (r *reader) framePoints(n decode.Node) *Points {
	p := &Points{}
	if !n.Child("points").IsZero() {
		p.BestFit = r.bestFit(n)
		return p
	}
	written := r.Object(n, "a file of touched points",
		decode.May("three_points", func(n decode.Node) { p.ThreePoints = r.threePoints(n) }),
		decode.May("best_fit", func(n decode.Node) { p.BestFit = r.bestFit(n) }),
	)
	switch {
	case p.ThreePoints != nil && p.BestFit != nil:
		r.List.Errorf("two-placements", written["best_fit"], "the frame is given both by three points and by a best fit").
			WithNote(written["three_points"], "\"three_points\" stands here").WithHint("keep one of them")
		p.BestFit = nil
	case written != nil && len(written) == 0:
		r.List.Errorf("missing-key", n.Place(), "a file of touched points needs \"three_points\" or \"best_fit\"")
	}
	return p
}

// toolPoints reads what stands inside of "tcp".
func (r *reader) toolPoints(n decode.Node) *Points {
	p := &Points{Turn: Pose{Place: n.Place()}}
	var tolerance Real
	r.Object(n, "a file of touched points",
		decode.Must("pivot", func(n decode.Node) { p.Pivot = r.pivot(n) }),
		decode.May("tolerance", r.tolerance(&tolerance)),
		decode.May("rpy", r.Angles(&p.Turn.RPY)),
		decode.May("quaternion", r.Quaternion(&p.Turn.Quaternion)),
	)
	r.oneOrientation(&p.Turn)
	if p.Pivot != nil {
		p.Pivot.Tolerance = tolerance
	}
	return p
}

// gridPoints reads the keys of a grid that is given by corners.
func (r *reader) gridPoints(n decode.Node) *Points {
	c := &Corners{}
	written := r.Object(n, "a file of touched points", r.cornerKeys(c)...)
	if written.Has("corners") {
		return &Points{Corners: c}
	}
	if written != nil {
		r.List.Errorf("missing-key", n.Place(), "a file of touched points needs \"corners\"")
	}
	return &Points{}
}

// IsName tells whether a text can be the name of a frame, tool or grid.
func IsName(text string) bool { return text != BaseFrame && decode.IsName(text) }
