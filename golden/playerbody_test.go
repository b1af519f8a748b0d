package golden

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"gridferry/golden/outside"
	"gridferry/golden/web"
)

// fingered is a job whose tool points down and has a palm and one finger, which opens by
// 12 mm; the second grid is turned, and so is the tool there.
const fingered = `format: gridferry plan 1
cell:
  tools:
    jaw:
      tcp: {at: [0, 0, 100]}
      mass: 1
      body:
        palm:   {from: [-40, -20, -100], to: [40, 20, -50]}
        finger: {from: [25, -10, -50], to: [30, 10, 4], open: [12, 0, 0]}
      grip: {output: 1, level: on, settle: 1}
      release: {output: 1, level: off, settle: 1}
  frames: {turned: {at: [300, 300, 0], rpy: [0, 0, 90]}}
parts: {p: {mass: 0.1, size: [50, 50, 20]}}
grids:
  a: {frame: base, rows: 1, columns: 2, pitch: [140, 0], first: [200, 0, 10], part: p, filled: all}
  b: {frame: turned, rows: 1, columns: 2, pitch: [140, 0], first: [0, 0, 10], part: p}
motion: {tool: jaw, approach: 60, speed: {travel: 100, near: 50}}
transfers: [{from: a, to: b}]
`

// TestPlayerMovesTheTool: the player shows the tool's boxes at the tip, the finger where it
// is while the gripper is open until the first grip, closed behind a grip, open again behind
// a release, and so backwards.
func TestPlayerMovesTheTool(t *testing.T) {
	outside.Short(t)
	file := filepath.Join(t.TempDir(), "fingered.plan.yaml")
	if err := os.WriteFile(file, []byte(fingered), 0o666); err != nil {
		t.Fatal(err)
	}
	want, _ := history(t, file)
	var states []int
	for k := len(want) - 1; k >= 0; k-- {
		states = append(states, k)
	}
	list, _ := json.Marshal(states)
	var seen struct {
		Bodies [][]string
		Views  []topView
	}
	sight := web.Look(t, web.Job{Page: sheetPage(t, file), Steps: []web.Step{{Do: "read", On: `(() => {
  const views = [...document.querySelectorAll("#stage [data-view]")], slider = document.getElementById("position");
  const Bodies = ` + string(list) + `.map((k) => {
    slider.value = k;
    slider.dispatchEvent(new Event("input"));
    return views.map((v) => v.querySelector("[data-body]")).map((e) => e.getAttribute("display") === "none" ? "" : e.getAttribute("d"));
  });
  return { Bodies, Views: views.map(` + drawnAs + `) };
})()`}}})
	if err := json.Unmarshal(sight.Values[0], &seen); err != nil {
		t.Fatal(err)
	}
	closed := 0
	for i, k := range states {
		open := true
		for _, m := range want[:k+1] {
			if m.words == "grip" || m.words == "release" {
				open = m.words == "release"
			}
		}
		if !open {
			closed++
		}
		for v, view := range seen.Views {
			tip := want[k].tip
			if tip == nil {
				if seen.Bodies[i][v] != "" {
					t.Errorf("state %d: the tool is at %q before the tip is anywhere", k, seen.Bodies[i][v])
				}
				continue
			}
			shift := 0.0
			if open {
				shift = 12
			}
			palm := around(t, view, *tip, [3]float64{-40, -20, 50}, [3]float64{40, 20, 100})
			finger := around(t, view, *tip, [3]float64{25 + shift, -10, -4}, [3]float64{30 + shift, 10, 50})
			if got := outlines(t, seen.Bodies[i][v]); !slices.Equal(got, []string{palm, finger}) {
				t.Errorf("state %d: the tool is drawn at %v, wanted %v", k, got, []string{palm, finger})
			}
		}
	}
	if closed < 4 || closed > len(states)-4 {
		t.Errorf("the gripper is closed in %d of %d states: the test proves little", closed, len(states))
	}
}

// around is the rectangle on the drawing around a box beside the tip, along the base's
// axes; where the tip is over the grid that is turned, along those.
func around(t *testing.T, v topView, tip, lo, hi [3]float64) string {
	t.Helper()
	corner := func(c [3]float64) [2]float64 {
		if tip[1] > 100 {
			c[0], c[1] = -c[1], c[0]
		}
		return v.paper(t, [3]float64{tip[0] + c[0], tip[1] + c[1], tip[2] + c[2]})
	}
	a, b := corner(lo), corner(hi)
	return fmt.Sprintf("%.1f", [4]float64{min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])})
}

var (
	closedLines = regexp.MustCompile(`M([^MZ]*)Z`)
	pathPoints  = regexp.MustCompile(`(-?[\d.]+) (-?[\d.]+)`)
)

// outlines are the rectangles around the closed lines of a path.
func outlines(t *testing.T, d string) []string {
	t.Helper()
	var all []string
	for _, line := range closedLines.FindAllStringSubmatch(d, -1) {
		var r [4]float64
		for i, p := range pathPoints.FindAllStringSubmatch(line[1], -1) {
			x, y := number(t, p[1]), number(t, p[2])
			if i == 0 {
				r = [4]float64{x, y, x, y}
			}
			r = [4]float64{min(r[0], x), min(r[1], y), max(r[2], x), max(r[3], y)}
		}
		all = append(all, fmt.Sprintf("%.1f", r))
	}
	return all
}
