package golden

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"gridferry/gen/page"
	"gridferry/golden/outside"
	"gridferry/golden/web"
)

// lookPages is one page of each sort.
func lookPages(t *testing.T) map[string]string {
	outside.Short(t)
	explained := filepath.Join(t.TempDir(), "explain.html")
	if err := os.WriteFile(explained, []byte(mustRun(t, "explain", "--format", "html", cubes)), 0o666); err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	few := filepath.Join(t.TempDir(), "few.variants.yaml")
	if err := os.WriteFile(few, []byte("format: gridferry variants 1\nvariants: [{each: {grids.tray.columns: [3, 4], motion.approach: [60, 65, 900]}}]\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if r := run("vary", demoFolder+"/mortar-cubes.plan.yaml", "--family", "listing", "-o", folder, "--variants", few); !strings.HasSuffix(r.stdout, "6 variants: 4 written, 2 refused\n") {
		t.Fatal(r)
	}
	tables, _ := filepath.Glob(filepath.Join(folder, "*.html"))
	if len(tables) != 1 {
		t.Fatalf("vary wrote the tables %q", tables)
	}
	return map[string]string{"sheet": sheetPage(t, cubes), "explain": explained, "variants": tables[0]}
}

// All pages share one look; what can be touched is 48 px high and wide (the least that
// WCAG 2.2, 2.5.5, asks for is 44), and no letter of a picture is smaller than 11 px on a
// tablet, as far as 820 px of it are wide.
func TestPagesShareOneLook(t *testing.T) {
	const small = `[...document.querySelectorAll("button, input, select, summary, nav a, a.number")].filter((e) => e.getClientRects().length)
  .map((e) => [e.id || e.textContent, (e.closest("label.check") || e).getBoundingClientRect()]).filter(([, r]) => r.height < 48 || r.width < 44).map(([n, r]) => n + " " + r.width + " × " + r.height)`
	const tiny = `[...document.querySelectorAll("svg text")].map((e) => [e.textContent, parseFloat(getComputedStyle(e).fontSize) * e.getScreenCTM().a])
  .filter(([, px]) => px < 11).map(([n, px]) => n + " " + px)`
	for name, file := range lookPages(t) {
		data, err := os.ReadFile(file)
		if err != nil || !strings.Contains(string(data), "<style>"+page.Style("")) {
			t.Errorf("%s: its style does not begin with what pages have in common (%v)", name, err)
		}
		sight := web.Look(t, web.Job{Page: file, Width: 820, Touch: true, Steps: []web.Step{{Do: "read", On: small}, {Do: "read", On: tiny}, {Do: "check"}}})
		for i, what := range []string{"too small for a finger", "letters too small"} {
			var found []string
			if err := json.Unmarshal(sight.Values[i], &found); err != nil || len(found) > 0 {
				t.Errorf("%s, %s: %q %v", name, what, found, err)
			}
		}
		for _, v := range sight.Serious() {
			t.Errorf("%s: %s: %s\n%s", name, v.Rule, v.Help, strings.Join(v.Nodes, "\n"))
		}
	}
}

// The steps come before cautions and tables, the fifth tab stop at the latest is one of
// their controls, their clock ends where the estimate does, and the slot and the move that are spoken
// of are lit.
func TestStepsIsAtHand(t *testing.T) {
	outside.Short(t)
	const lit = `(() => { const { slots: [[g, i]], moves } = play.viewer.seen().lit; return slots.name(paper.data.scene.grids[g], i) + " " + moves + " of " + play.clock.now; })()`
	steps := []web.Step{{Do: "read", On: `document.getElementById("steps").compareDocumentPosition(document.getElementById("fear")) === Node.DOCUMENT_POSITION_FOLLOWING`}}
	for range 5 {
		steps = append(steps, web.Step{Do: "press", On: "Tab"})
	}
	steps = append(steps,
		web.Step{Do: "read", On: `Boolean(document.activeElement.closest("#steps .controls"))`}, // 6
		web.Step{Do: "click", On: "#jump"},
		web.Step{Do: "read", On: lit}, // 8
		web.Step{Do: "click", On: "#to-end"},
		web.Step{Do: "read", On: `document.getElementById("now-clock").textContent`}, // 10
	)
	cubes := web.Look(t, web.Job{Page: sheetPage(t, cubes), Steps: steps})
	waits := web.Look(t, web.Job{Page: sheetPage(t, measuredPlan(t)), Steps: steps})
	for i, want := range map[int]string{0: "true", 6: "true", 8: `"tray A1 1,1 of 2"`} {
		if got := string(cubes.Values[i]); got != want {
			t.Errorf("step %d: %s, wanted %s", i, got, want)
		}
	}
	clock := regexp.MustCompile(`^"(\d+ min \d+ s), of about (\d+ min \d+ s)"$`).FindStringSubmatch(string(cubes.Values[10]))
	if clock == nil || clock[1] != clock[2] {
		t.Errorf("the clock ends at %s", cubes.Values[10])
	}
	if got := string(waits.Values[10]); !regexp.MustCompile(`^"(.+ and 3 waits of unknown length), of about (.+ and 3 waits of unknown length)"$`).MatchString(got) {
		t.Errorf("the clock of a job that waits ends at %s", got)
	}
}

// Maps of grids lie as the grids do in the picture: where transfer n is to the right of, or
// above, transfer m there, it is here.
func TestMapsLieAsThePictureDoes(t *testing.T) {
	sheet := mustRun(t, "sheet", cubes, "-o", "-")
	top := sheet[strings.Index(sheet, `id="picture"`):]
	top = top[:strings.Index(top, `data-view="side"`)]
	order := map[string][]string{} // of each grid's slots
	for _, m := range rowsOf(t, cubes) {
		if m["action"] == "grip" || m["action"] == "release" && m["target"] != "" {
			grid, slot, _ := strings.Cut(m["target"], " ")
			order[grid] = append(order[grid], slot+" "+m["transfer"])
		}
	}
	for _, grid := range []string{"tray", "rack"} {
		at := func(text, pattern string) (x, y float64) {
			m := regexp.MustCompile(pattern).FindStringSubmatch(text)
			if m == nil {
				t.Fatalf("%s: nothing is like %s", grid, pattern)
			}
			return number(t, m[1]), number(t, m[2])
		}
		drawn := top[strings.Index(top, `data-grid="`+grid+`"`):]
		mapped := sheet[strings.Index(sheet, `aria-label="`+grid+` before`):]
		mapped = mapped[:strings.Index(mapped, "</svg>")]
		place := func(i int) (px, py, mx, my float64) {
			slot, n, _ := strings.Cut(order[grid][i], " ")
			px, py = at(drawn, `x="([-\d.]+)" y="([-\d.]+)" data-slot="`+slot+`"`)
			mx, my = at(mapped, `class="turn" x="([-\d.]+)" y="([-\d.]+)">`+n+`<`)
			return px, py, mx, my
		}
		px0, py0, mx0, my0 := place(0)
		for i := range order[grid][1:] {
			px, py, mx, my := place(i + 1)
			const level = 2 // mm on paper, by which the tray is turned
			if sign(px-px0, level) != sign(mx-mx0, level) || sign(py-py0, level) != sign(my-my0, level) {
				t.Errorf("%s: %s is drawn %.1f, %.1f mm from the first slot, and mapped at %.1f, %.1f", grid, order[grid][i+1], px-px0, py-py0, mx-mx0, my-my0)
			}
		}
	}
}

func sign(x, level float64) int {
	switch {
	case x > level:
		return 1
	case x < -level:
		return -1
	}
	return 0
}
