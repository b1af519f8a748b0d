package golden

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"gridferry/golden/outside"
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

// TestStepsMovesTheTool: the view shows the tool's boxes at the tip, the finger where it
// is while the gripper is open until the first grip, closed behind a grip, open again behind
// a release, and so backwards.
func TestStepsMovesTheTool(t *testing.T) {
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
	closed := 0
	for i, got := range lookAt(t, sheetPage(t, file), states) {
		k := states[i]
		open := true
		for _, m := range want[:k+1] {
			if m.words == "grip" || m.words == "release" {
				open = m.words == "release"
			}
		}
		if !open {
			closed++
		}
		tip := want[k].tip
		if tip == nil {
			if len(got.Tools) > 0 {
				t.Errorf("state %d: the tool is at %v before the tip is anywhere", k, got.Tools)
			}
			continue
		}
		shift := 0.0
		if open {
			shift = 12
		}
		boxes := [][2][3]float64{around(*tip, [3]float64{-40, -20, 50}, [3]float64{40, 20, 100}), around(*tip, [3]float64{25 + shift, -10, -4}, [3]float64{30 + shift, 10, 50})}
		if len(got.Tools) != len(boxes) {
			t.Fatalf("state %d: the tool fills %v, wanted %v", k, got.Tools, boxes)
		}
		for b := range boxes {
			for end, what := range []string{"least", "most"} {
				closeTo(t, fmt.Sprintf("state %d, box %d, the %s of it", k, b+1, what), got.Tools[b][end], boxes[b][end])
			}
		}
	}
	if closed < 4 || closed > len(states)-4 {
		t.Errorf("the gripper is closed in %d of %d states: the test proves little", closed, len(states))
	}
}

// around is what a box beside the tip fills in the base; where the tip is over the grid that is
// turned, the tool is turned as that is.
func around(tip, lo, hi [3]float64) [2][3]float64 {
	if tip[1] > 100 {
		lo[0], lo[1], hi[0], hi[1] = -hi[1], lo[0], -lo[1], hi[0]
	}
	for i := range tip {
		lo[i], hi[i] = lo[i]+tip[i], hi[i]+tip[i]
	}
	return [2][3]float64{lo, hi}
}
