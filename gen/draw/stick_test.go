package draw_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"gridferry/gen/draw"
	"gridferry/gen/expand"
	"gridferry/gen/geom"
	"gridferry/gen/joints"
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// withJoints is the moves of a layout with the readings of its arm.
func withJoints(l *layout.Layout) move.Seq {
	moves := expand.Batches(l, expand.Whole)
	return move.Single(joints.Choose(l, moves).Fill(moves))
}

// armsIn draws a plan, and gives the stick figures of its top view and its side view as they come.
func armsIn(t *testing.T, l *layout.Layout, o draw.Options) (views [2]*node, arms [2][]*node, text string) {
	t.Helper()
	o.Stands = o.StandsIn(l, func() move.Seq { return withJoints(l) })
	var b bytes.Buffer
	if err := draw.SVG(&b, l, expand.Moves(l), o); err != nil {
		t.Fatal(err)
	}
	for i, v := range read(t, b.Bytes()).all(func(n *node) bool { return n.attr["class"] == "view" }) {
		views[i], arms[i] = v, v.all(func(n *node) bool { return n.attr["data-arm"] != "" })
	}
	return views, arms, b.String()
}

// onPaper is a place of the base in a view, from what the view says of itself.
func onPaper(t *testing.T, v *node, p geom.Vec) (x, y float64) {
	t.Helper()
	axis := func(name string) (a geom.Vec) {
		scan(t, strings.ReplaceAll(v.attr[name], "−", "-"), "%g,%g,%g", &a.X, &a.Y, &a.Z)
		return a
	}
	var scale, ox, oy float64
	scan(t, v.attr["data-scale"], "%g", &scale)
	scan(t, v.attr["data-origin"], "%g %g", &ox, &oy)
	return ox + scale*axis("data-right").Dot(p), oy - scale*axis("data-up").Dot(p)
}

func scan(t *testing.T, text, format string, into ...any) {
	t.Helper()
	if _, err := fmt.Sscanf(text, format, into...); err != nil {
		t.Fatalf("%q: %v", text, err)
	}
}

// The tool of the figure ends where the list itself has the TCP, in both views; and its legend and its words are there.
func TestStickFigureEndsAtTheTCP(t *testing.T) {
	l := textLayout(t, reachPlan)
	for _, c := range []struct {
		o    draw.Options
		want []string
	}{
		{draw.Options{}, []string{"clear"}},
		{draw.Options{Transfer: 1}, []string{"near A1", "far A1"}},
		{draw.Options{After: 1}, []string{"clear"}},
		{draw.Options{Grid: "near"}, nil},
	} {
		at := map[string]geom.Vec{}
		for m := range expand.Moves(l) {
			if m.Kind.IsMotion() {
				at[m.Target.String()] = m.Base.Vec
			}
		}
		views, arms, text := armsIn(t, l, c.o)
		for i, v := range views {
			var names []string
			for _, a := range arms[i] {
				names = append(names, a.attr["data-arm"])
				tool := a.all(func(n *node) bool { return n.attr["class"] == "grasp" })
				x, y := onPaper(t, v, at[a.attr["data-arm"]])
				if end := fmt.Sprintf("L%.3f %.3f", x, y); len(tool) == 1 && !strings.HasSuffix(tool[0].attr["d"], end) {
					t.Errorf("%+v: the tool of the arm at %s is %q, wanted its end at %s", c.o, a.attr["data-arm"], tool[0].attr["d"], end)
				} else if len(tool) == 0 && v.attr["data-view"] == "side" {
					t.Errorf("%+v: no tool", c.o)
				}
			}
			if fmt.Sprint(names) != fmt.Sprint(c.want) {
				t.Errorf("%+v: the arm stands at %v, wanted %v", c.o, names, c.want)
			}
		}
		if shown := c.want != nil; strings.Contains(text, "the arm from its foot") != shown || strings.Contains(text, "The arm at "+strings.Join(c.want, "")+":") != (len(c.want) == 1) {
			t.Errorf("%+v: the legend or the words", c.o)
		}
	}
}

// Both views together give every joint in space: they are as far apart as the cell's own figures say of joints that a
// link joins.
func TestStickFigureKeepsItsLengths(t *testing.T) {
	l := textLayout(t, reachPlan)
	for _, o := range []draw.Options{{}, {Transfer: 1}} {
		views, arms, _ := armsIn(t, l, o)
		for i := range arms[0] {
			var at [6]geom.Vec
			for v, view := range views {
				ox, oy := onPaper(t, view, geom.Vec{})
				rx, _ := onPaper(t, view, geom.Vec{X: 1})
				pivots := arms[v][i].all(func(n *node) bool { return n.attr["class"] == "pivot" })
				if len(pivots) != 6 {
					t.Fatalf("%d joints, wanted 6", len(pivots))
				}
				var scale float64
				scan(t, view.attr["data-scale"], "%g", &scale)
				for k, p := range pivots {
					var x, y float64
					scan(t, p.attr["cx"]+" "+p.attr["cy"], "%g %g", &x, &y)
					across, up := (x-ox)/scale, (oy-y)/scale
					toX := rx != ox // what goes to the right is along X, or along -Y
					switch {
					case v == 1:
						at[k].Z = up
					case toX:
						at[k].X, at[k].Y = across, up
					default:
						at[k].X, at[k].Y = up, -across
					}
				}
			}
			for _, c := range []struct {
				from, to int
				far      float64
			}{{1, 2, 320}, {2, 4, math.Hypot(340, 40)}, {4, 5, 80}} { // as reachPlan has them; the last axis is that of the flange, where it is drawn
				if got := at[c.from].Dist(at[c.to]); math.Abs(got-c.far) > 0.1 {
					t.Errorf("%+v: joints %d and %d are %.2f mm apart, wanted %.2f", o, c.from+1, c.to+1, got, c.far)
				}
			}
		}
	}
}

// A rail that moves with the arm ends at what slides on it; one on the floor is drawn as a whole.
func TestStickFigureOfRails(t *testing.T) {
	const rails = `joints:
      - {name: floor, slides: [0, 1, 0], range: [-400, 500]}
      - {axis: [0, 0, 1], point: [0, 0, 0], range: [-170, 170]}
      - {axis: [0, 0, 1], point: [250, 0, 0], range: [-150, 150]}
      - {name: quill, slides: [0, 0, 1], range: [-400, 100]}
      - {axis: [0, 0, 1], point: [500, 0, 0], range: [-350, 350]}
    flange: {at: [500, 0, 600], rpy: [180, 0, 0]}
`
	_, tail, _ := strings.Cut(reachPlan, "flange: {at: [480, 0, 660], rpy: [0, 90, 0]}\n")
	head, _, _ := strings.Cut(reachPlan, "joints:\n")
	l := textLayout(t, head+rails+tail)
	views, arms, _ := armsIn(t, l, draw.Options{})
	var floor, quill bool
	for i, v := range views {
		for _, r := range arms[i][0].all(func(n *node) bool { return n.attr["class"] == "rod" }) {
			var a, b, c, d, scale float64
			scan(t, r.attr["d"], "M%g %gL%g %g", &a, &b, &c, &d)
			scan(t, v.attr["data-scale"], "%g", &scale)
			long := math.Hypot(a-c, b-d) / scale
			floor = floor || math.Abs(long-900) < 1
			// The flange is 100 mm above the clear pose, at 500; with the joint at 100 it is at 700.
			quill = quill || i == 1 && math.Abs(long-200) < 1
			if i == 1 && math.Abs(long-500) < 1 {
				t.Errorf("the quill is drawn as long as its range: %s", r.attr["d"])
			}
		}
		if n := len(arms[i][0].all(func(n *node) bool { return n.attr["class"] == "pivot" && n.name == "path" })); n != 2 {
			t.Errorf("%d joints that slide, wanted 2", n)
		}
	}
	if !floor || !quill {
		t.Errorf("the rail on the floor: %v, the quill: %v", floor, quill)
	}
}
