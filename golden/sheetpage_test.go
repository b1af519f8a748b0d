package golden

import (
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"html"
	"io"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gridferry/golden/outside"
	"gridferry/golden/web"
)

// sheetPage writes a job sheet into a file of its own.
func sheetPage(t *testing.T, args ...string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "sheet.html")
	mustRun(t, append([]string{"sheet", "-o", file}, args...)...)
	return file
}

// measuredPlan is a plan with everything that can be measured, with every step,
// and with warnings.
func measuredPlan(t *testing.T) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "measured.plan.yaml")
	if err := os.WriteFile(file, []byte(measuredText), 0o666); err != nil {
		t.Fatal(err)
	}
	return file
}

const measuredText = `format: gridferry plan 1
title: Everything measured
cell:
  name: a bench of points
  machine: {rated_load: 3, speed: 900, reach: {radius: [50, 1500], height: [-500, 1500]}}
  tools:
    jaw:
      tcp:
        pivot:
          - {at: [470, 220, 150], rpy: [0, 0, 0]}
          - {at: [470, 350.2, 320], rpy: [90, 0, 0]}
          - {at: [350, 220, 330], rpy: [0, 90, 0]}
          - {at: [480, 170, 150], rpy: [0, 0, 90]}
          - {at: [470, 50, 280],  rpy: [-90, 0, 0]}
      mass: 0.85
      centre_of_gravity: [0, 0, 61]
      grip:    {output: 1, level: on,  settle: 0.4}
      release: {output: 2, level: on, settle: 0.3}
  frames:
    table:
      best_fit:
        points:
          - {name: front left,  nominal: [0, 0, 0],      measured: [250.1, -150.0, 40.0]}
          - {name: front right, nominal: [400, 0, 0],    measured: [570.0, 90.1, 40.1]}
          - {name: back left,   nominal: [0, 300, 0],    measured: [69.9, 90.0, 39.9]}
          - {name: back right,  nominal: [400, 300, 0],  measured: [390.0, 330.1, 40.0]}
          - {name: pin,         nominal: [200, 150, 60], measured: [320.0, 90.0, 100.1]}
    near: {three_points: {origin: [500, -300, 40], along_x: [540, -300, 40], toward_y: [500, -260, 40]}}
  poses: {clear: {at: [350, 0, 500]}}
parts: {cube: {mass: 0.29, size: [40, 40, 40]}}
grids:
  tray:
    frame: table
    rows: 4
    columns: 6
    corners: {A1: [40.0, 40.1, 25.0], A6: [340.1, 40.0, 25.3], D1: [39.9, 235.1, 25.0], D6: [340.1, 235.0, 25.4]}
    nominal_pitch: [60, 65]
    part: cube
    filled: A1:B6
  rack: {frame: near, rows: 3, columns: 4, pitch: [50, 50], first: [30, 30, 25], part: cube}
motion: {tool: jaw, approach: 70, speed: {travel: 200, near: 80}, clear: clear}
begin:
  - set: {output: 3, level: on}
transfers:
  - from: tray
    to: {grid: rack, then: [await: {input: 4, level: on}]}
    take: 3
  - from: {grid: tray, then: [dwell: 1]}
    to: rack
end:
  - set: {output: 3, level: off}
`

// sheetPages is sheets of every sort, by what they show.
func sheetPages(t *testing.T) map[string]string {
	outside.Short(t)
	return map[string]string{
		"cubes":        sheetPage(t, cubes),
		"long":         sheetPage(t, demoFolder+"/dense-plate.plan.yaml"),
		"odd grids":    sheetPage(t, demoFolder+"/odd-grids.plan.yaml", "--family", "st"),
		"word address": sheetPage(t, demoFolder+"/cartons.plan.yaml", "--family", "iso6983"),
		"measured":     sheetPage(t, measuredPlan(t)),
		"hostile":      sheetPage(t, hostile(t)),
		"rest":         sheetPage(t, demoFolder+"/mortar-cubes-scale.plan.yaml", "--from", "3", "--holding"),
		"first run":    sheetPage(t, demoFolder+"/mortar-cubes-scale.plan.yaml", "--prove-out"),
	}
}

func TestSheetsAreValid(t *testing.T) {
	for name, file := range sheetPages(t) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, bad := range []string{"NaN", "Inf", "<no value>", "%!", "ZgotmplZ", "undefined"} {
			if strings.Contains(withoutScript(string(data)), bad) {
				t.Errorf("%s: %q is on the page", name, bad)
			}
		}
		for _, f := range web.Validate(t, data) {
			t.Errorf("%s:%d:%d: %s [%s]", name, f.Line, f.Column, f.Message, f.Rule)
		}
	}
}

// withoutScript is a page without its own script, and withoutStyle without styles.
func withoutScript(page string) string {
	at := strings.LastIndex(page, "<script>")
	end := strings.LastIndex(page, "</script>")
	return page[:at] + page[end:]
}

// Each sheet makes one request, which is itself, runs nothing but its own script,
// and keeps nobody out: in light and dark, wide and narrow, with and without
// scripts, and on the paper of A4 and Letter inside margins of 10 mm (190 and
// 195.9 mm, at 96 px to the inch, CSS Values 3), where no table is cut off.
func TestSheetsStandAlone(t *testing.T) {
	t.Parallel()
	const inside = "[...document.querySelectorAll('table, svg, p, pre, dl')].every(e => e.getBoundingClientRect().right <= innerWidth + 0.5)"
	const here = "document.documentElement.scrollWidth <= innerWidth"
	var jobs []web.Job
	var names []string
	add := func(name, how string, job web.Job) {
		names = append(names, name+", "+how)
		jobs = append(jobs, job)
	}
	for name, file := range sheetPages(t) {
		steps := []web.Step{{Do: "click", On: "#forward"}, {Do: "read", On: here}}
		if name != "long" { // of which the checker takes longest: once is enough
			steps = append(steps, web.Step{Do: "check"})
		}
		paper := web.Step{Do: "read", On: inside + " && " + here + " && getComputedStyle(document.getElementById('steps')).display === 'none'"}
		add(name, "light, then dark and narrow, then printed", web.Job{Page: file, Width: 1400, Steps: append(steps,
			web.Step{Do: "scheme", On: "dark"}, web.Step{Do: "width", On: "400"}, web.Step{Do: "read", On: here}, web.Step{Do: "check"},
			web.Step{Do: "scheme", On: "light"}, web.Step{Do: "print"}, web.Step{Do: "width", On: "718"}, paper, web.Step{Do: "width", On: "740"}, paper)})
		add(name, "without scripts", web.Job{Page: file, Width: 400, NoScript: true, Steps: []web.Step{{Do: "read", On: here + " && document.getElementById('steps').hidden"}}})
	}
	for i, sight := range web.LookAll(t, jobs) {
		if len(sight.Requests) != 1 || !strings.HasPrefix(sight.Requests[0], "file://") {
			t.Errorf("%s: requests %q, wanted one, the page itself", names[i], sight.Requests)
		}
		if len(sight.Complaints) > 0 {
			t.Errorf("%s: the browser says %q", names[i], sight.Complaints)
		}
		for _, v := range sight.Serious() {
			t.Errorf("%s: %s %s: %s\n%s", names[i], v.Impact, v.Rule, v.Help, strings.Join(v.Nodes, "\n"))
		}
		for k, step := range jobs[i].Steps {
			if step.Do == "read" && string(sight.Values[k]) != "true" {
				t.Errorf("%s: at step %d something stands over the edge, or the steps are shown where it must not be", names[i], k+1)
			}
		}
	}
}

// shown is what the page's viewer shows in one state, mm in the base.
type shown struct {
	State   int
	Parts   map[string][3]float64 // the slots that hold one, and where its slot is
	Tip     *[3]float64
	Carried bool
	Tools   [][2][3]float64 // what their boxes fill: the least and the most of each coordinate
	Open    float64
	Words   string
	Plan    string
	Program string
}

// lookAtStates is an expression that puts the page into states and tells what it
// shows there.
func lookAtStates(states []int) string {
	list, _ := json.Marshal(states)
	return `(() => {
  const slider = document.getElementById("position"), { grids } = paper.data.scene;
  return ` + string(list) + `.map((k) => {
    slider.value = k;
    slider.dispatchEvent(new Event("input"));
    const seen = play.viewer.seen();
    return {
      State: Number(slider.value),
      Parts: Object.fromEntries(seen.grids.flatMap((g, i) => g.full.map((part) => [slots.name(grids[i], part.index), part.at]))),
      Tip: seen.tip, Carried: seen.holds.length > 0, Tools: seen.tools, Open: play.clock.state.open,
      Words: document.getElementById("now-move").textContent,
      Plan: (document.querySelector("#plan-lines .here") || {}).textContent || "",
      Program: [...document.querySelectorAll("#program-lines .here")].map((e) => e.textContent).join("\n"),
    };
  });
})()`
}

// lookAt is what the page of a plan shows in states.
func lookAt(t *testing.T, page string, states []int) []shown {
	t.Helper()
	var seen []shown
	sight := web.Look(t, web.Job{Page: page, Steps: []web.Step{{Do: "read", On: lookAtStates(states)}}})
	if err := json.Unmarshal(sight.Values[0], &seen); err != nil || len(seen) != len(states) {
		t.Fatalf("%d states, %v", len(seen), err)
	}
	return seen
}

// afterMove is what the list of moves says of one state, worked out again from the
// list as CSV and from the slots of "check".
type afterMove struct {
	parts   map[string]bool
	tip     *[3]float64
	carried bool
	line    string
	words   string
}

// history follows the list: what stands where before the first move and after
// each of them, and where parts were put down or picked up.
func history(t *testing.T, args ...string) (states []afterMove, at map[string][3]float64) {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(mustRun(t, append([]string{"moves", "--format", "csv"}, args...)...))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	now := afterMove{parts: partsBefore(t, args...)}
	states, at = append(states, now), map[string][3]float64{}
	for _, row := range rows[1:] {
		get := func(name string) string { return row[column[name]] }
		next := now
		switch action := get("action"); action {
		case "travel", "straight":
			tip := [3]float64{number(t, get("base_x")), number(t, get("base_y")), number(t, get("base_z"))}
			next.tip = &tip
			if action == "straight" && !strings.HasSuffix(get("target"), " approach") {
				at[get("target")] = tip
			}
		case "grip", "release":
			if get("target") == "" {
				break
			}
			next.parts = map[string]bool{}
			for k := range now.parts {
				next.parts[k] = true
			}
			next.carried = action == "grip"
			if next.carried {
				delete(next.parts, get("target"))
			} else {
				next.parts[get("target")] = true
			}
		}
		next.line, next.words = get("line"), get("action")
		states, now = append(states, next), next
	}
	return states, at
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// partsBefore is the slots that hold a part at the start.
func partsBefore(t *testing.T, args ...string) map[string]bool {
	t.Helper()
	var data struct {
		Grids []struct {
			Name  string
			Slots []struct {
				Slot   string
				Before bool
			}
		}
	}
	if err := json.Unmarshal([]byte(mustRun(t, append([]string{"check", "--slots", "--format", "json"}, args...)...)), &data); err != nil {
		t.Fatal(err)
	}
	parts := map[string]bool{}
	for _, g := range data.Grids {
		for _, s := range g.Slots {
			if s.Before {
				parts[g.Name+" "+s.Slot] = true
			}
		}
	}
	return parts
}

// played is the plans whose steps are taken, and how many of their states are
// looked at: all, or every so many-th.
func played(t *testing.T) map[string]struct {
	file  string
	every int
} {
	type job = struct {
		file  string
		every int
	}
	return map[string]job{
		"cubes":     {cubes, 3},
		"cartons":   {demoFolder + "/cartons.plan.yaml", 1},
		"odd grids": {demoFolder + "/odd-grids.plan.yaml", 1},
		"tubes":     {demoFolder + "/tube-rack.plan.yaml", 7},
		"long":      {demoFolder + "/dense-plate.plan.yaml", 500},
		"measured":  {measuredPlan(t), 1},
	}
}

// After every step the parts stand where the list of moves says, the tip is where
// the list says, and going back to the start brings everything back.
func TestStepsFollowsTheMoves(t *testing.T) {
	t.Parallel()
	outside.Short(t)
	for name, job := range played(t) {
		t.Run(name, func(t *testing.T) {
			want, at := history(t, job.file)
			start := *want[slices.IndexFunc(want, func(s afterMove) bool { return s.tip != nil })].tip
			last := min(len(want)-1, carriedMoves(t, job.file))
			var states []int
			for k := 0; k < last; k += job.every {
				states = append(states, k)
			}
			states = append(states, last, last/2, 0, last, 0)
			for i, got := range lookAt(t, sheetPage(t, job.file), states) {
				if got.State != states[i] {
					t.Fatalf("the page is in state %d, wanted %d", got.State, states[i])
				}
				compare(t, got, want[states[i]], at, start)
				if t.Failed() {
					return
				}
			}
		})
	}
}

// carriedMoves is how many moves the page says that it holds.
func carriedMoves(t *testing.T, file string) int {
	t.Helper()
	data, err := os.ReadFile(sheetPage(t, file))
	if err != nil {
		t.Fatal(err)
	}
	if found := regexp.MustCompile(`\(moves 1 to (\d+) of \d+\)`).FindSubmatch(data); found != nil {
		return int(number(t, string(found[1])))
	}
	return math.MaxInt
}

// compare holds what is shown to the list. Before the first motion the arm stands where that leads: all these
// plans have a start pose.
func compare(t *testing.T, got shown, want afterMove, at map[string][3]float64, start [3]float64) {
	t.Helper()
	if parts := slices.Sorted(maps.Keys(want.parts)); !slices.Equal(slices.Sorted(maps.Keys(got.Parts)), parts) || got.Carried != (want.carried && want.tip != nil) {
		t.Errorf("state %d: parts at %v (carried %v), wanted %v, carried %v", got.State, got.Parts, got.Carried, parts, want.carried)
	}
	for label, place := range got.Parts {
		if p, known := at[label]; known {
			closeTo(t, fmt.Sprintf("state %d, the part at %s", got.State, label), place, p)
		}
	}
	if want.tip != nil {
		start = *want.tip
	}
	if got.Tip == nil {
		t.Fatalf("state %d: the tip is nowhere, wanted %v", got.State, start)
	}
	closeTo(t, fmt.Sprintf("state %d, the tip", got.State), *got.Tip, start)
	if got.State == 0 {
		return
	}
	if !strings.Contains(got.Words, fmt.Sprintf("Move %d of ", got.State)) || !strings.Contains(got.Words, ": "+want.words) {
		t.Errorf("state %d: %q, wanted a %s", got.State, got.Words, want.words)
	}
	if !strings.HasPrefix(got.Plan, want.line+" ") {
		t.Errorf("state %d: the plan's line %q, wanted line %s", got.State, got.Plan, want.line)
	}
}

// closeTo holds two places to each other, in mm: the page has three decimals, as the list.
func closeTo(t *testing.T, what string, got, want [3]float64) {
	t.Helper()
	for i := range got {
		if !(math.Abs(got[i]-want[i]) <= 0.0015) {
			t.Errorf("%s is at %v, wanted %v", what, got, want)
			return
		}
	}
}

// The buttons lead where their names say; what is said aloud is said once for a
// step, and playing says far less than there are moves.
func TestStepsButtons(t *testing.T) {
	text := func(id string) web.Step {
		return web.Step{Do: "read", On: "document.getElementById('" + id + "').textContent"}
	}
	// The page's policy forbids what the browser's driver waits with.
	until := func(what string) web.Step {
		return web.Step{Do: "read", On: "new Promise((r) => { const look = () => " + what + " ? r(true) : setTimeout(look, 20); look(); })"}
	}
	click := func(id string) web.Step { return web.Step{Do: "click", On: "#" + id} }
	steps := []web.Step{
		text("now-move"),                                                   // 0
		click("forward"), click("forward"), text("now-move"), text("said"), // 3, 4
		click("back"), text("now-move"), // 6
		click("to-end"), text("now-move"), // 8
		{Do: "read", On: "document.getElementById('forward').disabled && !document.getElementById('back').disabled"}, // 9
		click("to-start"), text("now-move"), // 11
		{Do: "focus", On: "#transfer"}, {Do: "press", On: "Control+a"}, {Do: "type", On: "7"}, {Do: "press", On: "Enter"}, text("now-transfer"), // 16
		{Do: "focus", On: "#position"}, {Do: "press", On: "Home"}, {Do: "press", On: "ArrowRight"}, text("now-move"), // 20
		{Do: "read", On: "document.getElementById('position').getAttribute('aria-valuetext')"}, // 21
		{Do: "focus", On: "#play"}, {Do: "press", On: "Space"}, until("play.clock.now > 2"), // 24
		{Do: "read", On: "document.getElementById('play').textContent + ' ' + document.getElementById('said').textContent"}, // 25
		{Do: "press", On: "Space"}, {Do: "read", On: "document.getElementById('play').textContent + ' ' + document.getElementById('said').textContent.slice(0, 6)"}, // 27
	}
	sight := web.Look(t, web.Job{Page: sheetPage(t, cubes), Steps: steps})
	for i, want := range map[int]string{
		0: "Before the first move", 3: "Move 2 of 765", 4: "Move 2 of 765", 6: "Move 1 of 765", 8: "Move 765 of 765", 9: "true", 11: "Before the first move",
		16: "7 of 46: tray A4 → balance A1", 20: "Move 1 of 765", 21: "Move 1 of 765", 25: "Pause Playing", 27: "Play Paused",
	} {
		if got := strings.Trim(string(sight.Values[i]), `"`); !strings.HasPrefix(got, want) {
			t.Errorf("after step %d: %q, wanted %q", i, got, want)
		}
	}
}

// TestStepsTellsOfGroups: of parts that go together each has its own way, and a transfer
// within a group leads to where the group begins.
func TestStepsTellsOfGroups(t *testing.T) {
	for plan, told := range map[string][]struct{ transfer, want string }{
		"pallet-layers": {
			{"7", "7 to 8 of 30: infeed A1 → stack A7.1, infeed B1 → stack A8.1"},
			{"8", "7 to 8 of 30: infeed A1 → stack A7.1, infeed B1 → stack A8.1"},
		},
		"two-cartons": {
			{"1", "1 to 2 of 5: infeed A1 → stack A1.1, infeed A2 → stack A2.1"},
			{"2", "2 of 5: infeed A2 → stack A2.1"}, // they are put down one by one
			{"5", "5 of 5: infeed A1 → stack A1.3"},
		},
	} {
		var steps []web.Step
		for _, c := range told {
			steps = append(steps, web.Step{Do: "focus", On: "#transfer"}, web.Step{Do: "press", On: "Control+a"}, web.Step{Do: "type", On: c.transfer}, web.Step{Do: "press", On: "Enter"},
				web.Step{Do: "read", On: "[document.getElementById('now-transfer').textContent, document.getElementById('transfer').max].join(', at most ')"})
		}
		sight := web.Look(t, web.Job{Page: sheetPage(t, demoFolder+"/"+plan+".plan.yaml"), Flat: true, Steps: steps})
		for i, c := range told {
			most := strings.Fields(c.want[strings.Index(c.want, "of ")+3:])[0]
			if got, want := string(sight.Values[5*i+4]), strconv.Quote(c.want+", at most "+strings.TrimSuffix(most, ":")); got != want {
				t.Errorf("%s, transfer %s: %s, wanted %s", plan, c.transfer, got, want)
			}
		}
	}
}

// The program's lines beside a move are those that "explain" gives it.
func TestStepsShowsTheProgramsLines(t *testing.T) {
	var data struct {
		Moves []struct {
			N       int
			Program []struct {
				Line int
				Text string
			}
		}
	}
	const family = "iso6983"
	if err := json.Unmarshal([]byte(mustRun(t, "explain", "--format", "json", "--family", family, cubes)), &data); err != nil {
		t.Fatal(err)
	}
	var states []int
	for _, m := range data.Moves {
		states = append(states, m.N)
	}
	seen := lookAt(t, sheetPage(t, cubes, "--family", family), states)
	found := 0
	for i, m := range data.Moves {
		var want []string
		for _, l := range m.Program {
			want = append(want, fmt.Sprintf("%d %s", l.Line, l.Text))
			found++
		}
		if got := seen[i].Program; got != strings.Join(want, "\n") {
			t.Errorf("move %d: %q, wanted %q", m.N, got, want)
		}
	}
	if found < 400 {
		t.Errorf("only %d lines were compared", found)
	}
}

// Text of the plan stays text: the page shows it letter by letter, has no element
// that it asks for, and runs nothing of it.
func TestSheetHoldsHostileText(t *testing.T) {
	title := "</title><script>alert(1)</script><img src=x onerror=alert(2)>"
	note := "</script><script>alert(4)</script> ' \" <style>*{display:none}</style>"
	sight := web.Look(t, web.Job{Page: sheetPage(t, hostile(t)), Steps: []web.Step{
		{Do: "read", On: "document.querySelector('h1').textContent"},
		{Do: "read", On: "document.title"},
		{Do: "read", On: "document.scripts.length + ' ' + document.querySelectorAll('img, iframe, object, a[href^=java]').length + ' ' + document.querySelectorAll('style').length"},
		{Do: "click", On: "#forward"},
		{Do: "read", On: "document.getElementById('now-move').textContent"},
		{Do: "read", On: "document.querySelector('#plan-lines .here').textContent"},
		{Do: "read", On: "document.getElementById('job').textContent"},
	}})
	var got []string
	for _, v := range sight.Values {
		var text string
		_ = json.Unmarshal(v, &text) // a click gives null
		got = append(got, text)
	}
	if got[0] != title || got[1] != "Job sheet: "+title {
		t.Errorf("the title reads %q and %q, wanted %q", got[0], got[1], title)
	}
	if got[2] != "2 0 2" {
		t.Errorf("scripts, strange elements and styles: %q, wanted 2 0 2", got[2])
	}
	if !strings.Contains(got[4], note) || !strings.Contains(got[5], "<script>alert(4)") || !strings.Contains(got[6], note) {
		t.Errorf("the note reads %q, %q, %q", got[4], got[5], got[6])
	}
	if len(sight.Complaints) > 0 || len(sight.Requests) != 1 {
		t.Errorf("complaints %q, requests %q", sight.Complaints, sight.Requests)
	}
}

// What sheets say is recorded as plain text, section by section: the markup, the
// style and the pictures are held by the tests above and by those of gen/draw.
func TestSheetText(t *testing.T) {
	hold(t, absolute(t, "sheet"), func() files {
		out := files{}
		for name, args := range map[string][]string{
			"mortar-cubes.txt": {cubes},
			"odd-grids.txt":    {demoFolder + "/odd-grids.plan.yaml"},
			"panels.txt":       {demoFolder + "/panels.plan.yaml"},
			"measured.txt":     {measuredPlan(t)},
		} {
			data, err := os.ReadFile(sheetPage(t, args...))
			if err != nil {
				t.Fatal(err)
			}
			out[name] = bodyDigest.ReplaceAllString(plainText(t, string(data)), "(digest)")
		}
		return out
	})
}

// bodyDigest is a program's digest, which every change of a family's wording changes.
var bodyDigest = regexp.MustCompile(`\b(?:[0-9a-f]{4} ){15}[0-9a-f]{4}\b|(?:[0-9a-f]{4} ){4}…`)

var (
	unread = regexp.MustCompile(`(?s)<script.*?</script>|<style>.*?</style>|<svg.*?</svg>|<meta [^<>]*>|<noscript>.*?</noscript>|<!DOCTYPE html>|<input [^<>]*>|<option[^<>]*>[^<]*</option>`)
	blocks = map[string]bool{"p": true, "h1": true, "h2": true, "h3": true, "h4": true, "tr": true, "li": true, "caption": true, "div": true, "figcaption": true}
)

// plainText is a page as text, a block on a line, cells apart by bars.
func plainText(t *testing.T, page string) string {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(unread.ReplaceAllString(page, "")))
	d.Entity, d.Strict = xml.HTMLEntity, false // "hidden" has no value
	var out, line strings.Builder
	end := func() {
		if text := strings.Join(strings.Fields(line.String()), " "); strings.Trim(text, "| ") != "" {
			out.WriteString(html.UnescapeString(text) + "\n")
		}
		line.Reset()
	}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out.String()
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			if blocks[e.Name.Local] {
				end()
			}
			if e.Name.Local == "h2" {
				out.WriteString("\n")
			}
		case xml.EndElement:
			if blocks[e.Name.Local] {
				end()
			}
			if n := e.Name.Local; n == "td" || n == "th" || n == "dt" {
				line.WriteString(" | ")
			}
		case xml.CharData:
			line.Write(e)
		}
	}
}

// A plan with an error gives no sheet, and neither does one that the family cannot
// write.
func TestSheetRefuses(t *testing.T) {
	none := filepath.Join(t.TempDir(), "none.html")
	for _, c := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{cubes, "--set", "motion.speed.travel=5000"}, 1, "error:"},
		{[]string{cubes, "--set", "transfers.1.chain.1=trai"}, 1, `there is no grid "trai"`},
		{[]string{demoFolder + "/odd-grids.plan.yaml", "--family", "iso6983"}, 1, "error:"},
		{[]string{cubes, "--family", "all"}, 2, "wanted one family"},
		{[]string{cubes, "--family", "lissting"}, 2, "did you mean"},
	} {
		r := run(append([]string{"sheet", "-o", none}, c.args...)...)
		if _, err := os.Stat(none); err == nil || r.status != c.status || !strings.Contains(r.stderr, c.says) {
			t.Errorf("%v: status %d, %q, wanted %d and %q, and no file", c.args, r.status, r.stderr, c.status, c.says)
		}
	}
	if r := run("sheet", cubes); r.status != 2 {
		t.Errorf("without -o: status %d, wanted 2", r.status)
	}
	if out := mustRun(t, "sheet", cubes, "-o", "-"); !strings.HasSuffix(out, "</html>\n") {
		t.Error("standard output does not end as a page does")
	}
}

// The sheet of a rest tells what is left to do: the steps before the first transfer are
// over, unless they are asked for again.
func TestSheetOfARest(t *testing.T) {
	scale := demoFolder + "/mortar-cubes-scale.plan.yaml"
	const before, next = "Before the first transfer", "begins with transfer 3"
	whole := mustRun(t, "sheet", scale, "-o", "-")
	rest := mustRun(t, "sheet", scale, "--from", "3", "-o", "-")
	again := mustRun(t, "sheet", scale, "--from", "3", "--begin", "-o", "-")
	if !strings.Contains(whole, before) || strings.Contains(whole, next) {
		t.Error("the sheet of the whole job does not tell the steps before it, or tells of a rest")
	}
	if strings.Contains(rest, before) || !strings.Contains(rest, "The resumed job "+next) {
		t.Error("the sheet of the rest tells steps that are not done, or not where it begins")
	}
	if !strings.Contains(again, before) {
		t.Error("the sheet does not tell steps that are done again")
	}
}

// What has to stand where before a rest begins stands on its sheet as a file that "check"
// takes as what was found; a first run without parts needs nothing to stand anywhere.
func TestSheetHasTheFileOfSlots(t *testing.T) {
	scale := demoFolder + "/mortar-cubes-scale.plan.yaml"
	for _, holding := range []bool{false, true} {
		rest := []string{scale, "--from", "4"}
		if holding {
			rest = append(rest, "--holding")
		}
		page := mustRun(t, append([]string{"sheet", "-o", "-"}, rest...)...)
		block := regexp.MustCompile(`(?s)<pre [^<>]*id="stand"[^<>]*>(.*?)</pre>`).FindStringSubmatch(page)
		if block == nil {
			t.Fatal("there is no file of slots on the sheet")
		}
		file := filepath.Join(t.TempDir(), "slots.yaml")
		if err := os.WriteFile(file, []byte(html.UnescapeString(block[1])), 0o666); err != nil {
			t.Fatal(err)
		}
		r := run(append([]string{"check", "--slots=" + file}, rest...)...)
		if r.status != 0 || strings.Contains(r.stderr, "slots-differ") || !strings.Contains(block[1], "  rack: A1\n") {
			t.Errorf("holding %v: status %d\n%s\n%s", holding, r.status, r.stderr, block[1])
		}
	}
	for _, run := range [][]string{{scale}, {scale, "--from", "4", "--prove-out"}} {
		if page := mustRun(t, append([]string{"sheet", "-o", "-"}, run...)...); strings.Contains(page, `id="stand"`) || strings.Contains(page, "written and drawn") {
			t.Errorf("%v: there is a file of slots on the sheet", run)
		}
	}
}

// The sheet of a first run tells the run's own speed, and that what it says of jaw and
// signals is the job's.
func TestSheetOfAFirstRun(t *testing.T) {
	scale := demoFolder + "/mortar-cubes-scale.plan.yaml"
	const fast, slow, first = "Up to 500 mm/s between points", "Up to 125 mm/s between points", "Its prove-out, which this sheet is about"
	whole := mustRun(t, "sheet", scale, "-o", "-")
	run := mustRun(t, "sheet", scale, "--prove-out", "-o", "-")
	if !strings.Contains(whole, fast) || strings.Contains(whole, first) {
		t.Error("the sheet of the whole job does not tell its speed, or tells of a first run")
	}
	if !strings.Contains(run, slow) || strings.Contains(run, fast) || !strings.Contains(run, first) {
		t.Error("the sheet of a first run tells the job's speed, or not what it is about")
	}
}
