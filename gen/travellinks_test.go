package gen_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
)

// A bench with an arm whose forearm fills some room, and two places of equal distance on either side of the arm: the joints lead
// the TCP from one to the other on an arc, while a line leads it past the base, with the elbow higher and drawn back.
const linkedPlan = `format: gridferry plan 1
cell:
  name: linked
  machine: {rated_load: 2, speed: 500, acceleration: 2000, reach: {radius: [150, 750], height: [-20, 800]}}
  arm:
    joints:
      - {name: J1, axis: [0, 0, 1], point: [0, 0, 0],     range: [-170, 170], speed: 300}
      - {name: J2, axis: [0, 1, 0], point: [60, 0, 300],  range: [-100, 130], speed: 300}
      - {name: J3, axis: [0, 1, 0], point: [60, 0, 620],  range: [-200, 70], speed: 300}
      - {name: J4, axis: [1, 0, 0], point: [60, 0, 660],  range: [-250, 250], speed: 300}
      - {name: J5, axis: [0, 1, 0], point: [400, 0, 660], range: [-120, 120], speed: 300}
      - {name: J6, axis: [1, 0, 0], point: [400, 0, 660], range: [-350, 350], speed: 300}
    flange: {at: [480, 0, 660], rpy: [0, 90, 0]}
    links: {J3: [{capsule: {from: [60, 0, 660], to: [330, 0, 660], radius: 40}}]}
  tools:
    jaw: {tcp: {at: [0, 0, 120]}, mass: 0.8, radius: 15, grip: {output: 1, level: on, settle: 0.3}, release: {output: 1, level: off, settle: 0.3}}
  poses: {clear: {at: [430, 0, 330]}}
  keep_out: {lamp: {from: %s, to: %s}}
parts: {p: {mass: 0.1, size: [20, 20, 20]}}
grids:
  a: {frame: base, rows: 1, columns: 1, first: [300, -300, 55], part: p, filled: all}
  b: {frame: base, rows: 1, columns: 1, first: [300, 300, 55], part: p}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 50}, clear: none}
transfers:
  - {from: a, to: b}
`

// TestLinksAlongLinesOfTravels: a box that the forearm passes on the way of the joints is hit where a family's travels are lines,
// and the place that is named lies on the line, which is the one at x = 300 and z = 115. The same box the other way round.
func TestLinksAlongLinesOfTravels(t *testing.T) {
	t.Parallel()
	tcp := regexp.MustCompile(`the TCP at 300, -?\d+, 115`)
	for _, tt := range []struct {
		from, to    string
		joint, line bool // free
	}{
		{"[180, -40, 520]", "[200, 0, 540]", true, false},
		{"[180, 0, 460]", "[200, 40, 480]", true, false},
		{"[100, -300, 700]", "[120, -280, 720]", true, true},
		{"[330, -40, 440]", "[350, 0, 460]", false, true},
	} {
		j := jobOf(t, fmt.Sprintf(linkedPlan, tt.from, tt.to))
		if free := j.Check(); free != tt.joint {
			t.Errorf("%s: the way of the joints is free: %t\n%s", tt.from, free, errorsOf(j))
			continue
		}
		if !tt.joint {
			continue
		}
		line := j.CheckFor(loaded(t, j, "st", "travel_path: line\n"))
		if got := errorsOf(j); line != tt.line || !line && !(strings.Contains(got, "link-hits") && tcp.MatchString(got)) {
			t.Errorf("%s: the line is free: %t\n%s", tt.from, line, got)
		}
	}
}

// TestJointsAlongLinesOfTravels: J1 is fast enough for the straights at the slots and for the way of the joints. Halfway along the
// line at x = 300 it turns by 200 / 300 of a radian in a second, 38.2 degrees, which is known to a fiftieth; that allows
// 200 · 25 / 38.2 = 130.9 mm/s. The advice is about the line.
func TestJointsAlongLinesOfTravels(t *testing.T) {
	t.Parallel()
	j := jobOf(t, strings.Replace(fmt.Sprintf(linkedPlan, "[100, -300, 700]", "[120, -280, 720]"), "range: [-170, 170], speed: 300", "range: [-170, 170], speed: 25", 1))
	if !j.Check() {
		t.Fatal(errorsOf(j))
	}
	f := loaded(t, j, "st", "travel_path: line\n")
	if j.CheckFor(f) {
		t.Fatal("the line is free")
	}
	found := j.Findings.Sorted()
	message := regexp.MustCompile(`on the straight line to "b A1 approach", (2[89]|3[01])\d\.\d mm before its end, the joint J1 would have to go at 3[89]°/s for 200 mm/s of the TCP; it can go at 25`)
	hint := regexp.MustCompile(`^go at 1(28|29|30) mm/s at the most, or put the clear pose where the line from it .* a travel is a straight line$`)
	if len(found) != 1 || !message.MatchString(found[0].Message) || !hint.MatchString(found[0].Hint) {
		t.Errorf("%v", found)
	}
}
