package sheet

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/draw"
	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// TestLayersLieAsInThePicture: however the frame of a stack is turned by quarters, its boxes lie
// on the sheet as they do in the view from above, each as long and as wide as it is there.
func TestLayersLieAsInThePicture(t *testing.T) {
	for _, yaw := range []float64{0, 90, 180, -90} {
		text := fmt.Sprintf(`format: gridferry plan 1
cell:
  tools: {plate: {tcp: {at: [0, 0, 200]}, mass: 5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames: {dock: {at: [900, 300, 100], rpy: [0, 0, %g]}}
parts: {box: {mass: 3, size: [200, 100, 50]}}
grids:
  stack: {frame: dock, boxes: {layers: 2, alternate: turn, pattern: [{at: [50, 100], turned: 90}, {at: [200, 50]}, {at: [200, 150]}]}, pallet: [320, 200], part: box, filled: all}
  spot: {frame: base, rows: 1, columns: 1, first: [500, 0, 0], part: box}
motion: {tool: plate, approach: 200, speed: {travel: 500, near: 60}}
transfers: [{from: stack A1.2, to: spot}]
`, yaw)
		var list diag.List
		l := layout.Resolve(plan.Read(plan.Source{File: "x.plan.yaml", Data: []byte(text), Dir: "."}, nil, &list, new(diag.Sources)), layout.Options{}, &list)
		if list.HasErrors() {
			t.Fatal(list.Sorted())
		}
		g := check.NewSlots(l).Grids[0]
		right, up := draw.Directions(l)
		p := newFloorPlan(g, right, up)
		for layer := range 2 {
			svg := string(p.draw(layer, "before", g.Before, nil, nil))
			found := regexp.MustCompile(`class="full"[^M]*M([-.\d]+) ([-.\d]+)h([.\d]+)v([.\d]+)`).FindAllStringSubmatch(svg, -1)
			if len(found) != g.PerLayer() {
				t.Fatalf("%d boxes in %s", len(found), svg)
			}
			var x0, y0 float64 // of the first box on paper
			for i, m := range found {
				var v [4]float64
				for k := range v {
					v[k], _ = strconv.ParseFloat(m[k+1], 64)
				}
				x, y := v[0]+v[2]/2, v[1]+v[3]/2
				pose := g.Frame.Base.Mul(g.Pose(g.Slot(layer*g.PerLayer()+i), g.Part, nil))
				first := g.Frame.Base.Mul(g.Pose(g.Slot(layer*g.PerLayer()), g.Part, nil))
				if i == 0 {
					x0, y0 = x, y
				}
				off := pose.T.Sub(first.T)
				wantX, wantY := off.Dot(right)*p.scale, -off.Dot(up)*p.scale
				long := math.Abs(pose.R.Column(0).Dot(right)) > 0.5
				if math.Abs(x-x0-wantX)+math.Abs(y-y0-wantY) > 0.03 || long != (v[2] > v[3]) {
					t.Errorf("frame turned by %g, layer %d: box %d is at %g, %g from the first and %g by %g, wanted %g, %g", yaw, layer+1, i, x-x0, y-y0, v[2], v[3], wantX, wantY)
				}
			}
		}
	}
}
