package gen

import (
	"fmt"
	"math/rand/v2"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// faulty is a plan for an arm of invented dimensions.
type faulty struct {
	left, right  string // the frames
	clear, boxes string
}

func (f faulty) text() string {
	text := manual.ExamplePlan
	for _, change := range [][2]string{
		{"  name: example bench\n", `  name: example bench
  arm:
    joints:
      - {name: J1, axis: [0, 0, 1], point: [0, 0, 0],      range: [-170, 170]}
      - {name: J2, axis: [0, 1, 0], point: [60, 0, 300],   range: [-100, 130]}
      - {name: J3, axis: [0, 1, 0], point: [60, 0, 620],   range: [-200, 70]}
      - {name: J4, axis: [1, 0, 0], point: [60, 0, 660],   range: [-185, 185]}
      - {name: J5, axis: [0, 1, 0], point: [400, 0, 660],  range: [-120, 120]}
      - {name: J6, axis: [1, 0, 0], point: [400, 0, 660],  range: [-350, 350]}
    flange: {at: [480, 0, 660], rpy: [0, 90, 0]}
    links:
      J2: [{capsule: {from: [60, 0, 300], to: [60, 0, 620], radius: 50}}]
      J3: [{capsule: {from: [60, 0, 660], to: [330, 0, 660], radius: 40}}]
`},
		{"    reach: {radius: [150, 600], height: [-20, 650]}\n", ""},
		{"      mass: 0.8\n", "      mass: 0.8\n      radius: 25\n"},
		{"{at: [250, 60, 40]}", f.left}, {"{at: [250, -260, 40]}", f.right},
		{"{at: [330, 0, 300]}", f.clear}, {"keep_out: {}", "keep_out: " + f.boxes},
	} {
		if strings.Count(text, change[0]) != 1 {
			panic(change[0])
		}
		text = strings.Replace(text, change[0], change[1], 1)
	}
	return text
}

func checked(t *testing.T, text string) []diag.Finding {
	t.Helper()
	j := new(Job)
	if j.Read(plan.Source{File: "faulty.plan.yaml", Data: []byte(text), Dir: "."}, nil, layout.Options{}) {
		j.Check()
	}
	return j.Findings.Sorted()
}

func errorsIn(found []diag.Finding) (all []diag.Finding) {
	for _, f := range found {
		if f.Severity == diag.Error {
			all = append(all, f)
		}
	}
	return all
}

var (
	newPose  = regexp.MustCompile(`under "poses", (\w+): (\{at: \[.*?\], rpy: \[.*?\]\})`)
	inEntry  = regexp.MustCompile(`in the grid "(\w+)", motion: (\{.*?\})`)
	newFrame = regexp.MustCompile(`the frame "(\w+)" .*?, to (at: \[.*?\])(?:, (rpy: \[.*?\]))?; that was tried`)
)

// applied is a plan with all that its findings propose, by the words of their hints; how many proposals there are.
func applied(text string, found []diag.Finding) (string, int) {
	n := 0
	for _, f := range found {
		for _, m := range newPose.FindAllStringSubmatch(f.Hint, -1) {
			n++
			if regexp.MustCompile(`\n    ` + m[1] + `: `).MatchString(text) {
				text = regexp.MustCompile(`\n    `+m[1]+`: .*`).ReplaceAllString(text, "\n    "+m[1]+": "+m[2])
			} else {
				text = strings.Replace(text, "\n  poses:\n", "\n  poses:\n    "+m[1]+": "+m[2]+"\n", 1)
			}
		}
		for _, m := range inEntry.FindAllStringSubmatch(f.Hint, -1) {
			text = regexp.MustCompile(`\n  `+m[1]+`: \{`).ReplaceAllString(text, "\n  "+m[1]+": {motion: "+m[2]+", ")
		}
		for _, m := range newFrame.FindAllStringSubmatch(f.Hint, -1) {
			n++
			line := regexp.MustCompile(`\n    ` + m[1] + `: .*`).FindString(text)
			moved := regexp.MustCompile(`at: \[.*?\]`).ReplaceAllString(line, m[2])
			if m[3] != "" {
				moved = regexp.MustCompile(`rpy: \[.*?\]`).ReplaceAllString(moved, m[3])
			}
			text = strings.Replace(text, line, moved, 1)
		}
	}
	return text, n
}

func faultyPlans() int {
	if n, err := strconv.Atoi(os.Getenv("GRIDFERRY_FAULTY")); err == nil {
		return n
	}
	return 12
}

// TestProposedPosesFree puts boxes anywhere between the clear pose and the grids, and has every proposal for a travel that hits one done by
// the hint's own words: then nothing is hit any more.
func TestProposedPosesFree(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: each plan is tried many times over")
	}
	t.Parallel()
	r := rand.New(rand.NewPCG(7, 19))
	between := func(lo, hi int) int { return lo + r.IntN(hi-lo+1) }
	hit, proposed := 0, 0
	for hit < faultyPlans() {
		x, y, z := between(150, 420), between(-220, 180), between(120, 560)
		f := faulty{"{at: [250, 60, 40]}", "{at: [250, -260, 40]}", "{at: [330, 0, 300]}",
			fmt.Sprintf("{box: {from: [%d, %d, %d], to: [%d, %d, %d]}}", x, y, z, x+between(10, 80), y+between(10, 80), z+between(10, 120))}
		text := f.text()
		found := errorsIn(checked(t, text))
		ways := 0
		for _, one := range found {
			if one.Rule == "link-hits" || one.Rule == "way-hits" {
				ways++
			}
		}
		if ways == 0 || ways < len(found) { // keep-out-hit at an end is another matter
			continue
		}
		hit++
		changed, _ := applied(text, found)
		left := errorsIn(checked(t, changed))
		for _, one := range found {
			if strings.Contains(one.Hint, "see the") || strings.Count(one.Hint, "; and ") >= strings.Count(one.Hint, "that was tried")+strings.Count(one.Hint, "motion:") || !strings.Contains(one.Hint, "that was tried") {
				t.Log(f.boxes, one.Message, "\n", one.Hint)
				continue
			}
			proposed++
			for _, other := range left {
				if other.Rule == one.Rule && other.Message == one.Message || len(left) > len(found) {
					t.Errorf("%s: after what %q proposes there is %s [%s]", f.boxes, one.Hint, other.Message, other.Rule)
				}
			}
		}
	}
	t.Logf("of %d plans with hits %d findings have a proposal", hit, proposed)
	if proposed < hit/4 {
		t.Error("the test proves little")
	}
}

// TestProposedFramesReach puts the frames anywhere, and has every proposal to move one done by the hint's own words: then the arm reaches
// every slot in it, and nothing else is wrong.
func TestProposedFramesReach(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: each plan is tried many times over")
	}
	t.Parallel()
	r := rand.New(rand.NewPCG(8, 19))
	between := func(lo, hi int) int { return lo + r.IntN(hi-lo+1) }
	out, proposed := 0, 0
	for out < faultyPlans() {
		f := faulty{fmt.Sprintf("{at: [%d, %d, %d], rpy: [0, 0, %d]}", between(-100, 700), between(-100, 600), between(-100, 300), between(-180, 180)),
			"{at: [250, -260, 40]}", "{at: [330, 0, 300]}", "{}"}
		text := f.text()
		found := errorsIn(checked(t, text))
		if len(found) == 0 || found[0].Rule != "joint-out-of-range" && found[0].Rule != "arm-out-of-reach" {
			continue
		}
		out++
		changed, _ := applied(text, found)
		if !strings.Contains(found[0].Hint, "that was tried") {
			t.Log(f.left, found[0].Message, "\n", found[0].Hint)
			continue
		}
		proposed++
		for _, one := range errorsIn(checked(t, changed)) {
			t.Errorf("%s: after what %q proposes there is %s [%s]", f.left, found[0].Hint, one.Message, one.Rule)
		}
	}
	t.Logf("of %d plans %d have a proposal", out, proposed)
	if proposed < out/2 {
		t.Error("the test proves little")
	}
}

// TestProposalsFitIn: a pose goes between those that are passed already, and where the arm stays in one grid it is the clear pose. Measured
// frames are moved by hand, and where there is no place it is said that there is none.
func TestProposalsFitIn(t *testing.T) {
	t.Parallel()
	usual := faulty{"{at: [250, 60, 40]}", "{at: [250, -260, 40]}", "{at: [330, 0, 300]}", "{}"}
	far := usual
	far.left = "{three_points: {origin: [700, 260, 40], along_x: [900, 260, 40], toward_y: [700, 460, 40]}}"
	lamp, post := usual, usual
	lamp.boxes = "{lamp: {from: [300, 60, 230], to: [340, 90, 290]}}"
	post.boxes = "{post: {from: [325, 80, 0], to: [335, 160, 140]}}"
	for _, c := range []struct {
		name, text string
		changes    [][2]string
		want       string
	}{
		{"before an entry pose", lamp.text(), [][2]string{{"  poses:\n", "  poses:\n    over: {at: [320, 140, 260]}\n"}, {"tray: {", "tray: {motion: {entry: [over]}, "}},
			`under "poses", way_to_tray: .* in the "motion" of the grid "tray", entry: \[way_to_tray, over\]; that was tried`},
		{"within a grid", post.text(), [][2]string{{"  clear: clear\n", "  clear: none\n  start: clear\n"}, {"filled: all", "filled: \"A1, B1\""}, {"  - {from: \"tray A1:A3\", to: \"rack A1:A3\"}\n", "  - {from: \"tray A1, B1\", to: \"tray A3, B3\"}\n"},
			{"  - {from: \"tray B1:B2\", to: \"pile A1.1, A1.2\"}\n", ""}},
			`under "poses", clear_of_tray: .* in the grid "tray", motion: \{clear: clear_of_tray\}; that was tried`},
		{"measured", far.text(), nil, `move what stands in the frame "left" by \[-\d+, -\d+\] mm along X and Y of "base", and touch the frame there anew; that was tried`},
		{"nowhere", usual.text(), [][2]string{{"columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, filled: all", "columns: 3, pitch: [900, 60], first: [30, 30, 15], part: block, filled: all"}},
			`no place of the frame "left" was found at which the arm reaches every slot with 5° to spare, up to \d+ mm off along each axis, turned about Z or not: \d+ were tried`},
	} {
		text := c.text
		for _, change := range c.changes {
			text = strings.Replace(text, change[0], change[1], 1)
		}
		var hints []string
		for _, f := range errorsIn(checked(t, text)) {
			hints = append(hints, f.Message+" ["+f.Rule+"]: "+f.Hint)
		}
		if !regexp.MustCompile(c.want).MatchString(strings.Join(hints, "\n")) {
			t.Errorf("%s: %s, wanted %s", c.name, strings.Join(hints, "\n"), c.want)
		}
	}
}
