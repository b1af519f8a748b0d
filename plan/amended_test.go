package plan

import (
	"testing"

	"gridferry/plan/diag"
)

// TestAmendedPlansReadAlike: a plan that is changed in one thing is the plan whose text says that, but for places; the other one stays.
func TestAmendedPlansReadAlike(t *testing.T) {
	read := func(frame, poses, motion string) *Plan {
		text := `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames: {far: ` + frame + `}
  poses: {` + poses + `}
grids:
  tray: {frame: far, rows: 1, columns: 1, pitch: [10, 10], first: [0, 0, 0]` + motion + `}
motion: {tool: jaw, approach: 50, speed: {travel: 200, near: 50}}
transfers: []
`
		var list diag.List
		p := Read(Source{File: "a.plan.yaml", Data: []byte(text), Dir: "."}, nil, &list, new(diag.Sources))
		for _, f := range list.Sorted() {
			if f.Severity == diag.Error {
				t.Fatalf("%s: %s", f.Place, f.Message)
			}
		}
		return p
	}
	const points = "{three_points: {origin: [1, 2, 3], along_x: [101, 2, 3], toward_y: [1, 102, 3]}}"
	const fit = "{best_fit: {points: [{nominal: [0, 0, 0], measured: [1, 2, 3]}, {nominal: [9, 0, 0], measured: [10, 2, 3]}, {nominal: [0, 9, 0], measured: [1, 11, 3]}]}}"
	by, at, rpy := [3]float64{5, -7, 0}, [3]float64{1, 2, 3}, [3]float64{180, 0, 30}
	plain := func() *Plan { return read("{at: [0, 0, 0]}", "up: {at: [0, 0, 9]}", "") }
	for _, c := range []struct {
		name   string
		before *Plan
		change func(*Plan) *Plan
		what   func(*Plan) any
		want   any
	}{
		{"a pose more", plain(), func(p *Plan) *Plan { return p.WithPose("new", at, rpy) }, func(p *Plan) any {
			return [3]any{len(p.Cell.Poses), p.Cell.Poses[len(p.Cell.Poses)-1].Name.V, p.Cell.Poses[len(p.Cell.Poses)-1].Pose.RPY.V}
		}, [3]any{2, "new", rpy}},
		{"a pose elsewhere", plain(), func(p *Plan) *Plan { return p.WithPose("up", at, rpy) }, func(p *Plan) any { return [3]any{len(p.Cell.Poses), p.Cell.Poses[0].Name.V, p.Cell.Poses[0].Pose.At.V} }, [3]any{1, "up", at}},
		{"entry poses", plain(), func(p *Plan) *Plan { return p.WithEntry("tray", []string{"up"}) }, func(p *Plan) any {
			return p.Grids[0].Motion != nil && p.Grids[0].Motion.Entry.IsSet() && p.Grids[0].Motion.Entry.Poses[0].V == "up"
		}, true},
		{"a clear pose", read("{at: [0, 0, 0]}", "up: {at: [0, 0, 9]}", ", motion: {approach: 20}"), func(p *Plan) *Plan { return p.WithClear("tray", "up") }, func(p *Plan) any { return [2]any{p.Grids[0].Motion.Clear.V, p.Grids[0].Motion.Approach.V} }, [2]any{"up", 20.0}},
		{"a frame", plain(), func(p *Plan) *Plan { return p.WithFrameAt("far", at, rpy) }, func(p *Plan) any { return [2]any{p.Cell.Frames[0].Pose.At.V, p.Cell.Frames[0].Pose.RPY.V} }, [2]any{at, rpy}},
		{"a frame by quaternion", read("{at: [0, 0, 0], quaternion: [1, 0, 0, 0]}", "", ""), func(p *Plan) *Plan { return p.WithFrameAt("far", at, rpy) }, func(p *Plan) any { return [2]any{p.Cell.Frames[0].Pose.At.V, p.Cell.Frames[0].Pose.RPY.IsSet()} }, [2]any{at, false}},
		{"three points", read(points, "", ""), func(p *Plan) *Plan { return p.WithFrameMoved("far", by) }, func(p *Plan) any {
			return [2]any{p.Cell.Frames[0].ThreePoints.Origin.V, p.Cell.Frames[0].ThreePoints.TowardY.V}
		}, [2]any{[3]float64{6, -5, 3}, [3]float64{6, 95, 3}}},
		{"a best fit", read(fit, "", ""), func(p *Plan) *Plan { return p.WithFrameMoved("far", by) }, func(p *Plan) any {
			return [2]any{p.Cell.Frames[0].BestFit.Points[2].Measured.V, p.Cell.Frames[0].BestFit.Points[2].Nominal.V}
		}, [2]any{[3]float64{6, 4, 3}, [3]float64{0, 9, 0}}},
	} {
		if got := c.what(c.change(c.before)); got != c.want {
			t.Errorf("%s: %v, wanted %v", c.name, got, c.want)
		}
		if len(c.before.Cell.Poses) > 1 || c.before.Cell.Frames[0].Pose.At.V == at || c.before.Grids[0].Motion != nil && c.before.Grids[0].Motion.Clear.IsSet() ||
			c.before.Cell.Frames[0].ThreePoints != nil && c.before.Cell.Frames[0].ThreePoints.Origin.V != at || c.before.Cell.Frames[0].BestFit != nil && c.before.Cell.Frames[0].BestFit.Points[0].Measured.V != at {
			t.Errorf("%s: the plan that it was made from has changed, too", c.name)
		}
	}
}
