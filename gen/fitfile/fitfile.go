// Package fitfile works out one frame, tool centre or grid from a file of touched
// points, without a plan, and writes the answer: as text for people, as JSON, or as
// YAML that can be pasted into a cell or a plan.
package fitfile

import (
	"path/filepath"
	"strings"
	"unicode"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
	"gridferry/gen/measure"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Kinds are the things that can be worked out.
var Kinds = []string{plan.PointsOfFrame, plan.PointsOfTool, plan.PointsOfGrid}

// Request is what to work out.
type Request struct {
	Kind      string
	Name      string  // of the frame, tool or grid; "" takes the file's
	Tolerance float64 // mm; 0 leaves what the file says
	Touch     float64 // mm, how far off one touch may be; 0 is the default
}

// Answer is the result: one of the three fields is set.
type Answer struct {
	Name  string
	Frame *measure.Frame
	Tool  *measure.Tool
	Turn  *geom.Rot // of the tool centre point, where the file says it
	Grid  *measure.Grid
}

// Solve reads a file and works out the answer; nil where the points give none, and
// then findings say why. How far the answer can be trusted is among the findings, too.
func Solve(source plan.Source, q Request, findings *diag.List, sources *diag.Sources) *Answer {
	points := plan.ReadPoints(q.Kind, source, findings, sources)
	if findings.HasErrors() {
		return nil
	}
	if q.Name == "" {
		q.Name = nameOf(source.File, q.Kind)
	}
	if q.Touch == 0 {
		q.Touch = plan.DefaultTouchError
	}
	a := &Answer{Name: q.Name}
	var verdicts []measure.Verdict
	ok := false
	switch {
	case points.ThreePoints != nil || points.BestFit != nil:
		verdicts, ok = a.frame(points, q, findings)
	case points.Pivot != nil:
		verdicts, ok = a.tool(points, q, findings)
	case points.Corners != nil:
		verdicts, ok = a.grid(points.Corners, q, findings)
	}
	if !ok {
		return nil
	}
	for _, v := range verdicts {
		v.Report(findings)
	}
	return a
}

// nameOf is a file's own name as far as it can be the name of something in a cell.
func nameOf(file, kind string) string {
	base := filepath.Base(filepath.FromSlash(file))
	base, _, _ = strings.Cut(base, ".")
	clean := strings.Map(func(c rune) rune {
		if unicode.IsLetter(c) || unicode.IsDigit(c) || c == '_' || c == '-' {
			return c
		}
		return '_'
	}, base)
	clean = strings.Trim(clean, "_-")
	if clean == "stdin" || !plan.IsName(clean) {
		return kind
	}
	return clean
}

// tolerance is what the request says, or else the file.
func (q Request) tolerance(written plan.Real) plan.Real {
	if q.Tolerance > 0 {
		return plan.Real{V: q.Tolerance, Place: diag.Place{File: "--tolerance"}}
	}
	return written
}

func (a *Answer) frame(p *plan.Points, q Request, findings *diag.List) ([]measure.Verdict, bool) {
	if p.ThreePoints != nil {
		a.Frame = measure.ThreePoints(a.Name, p.ThreePoints, q.Touch, findings)
	} else {
		p.BestFit.Tolerance = q.tolerance(p.BestFit.Tolerance)
		a.Frame = measure.BestFit(a.Name, p.BestFit, q.Touch, findings)
	}
	if a.Frame == nil {
		return nil, false
	}
	verdicts := a.Frame.Judge()
	if v, oblique := a.Frame.Oblique(a.Frame.Pose()); oblique {
		verdicts = append(verdicts, v)
	}
	if v, down := a.Frame.UpsideDown(a.Frame.Pose()); down {
		verdicts = append(verdicts, v)
	}
	return verdicts, true
}

func (a *Answer) tool(p *plan.Points, q Request, findings *diag.List) ([]measure.Verdict, bool) {
	p.Pivot.Tolerance = q.tolerance(p.Pivot.Tolerance)
	if p.Turn.RPY.IsSet() || p.Turn.Quaternion.IsSet() {
		turn, _ := measure.Pose(p.Turn, geom.IdentityRot(), findings)
		a.Turn = &turn.R
	}
	a.Tool = measure.Pivot(a.Name, p.Pivot, q.Touch, findings)
	if a.Tool == nil || findings.HasErrors() {
		return nil, false
	}
	return a.Tool.Judge(), true
}

func (a *Answer) grid(c *plan.Corners, q Request, findings *diag.List) ([]measure.Verdict, bool) {
	c.Tolerance = q.tolerance(c.Tolerance)
	c.In = plan.Text{} // there is no frame to turn them into
	a.Grid = measure.Corners(a.Name, c, measure.Size{}, geom.Identity, findings)
	if a.Grid == nil {
		return nil, false
	}
	return a.Grid.Judge(), true
}

// last is the last row and column that were touched.
func last(g *measure.Grid) (row, col int) {
	for _, c := range g.Corners {
		row, col = max(row, c.Row), max(col, c.Col)
	}
	return row, col
}

// extremes are the corners of the grid that ends where the touched one does.
func extremes(g *measure.Grid) []fit.Corner {
	row, col := last(g)
	at := func(r, c int) fit.Corner { return fit.Corner{Row: r, Col: c, At: g.Surface.At(float64(r), float64(c))} }
	all := []fit.Corner{at(0, 0), at(0, col), at(row, 0)}
	if len(g.Corners) == 4 {
		all = append(all, at(row, col))
	}
	return all
}
