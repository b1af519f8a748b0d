package golden

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/golden/outside"
	"gridferry/golden/web"
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
	sight := web.Look(t, web.Job{Page: page, Steps: []web.Step{
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
		web.Step{Do: "download", On: "a[download='touched-table.yaml']", To: file}, web.Step{Do: "check"})
	n := len(steps) - 5
	sight := web.Look(t, web.Job{Page: sheetPage(t, measuredPlan(t)), Steps: steps})
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
	sight := web.Look(t, web.Job{Page: sheetPage(t, measuredPlan(t)), Steps: []web.Step{
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
	for text, want := range map[string]string{
		"12,5":     "||! 162.48 mm off: X 0.04, Y 162.48, Z −0.01; more than 0.5 mm",
		"\u221212": "||! 137.98 mm off",
		"1.234,5":  "true|Y is not a number: write it like 12.5 or 12,5, with nothing else|",
		"1e3":      "true|Y is not a number",
		"12 mm":    "true|Y is not a number",
		"250000":   "true|Y is more than 100 m: is it in mm?|",
	} {
		steps := append(typing(0, 0, "250.1", text, "40"), web.Step{Do: "read", On: state})
		got := texts(web.Look(t, web.Job{Page: sheetPage(t, measuredPlan(t)), Steps: steps}))[6]
		if !strings.HasPrefix(got, want) {
			t.Errorf("%q: %q, wanted %q", text, got, want)
		}
	}
}
