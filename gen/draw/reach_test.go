package draw_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"

	"gridferry/gen/draw"
	"gridferry/gen/joints"
)

// reachPlan has an arm of invented dimensions, and grids that it reaches, in part or as a whole.
const reachPlan = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: <arm> & bench
  arm:
    joints:
      - {axis: [0, 0, 1], point: [0, 0, 0], range: [-170, 170]}
      - {axis: [0, 1, 0], point: [60, 0, 300], range: [-100, 130]}
      - {axis: [0, 1, 0], point: [60, 0, 620], range: [-200, 70]}
      - {axis: [1, 0, 0], point: [60, 0, 660], range: [-185, 185]}
      - {axis: [0, 1, 0], point: [400, 0, 660], range: [-120, 120]}
      - {axis: [1, 0, 0], point: [400, 0, 660], range: [-350, 350]}
    flange: {at: [480, 0, 660], rpy: [0, 90, 0]}
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  poses: {clear: {at: [400, 0, 400]}}
parts: {p: {mass: 0.1, size: [20, 20, 20]}}
grids:
  near: {frame: base, rows: 2, columns: 2, pitch: [50, 50], first: [350, 0, 60], part: p, filled: all}
  far: {frame: base, rows: 1, columns: 6, pitch: [80, 0], first: [350, 100, 60], part: p}
  ring: {frame: base, ring: {radius: [60, 100], places: [12, 20], turned: radial}, first: [420, 0, 60], part: p}
  tower: {frame: base, rows: 1, columns: 2, layers: 6, layer_pitch: 130, pitch: [50, 0], first: [350, -200, 60], part: p}
  plate: {frame: base, rows: 16, columns: 24, pitch: [4.5, 4.5], first: [350, -50, 60]}
motion: {tool: jaw, approach: 50, speed: {travel: 200, near: 40}, clear: clear}
transfers:
  - {from: near A1, to: far A1}
`

func reachOf(t *testing.T, grid string, scheme draw.Scheme) (string, *joints.Reach) {
	t.Helper()
	l := textLayout(t, reachPlan)
	ask := &joints.Question{Layout: l}
	for _, g := range l.Grids {
		if g.Name == grid {
			ask.Grid = g
		}
	}
	var b bytes.Buffer
	if err := draw.Reach(&b, ask, scheme); err != nil {
		t.Fatal(err)
	}
	all := ask.Reach()
	return b.String(), all
}

// Every slot is on the map once, where it is reached with its margin, and else hatched and with a word.
func TestReachMap(t *testing.T) {
	for _, grid := range []string{"near", "far", "ring"} {
		text, all := reachOf(t, grid, draw.Auto)
		missed := 0
		for _, at := range all.Slots {
			_, slot, found := strings.Cut(text, fmt.Sprintf("<g data-slot=%q>", at.Label))
			slot, _, _ = strings.Cut(slot, "</g>")
			figure := ">no<"
			if at.Reached {
				figure = ">" + all.Figure(at.Least) + " " + all.To(at.Least) + "<"
			} else {
				missed++
			}
			if !found || !strings.Contains(slot, figure) || !strings.Contains(slot, ">"+at.Label+"<") || strings.Contains(slot, `class="keep"`) == at.Reached {
				t.Errorf("%s %s: no %s in %q", grid, at.Label, figure, slot)
			}
		}
		if strings.Contains(text, "no: not reached") != (missed > 0) || (grid == "far") != (missed > 0 && missed < len(all.Slots)) {
			t.Errorf("%s: %d are not reached, and the legend says something else", grid, missed)
		}
		if want := fmt.Sprintf("%d of %d slots reached", len(all.Slots)-missed, len(all.Slots)); !strings.Contains(text, want) {
			t.Errorf("%s: no %q", grid, want)
		}
		if again, _ := reachOf(t, grid, draw.Auto); again != text {
			t.Errorf("%s: other bytes the second time", grid)
		}
		wellFormed(t, text)
	}
}

// Slots above each other show the one that is reached worst, and slots without room no figures.
func TestReachMapOfLayersAndPlates(t *testing.T) {
	text, all := reachOf(t, "tower", draw.Dark)
	worst := map[int32]joints.At{}
	for _, at := range all.Slots {
		if w, known := worst[at.Slot.Col]; !known || w.Reached && (!at.Reached || all.Less(at.Least, w.Least)) {
			worst[at.Slot.Col] = at
		}
	}
	if strings.Count(text, "data-slot=") != len(worst) || !strings.Contains(text, "reached worst") {
		t.Errorf("%d slots are drawn, wanted %d", strings.Count(text, "data-slot="), len(worst))
	}
	for _, w := range worst {
		if !strings.Contains(text, fmt.Sprintf("data-slot=%q", w.Label)) {
			t.Errorf("%s is reached worst, and not drawn", w.Label)
		}
	}
	plate, _ := reachOf(t, "plate", draw.Light)
	if strings.Count(plate, "data-slot=") != 384 || !strings.Contains(plate, "too close for figures") || strings.Contains(plate, ">A1</text>") {
		t.Error("a plate with slots close to each other")
	}
	wellFormed(t, text)
	wellFormed(t, plate)
}

func wellFormed(t *testing.T, text string) {
	t.Helper()
	for d := xml.NewDecoder(strings.NewReader(text)); ; {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}
