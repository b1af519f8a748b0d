package golden

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/resume"
	"gridferry/golden/corpus"
	"gridferry/golden/outside"
	"gridferry/golden/web"
	"gridferry/plan"
)

// said is an expression for the text of an element.
func said(selector string) web.Step {
	return web.Step{Do: "read", On: "document.querySelector('" + selector + "').textContent"}
}

// Checks can be ticked, with and without scripts, and are counted; on paper the boxes are empty
// whatever was ticked; who reads the page anew is asked before, and has checked nothing then.
func TestSheetCanBeTicked(t *testing.T) {
	outside.Short(t)
	const first = "#checks .group:nth-of-type(1) tbody tr:nth-child(2) input"
	ticked := web.Step{Do: "read", On: "[...document.querySelectorAll('#checks input')].filter((e) => e.checked).length"}
	onPaper := web.Step{Do: "read", On: `(() => {
  const s = getComputedStyle(document.querySelector("` + first + `"));
  return [s.appearance, s.backgroundColor, s.backgroundImage, s.borderTopStyle, parseFloat(s.width) < 30, getComputedStyle(document.querySelector(".counted")).display].join(" ");
})()`}
	page := sheetPage(t, cubes)
	sight := web.Look(t, web.Job{Page: page, Flat: true, Steps: []web.Step{
		said("#checks .counted"),
		{Do: "click", On: first}, {Do: "press", On: "Tab"}, {Do: "press", On: "Space"}, ticked, said("#checks .counted"), // 5
		{Do: "print"}, onPaper, // 7
		{Do: "reload"}, ticked, said("#checks .counted"), // 10
		{Do: "reload"},
	}})
	for i, want := range map[int]string{0: "0 of 4 ticked", 4: "2", 5: "2 of 4 ticked", 7: "none rgba(0, 0, 0, 0) none solid true none", 8: "beforeunload", 9: "0", 10: "0 of 4 ticked", 11: ""} {
		if got := strings.Trim(string(sight.Values[i]), `"`); got != want {
			t.Errorf("after step %d: %q, wanted %q", i, got, want)
		}
	}
	plain := web.Look(t, web.Job{Page: page, NoScript: true, Steps: []web.Step{{Do: "click", On: first}, ticked}})
	if string(plain.Values[1]) != "1" {
		t.Errorf("without scripts %s boxes are ticked, wanted 1", plain.Values[1])
	}
}

// typing types a point into the fields of a row.
func typing(table, row int, at ...string) []web.Step {
	var steps []web.Step
	for i, text := range at {
		steps = append(steps, web.Step{Do: "focus", On: fmt.Sprintf("#p%d-%d-%c", table, row, "xyz"[i])}, web.Step{Do: "type", On: text})
	}
	return steps
}

// saidOf is an expression for what the page says beside a point, and belowOf for what it says
// of all points of a table.
func saidOf(table, row int) web.Step {
	return web.Step{Do: "read", On: fmt.Sprintf("document.getElementById('p%d-%d-x').closest('td').querySelector('.off').textContent", table, row)}
}

func belowOf(table int) web.Step {
	return web.Step{Do: "read", On: fmt.Sprintf("document.getElementById('p%d-0-x').closest('section.wide').nextElementSibling.querySelector('[role=status]').textContent", table)}
}

// texts are what a page answered, as texts.
func texts(sight web.Sight) []string {
	out := make([]string, len(sight.Values))
	for i, v := range sight.Values {
		if json.Unmarshal(v, &out[i]) != nil {
			out[i] = string(v)
		}
	}
	return out
}

// Touched points that are typed in are compared at once, and become a file that "fit" reads, with the
// residuals that the page said: those of FORMAT.md's own example, but for the pin.
func TestSheetTakesTouchedPoints(t *testing.T) {
	outside.Short(t)
	file := filepath.Join(t.TempDir(), "points.yaml")
	var steps []web.Step
	for i, p := range [][]string{{"250,1", "-150.0", "40"}, {"570", "90,1", " 40.1"}, {"69.9", "90", "39.9"}, {"390", "330.1", "40.0"}, {"320", "90", "100.7"}} {
		steps = append(steps, typing(0, i, p...)...)
	}
	steps = append(steps, saidOf(0, 4), belowOf(0),
		web.Step{Do: "read", On: "[...document.querySelectorAll('#points details')].forEach((e) => { e.open = true; })"},
		web.Step{Do: "download", On: "a[download='touched-table.yaml']", To: file}, web.Step{Do: "check", On: "#points"})
	n := len(steps) - 5
	sight := web.Look(t, web.Job{Page: sheetPage(t, measuredPlan(t)), Flat: true, Steps: steps})
	said := texts(sight)
	// The plan's own fit puts the pin at Z 40.015 + 60, within a few hundredths: the frame is turned by 0.02° only.
	if !strings.Contains(said[n], "Z 0.68; more than 0.5 mm. Best fit leaves 0.5") || !strings.HasPrefix(said[n], "! 0.6") {
		t.Errorf("beside the pin: %q", said[n])
	}
	fitted := fitOf(t, "frame", file)
	if want := fmt.Sprintf("Best fit of 5 points: largest residual %.3f mm at pin, root mean square %.3f mm; tolerance 0.5 mm.", fitted.Largest, fitted.RMS); !strings.HasPrefix(said[n+1], want) {
		t.Errorf("below the table: %q, wanted %q", said[n+1], want)
	}
	for _, v := range sight.Serious() {
		t.Errorf("%s: %s\n%s", v.Rule, v.Help, strings.Join(v.Nodes, "\n"))
	}
}

// fitOf is what "fit" makes of a file, whatever it thinks of it.
func fitOf(t *testing.T, kind, file string) (found struct {
	At           [3]float64
	Largest, RMS float64
	Method       string
}) {
	t.Helper()
	r := run("fit", kind, file, "--format", "json")
	if err := json.Unmarshal([]byte(r.stdout), &found); err != nil {
		t.Fatalf("%v\n%s\n%s", err, r.stdout, r.stderr)
	}
	return found
}

// copied is an expression that types in what a column of a table says, and gives the file that the
// page makes of it.
func copied(table, column, in int) web.Step {
	return web.Step{Do: "read", On: fmt.Sprintf(`(() => {
  const section = document.getElementById("p%d-0-x").closest("section.wide"), choice = document.getElementById("in-%d");
  if (choice) { choice.value = "%d"; choice.dispatchEvent(new Event("change")); }
  for (const row of section.querySelectorAll("tbody tr")) {
    const texts = row.cells[%d].textContent.split(", ");
    [...row.querySelectorAll("input")].forEach((e, i) => { e.value = texts[i]; e.dispatchEvent(new Event("input")); });
  }
  const off = [...section.querySelectorAll(".off")].map((e) => parseFloat(e.textContent));
  return (off.every((x) => x <= 0.01) ? "" : "# off " + off.join(", ") + "\n") + section.nextElementSibling.querySelector("textarea").value;
})()`, table, table, in, column)}
}

// What the sheet itself says of points and slots, typed in, is off by nothing and gives the plan's own frames
// and grid again: read in the frame or in the base, of three points, many, or corners.
func TestSheetGivesItsOwnPointsBack(t *testing.T) {
	outside.Short(t)
	sight := web.Look(t, web.Job{Page: sheetPage(t, measuredPlan(t)), Flat: true, Steps: []web.Step{
		copied(1, 2, 0), copied(3, 2, 0), copied(4, 1, 0), copied(4, 2, 1),
	}})
	table := [3]float64{250.058, -149.977, 40.015} // as FORMAT.md has it
	for i, want := range []struct {
		kind, method string
		at           [3]float64
	}{{"frame", "three points", [3]float64{500, -300, 40}}, {"grid", "corners", [3]float64{40, 40.1, 25}}, {"frame", "best fit", table}, {"frame", "best fit", table}} {
		text := texts(sight)[i]
		file := filepath.Join(t.TempDir(), "points.yaml")
		if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		got := fitOf(t, want.kind, file)
		for k := range want.at {
			if !(math.Abs(got.At[k]-want.at[k]) <= 0.02) || got.Method != want.method || strings.HasPrefix(text, "# off") {
				t.Errorf("%d: %+v, wanted %+v from\n%s", i, got, want, text)
				break
			}
		}
	}
}

// A text that is no figure is told at its field, and counts for nothing.
func TestSheetTellsOfWrongFigures(t *testing.T) {
	outside.Short(t)
	const state = `(() => { const e = document.getElementById("p0-0-y"), told = document.getElementById(e.getAttribute("aria-describedby"));
  return [e.getAttribute("aria-invalid"), told && !told.hidden && told.textContent, e.closest("td").querySelector(".off").textContent].join("|"); })()`
	var steps []web.Step
	var wants [][2]string
	for text, want := range map[string]string{
		"12,5":     "||! 162.48 mm off: X 0.04, Y 162.48, Z −0.01; more than 0.5 mm",
		"\u221212": "||! 137.98 mm off",
		"1.234,5":  "true|Y is not a number: write it like 12.5 or 12,5, with nothing else|",
		"1e3":      "true|Y is not a number",
		"12 mm":    "true|Y is not a number",
		"250000":   "true|Y is more than 100 m: is it in mm?|",
	} {
		for _, field := range []string{"#p0-0-x", "#p0-0-y", "#p0-0-z"} {
			steps = append(steps, web.Step{Do: "fill", On: field})
		}
		steps = append(append(steps, typing(0, 0, "250.1", text, "40")...), web.Step{Do: "read", On: state})
		wants = append(wants, [2]string{text, want})
	}
	said := texts(web.Look(t, web.Job{Page: sheetPage(t, measuredPlan(t)), Flat: true, Steps: steps}))
	for i, want := range wants {
		if got := said[(i+1)*len(steps)/len(wants)-1]; !strings.HasPrefix(got, want[1]) {
			t.Errorf("%q: %q, wanted %q", want[0], got, want[1])
		}
	}
}

// The page leaves in the slots what gen/resume leaves there, whichever transfer of whichever demo comes next, and in the
// same words; where the gripper may hold its part, with that, too.
func TestSheetKnowsEveryStop(t *testing.T) {
	outside.Short(t)
	var names []string
	var jobs []web.Job
	want := map[string][]string{}
	for _, file := range corpus.Plans(t, demoFolder) {
		job := new(gen.Job)
		source, err := plan.Open(file, nil)
		if err != nil || !job.Read(source, nil, layout.Options{}) {
			t.Fatal(err, job.Findings.Sorted())
		}
		name := filepath.Base(file)
		last := job.Layout.Transfers()
		var ask []string
		for n := 1; n <= last; n += max(1, last/40) {
			e, _ := job.Layout.EntryOf(n)
			first, end := e.Group(n)
			for _, holding := range []bool{false, true} {
				if first != n || holding && end > first {
					continue
				}
				text := resume.Before(job.Layout, n, holding).SlotsFile()
				ask = append(ask, fmt.Sprintf("[%d, %v]", n, holding))
				want[name] = append(want[name], text[strings.Index(text, "filled"):])
			}
		}
		names = append(names, name)
		jobs = append(jobs, web.Job{Page: sheetPage(t, file), Flat: true, Steps: []web.Step{{Do: "read", On: "[" + strings.Join(ask, ", ") + `].map(([next, holding]) => {
  const full = stop.planned(next, holding);
  return "filled:\n" + stop.grids.map((own) => "  " + own.grid.name + ": " + stop.selection(own, full.get(own.g)) + "\n").join("");
})`}}})
	}
	stops := 0
	for i, sight := range web.LookAll(t, jobs) {
		var got []string
		if err := json.Unmarshal(sight.Values[0], &got); err != nil || len(got) != len(want[names[i]]) {
			t.Fatalf("%s: %d answers, %v, %q", names[i], len(got), err, sight.Complaints)
		}
		for k := range got {
			if stops++; got[k] != want[names[i]][k] {
				t.Errorf("%s: the page has\n%swanted\n%s", names[i], got[k], want[names[i]][k])
				break
			}
		}
	}
	if stops < 300 {
		t.Errorf("only %d stops were looked at", stops)
	}
}

// What was tapped is saved as a file that "check --slots" takes: with nothing tapped nothing differs; a part
// that stands elsewhere is found there; one that is gone has to be counted; and the page says all that before.
func TestSheetWritesTheFileOfSlots(t *testing.T) {
	outside.Short(t)
	tap := func(slot string) web.Step {
		return web.Step{Do: "click", On: "#stop button[aria-label^='" + slot + "']"}
	}
	set := func(id, text string) []web.Step {
		return []web.Step{{Do: "focus", On: "#" + id}, {Do: "press", On: "Control+a"}, {Do: "type", On: text}}
	}
	open := web.Step{Do: "read", On: "[...document.querySelectorAll('#stop details')].forEach((e) => { e.open = true; })"}
	cases := []struct {
		name   string
		steps  []web.Step
		flags  []string
		says   string // on the page
		status int
		found  string // by check
	}{
		{"as planned", set("stop-next", "9"), []string{"--from", "9"}, "As many parts stand there", 0, "transfer 9 of 46 is next"},
		{"holding", append(set("stop-next", "9"), web.Step{Do: "click", On: "#stop-holding"}), []string{"--from", "9", "--holding"}, "As many parts stand there", 0, "is in the gripper"},
		{"elsewhere", append(set("stop-next", "9"), open, tap("tray C1"), tap("rack D6")), []string{"--from", "9"}, "As many parts stand there", 1, `"tray C1" is empty`},
		{"gone", append(set("stop-next", "9"), open, tap("rack A2")), []string{"--from", "9"}, "1 part fewer stand there", 1, "part-unaccounted"},
		{"gone, and counted", append(append(set("stop-next", "9"), open, tap("rack A2")), set("stop-removed", "1")...), []string{"--from", "9"}, "As many parts stand there", 0, "slots-differ"},
	}
	page, files := sheetPage(t, cubes), make([]string, len(cases))
	var jobs []web.Job
	for i, c := range cases {
		files[i] = filepath.Join(t.TempDir(), "slots.yaml")
		steps := append(append([]web.Step{}, c.steps...), web.Step{Do: "read", On: "[...document.querySelectorAll('#stop > [role=status]')].map((e) => e.textContent).join(' ')"},
			web.Step{Do: "read", On: "document.querySelector('#stop pre').textContent"}, web.Step{Do: "download", On: "#stop a[download]", To: files[i]}, web.Step{Do: "check", On: "#stop"})
		jobs = append(jobs, web.Job{Page: page, Flat: true, Steps: steps})
	}
	sights := web.LookAll(t, jobs)
	for i, c := range cases {
		said := texts(sights[i])[len(c.steps):]
		if !strings.Contains(said[0], c.says) || said[2] != "slots-from-9.yaml" || !strings.HasPrefix(said[1], "gridferry check mortar-cubes.plan.yaml "+strings.Join(c.flags, " ")+" --slots=slots-from-9.yaml\n") {
			t.Errorf("%s: the page says %q", c.name, said)
		}
		r := run(append([]string{"check", cubes, "--slots=" + files[i]}, c.flags...)...)
		if r.status != c.status || !strings.Contains(r.stdout+r.stderr, c.found) || c.name == "as planned" && strings.Contains(r.stderr, "slots-differ") {
			t.Errorf("%s: status %d\n%s%s", c.name, r.status, r.stdout, r.stderr)
		}
		for _, v := range sights[i].Serious() {
			t.Errorf("%s: %s: %s\n%s", c.name, v.Rule, v.Help, strings.Join(v.Nodes, "\n"))
		}
	}
}

// Where parts are carried at once, the page says from where the job can go on, as "check" does; a resumed job's own
// sheet begins with what stands there then.
func TestSheetStopsWhereAJobCanGoOn(t *testing.T) {
	outside.Short(t)
	pallet := demoFolder + "/pallet-layers.plan.yaml"
	steps := []web.Step{{Do: "focus", On: "#stop-next"}, {Do: "press", On: "Control+a"}, {Do: "type", On: "8"}, said("#stop > [role=status]"), {Do: "read", On: "Boolean(document.querySelector('#stop .handed div[hidden]'))"}}
	got := texts(web.Look(t, web.Job{Page: sheetPage(t, pallet), Flat: true, Steps: steps}))
	if r := run("check", pallet, "--from", "8"); r.status != 1 || !strings.Contains(r.stderr, "resume-in-group") || got[3] != "The parts of transfers 7 to 8 are carried at once: put them back by hand and begin with 7, or with 9 when all of them are done." || got[4] != "true" {
		t.Errorf("the page says %q, and check\n%s", got[3:], r.stderr)
	}
	rest := texts(web.Look(t, web.Job{Page: sheetPage(t, cubes, "--from", "9", "--holding"), Flat: true, Steps: []web.Step{
		{Do: "read", On: "document.getElementById('stop-next').value + document.getElementById('stop-holding').checked"}, said("#stop summary"), {Do: "read", On: "document.getElementById('stand').textContent.split('filled')[1] === document.querySelector('#stop textarea').value.split('filled')[1]"},
	}}))
	if rest[0] != "9true" || rest[1] != "tray: 18 full, as the plan leaves it" || rest[2] != "true" {
		t.Errorf("the sheet of the resumed job says %q", rest)
	}
	if text := mustRun(t, "sheet", cubes, "--prove-out", "-o", "-"); strings.Contains(text, `id="stop"`) {
		t.Error("a prove-out without parts has slots to tap")
	}
}

// Where the browser has no WebGL 2 the page says so, tells the steps in words, and has the flat picture beside
// them; on paper that stands in its own place.
func TestSheetWithoutThreeDimensions(t *testing.T) {
	outside.Short(t)
	const where = `document.querySelector("#drawing svg#picture") ? "own" : document.querySelector("#view-none:not([hidden]) svg") ? "beside" : "nowhere"`
	sight := web.Look(t, web.Job{Page: sheetPage(t, cubes), Flat: true, Steps: []web.Step{
		{Do: "click", On: "#forward"}, said("#now-move"), said("#view-none p"), {Do: "read", On: where},
		{Do: "read", On: "dispatchEvent(new Event('beforeprint'))"}, {Do: "read", On: where}, {Do: "read", On: "dispatchEvent(new Event('afterprint'))"}, {Do: "read", On: where}, {Do: "check"},
	}})
	got := texts(sight)
	if !strings.HasPrefix(got[1], "Move 1 of 765") || !strings.Contains(got[2], "nothing in three dimensions") || got[3] != "beside" || got[5] != "own" || got[7] != "beside" {
		t.Errorf("the page says %q", got)
	}
	if len(sight.Complaints) > 0 || len(sight.Serious()) > 0 {
		t.Errorf("%q %v", sight.Complaints, sight.Serious())
	}
}
