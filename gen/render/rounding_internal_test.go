package render

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"testing/fstest"

	"gridferry/gen/family"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// No pose lies further off than the bounds say by which most of them are not looked at.
func TestRoundingIsBounded(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	at := func(r float64) (v geom.Vec) {
		for _, part := range []*float64{&v.X, &v.Y, &v.Z} {
			*part = r * (2*rng.Float64() - 1)
		}
		return v
	}
	turn := func() geom.RPY {
		return geom.RPY{Roll: 360*rng.Float64() - 180, Pitch: 180*rng.Float64() - 90, Yaw: 360*rng.Float64() - 180}
	}
	for _, form := range []string{"fixed-xyz", "moving-zyx", "moving-zyz", "quaternion", "vector"} {
		rules := fmt.Sprintf("format: gridferry family 1\ntitle: t\nextension: .t\ndecimals: {length: 0, angle: 1, time: 0, speed: 0, mass: 0, quaternion: 2}\nspeed_unit: mm/s\ncomment: none\ncoordinates: frame\nrotation: %s\n"+
			"cannot: {select: no, straight: no, grip: no, release: no, set: no, await: no, dwell: no, note: no}\n", form)
		field := map[string]string{"fixed-xyz": "Roll", "moving-zyx": "Turn1", "moving-zyz": "Turn1", "quaternion": "QW", "vector": "RX"}[form]
		var list diag.List
		f, ok := family.Load(fstest.MapFS{"family.yaml": {Data: []byte(rules)}, "a.tmpl": {Data: []byte(`{{define "begin"}}{{end}}{{define "end"}}{{end}}{{define "travel"}}{{.X}} {{.Y}} {{.Z}} {{.` + field + `}}{{end}}`)}}, form, &list, nil)
		if !ok {
			t.Fatal(list.Sorted())
		}
		far, most := 0.0, 0.0
		for range 3000 {
			job := move.Job{Frames: []move.Frame{{Base: move.Point{Vec: at(500), RPY: turn()}}}, Tools: []move.Tool{{TCP: move.Point{Vec: at(200), RPY: turn()}}}}
			r := newRounding(f.Blocks, &job)
			m := move.Move{Kind: move.Travel, At: move.Point{Vec: at(300), RPY: turn()}, FrameNumber: 1, ToolNumber: 1}
			r.see(&m)
			position, orientation := r.bounds(&r.frames[0], &r.tools[0], m.At.Norm())
			if r.position.off > position || r.orientation.off > orientation {
				t.Fatalf("%s: %g mm and %g degrees off, bounds are %g and %g", form, r.position.off, r.orientation.off, position, orientation)
			}
			if all := r.poses() * r.anglesOf(f.Decimals.Of(r.turnFigure())); orientation > all || position > r.poses()*r.lengthsOf(0)+swing(all, m.At.Norm()) {
				t.Fatalf("%s: bounds of %g mm and %g degrees are beyond those by which decimals are proposed", form, position, orientation)
			}
			far, most = max(far, r.position.off/position), max(most, r.orientation.off/orientation)
		}
		if far < 0.4 || most < 0.15 {
			t.Errorf("%s: at most %g and %g of the bounds: are poses rounded at all?", form, far, most)
		}
	}
}
