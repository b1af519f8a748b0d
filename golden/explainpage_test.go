package golden

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"gridferry/golden/outside"
	"gridferry/golden/web"
)

// explainPage writes a page into a file of its own.
func explainPage(t *testing.T, args ...string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "page.html")
	text := mustRun(t, append([]string{"explain", "--format", "html"}, args...)...)
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return file
}

const cubes = demoFolder + "/mortar-cubes.plan.yaml"

// hostile is a plan whose every free text tries to get out of its place.
func hostile(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	text := strings.NewReplacer(
		"title: My first transfer", `title: "</title><script>alert(1)</script><img src=x onerror=alert(2)>"`,
		"# all parts that stand there …", `# "><script>alert(3)</script> </code></li></ol> <!-- ]]> &lt;`,
		"motion:", "begin:\n  - note: \"</script><script>alert(4)</script> ' \\\" <style>*{display:none}</style>\"\nmotion:",
	)
	for _, name := range []string{"first.plan.yaml", "bench.cell.yaml"} {
		data, err := os.ReadFile(filepath.Join("../plan/starter", name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text.Replace(string(data))), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(folder, "first.plan.yaml")
}

// explainPages is pages of every sort, by what they show.
func explainPages(t *testing.T) map[string]string {
	outside.Short(t)
	return map[string]string{
		"all":          explainPage(t, cubes),
		"plan line":    explainPage(t, cubes, "--plan-line", "14"),
		"cell line":    explainPage(t, cubes, "--cell-line", "26"),
		"program line": explainPage(t, cubes, "--program-line", "210"),
		"nothing":      explainPage(t, cubes, "--plan-line", "1"),
		"long":         explainPage(t, demoFolder+"/dense-plate.plan.yaml"),
		"word address": explainPage(t, demoFolder+"/cartons.plan.yaml", "--family", "iso6983"),
		"loops":        explainPage(t, demoFolder+"/odd-grids.plan.yaml", "--family", "loops"),
		"hostile":      explainPage(t, hostile(t)),
	}
}

func TestExplainPagesAreValid(t *testing.T) {
	for name, file := range explainPages(t) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if err := nested(string(data)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		for _, f := range web.Validate(t, data) {
			t.Errorf("%s:%d:%d: %s [%s]", name, f.Line, f.Column, f.Message, f.Rule)
		}
	}
}

// meta is the one tag of the page that nothing closes.
var meta = regexp.MustCompile(`<meta [^<>]*>`)

// nested holds a page to the order of its tags, letter by letter: what is between
// tags may hold no bare "<" or "&". Style and script are taken as they are.
func nested(page string) error {
	for _, word := range []string{"style", "script"} {
		before, rest, _ := strings.Cut(page, "<"+word+">")
		_, after, ok := strings.Cut(rest, "</"+word+">")
		if !ok || strings.Contains(after, "<"+word) {
			return fmt.Errorf("there is not exactly one <%s>", word)
		}
		page = before + after
	}
	page = meta.ReplaceAllString(strings.TrimPrefix(page, "<!DOCTYPE html>"), "")
	d := xml.NewDecoder(strings.NewReader(page))
	d.Entity = xml.HTMLEntity
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

func TestNestedRefuses(t *testing.T) {
	for _, bad := range []string{"<p>a</b></p>", "<p>a & b</p>", "<p>a < b</p>", "<p class=a>b</p>", "<p>a"} {
		if nested("<style></style><script></script>"+bad) == nil {
			t.Errorf("%q is taken", bad)
		}
	}
	if err := nested("<style>a>b</style><p>x</p><script>1<2</script>"); err != nil {
		t.Error(err)
	}
}

// Each page makes one request, which is itself, runs nothing but its own script,
// and keeps nobody out: in light and dark, wide and narrow.
func TestExplainPagesStandAlone(t *testing.T) {
	t.Parallel()
	var jobs []web.Job
	var names []string
	for name, file := range explainPages(t) {
		ways := [][2]string{{"light", "1400"}, {"dark", "400"}}
		if name == "all" { // one page in all four ways, the others in two
			ways = append(ways, [2]string{"dark", "1400"}, [2]string{"light", "400"})
		}
		job := web.Job{Page: file}
		for _, way := range ways {
			job.Steps = append(job.Steps, web.Step{Do: "scheme", On: way[0]}, web.Step{Do: "width", On: way[1]},
				web.Step{Do: "hover", On: "#plan li:nth-child(9)"}, // colours of what is lit up are looked at too
				web.Step{Do: "read", On: "document.documentElement.scrollWidth <= innerWidth"}, web.Step{Do: "check"})
		}
		names, jobs = append(names, name), append(jobs, job)
	}
	for i, sight := range web.LookAll(t, jobs) {
		if len(sight.Requests) != 1 || len(sight.Complaints) > 0 {
			t.Errorf("%s: requests %v, complaints %v", names[i], sight.Requests, sight.Complaints)
		}
		for _, v := range sight.Serious() {
			t.Errorf("%s: %s: %s\n%s", names[i], v.Rule, v.Help, strings.Join(v.Nodes, "\n"))
		}
		for k, step := range jobs[i].Steps {
			if step.Do == "read" && string(sight.Values[k]) != "true" {
				t.Errorf("%s: at step %d it is wider than the window", names[i], k+1)
			}
		}
	}
}

// lit reads the ids of the lines that are lit up, by how.
const lit = `Object.fromEntries(["here", "made", "rests"].map((c) => [c, [...document.querySelectorAll("li." + c)].map((l) => l.id)]))`

// Whoever points at a line or comes to it with the keyboard sees its kin.
func TestExplainPageLinks(t *testing.T) {
	sight := web.Look(t, web.Job{Page: explainPage(t, cubes), Steps: []web.Step{
		{Do: "hover", On: "#m12"},
		{Do: "read", On: lit},
		{Do: "read", On: "document.getElementById('answer').textContent"},
		{Do: "focus", On: "#p14 a"},
		{Do: "read", On: lit},
		{Do: "press", On: "Enter"}, // to the first move that rests on line 14
		{Do: "read", On: "document.activeElement.closest('li').id"},
		{Do: "press", On: "ArrowDown"},
		{Do: "read", On: "document.activeElement.closest('li').id"},
		{Do: "press", On: "Enter"},
		{Do: "read", On: lit},
		{Do: "press", On: "Escape"},
		{Do: "read", On: lit},
	}})
	kin := func(i int) map[string][]string {
		var found map[string][]string
		if err := json.Unmarshal(sight.Values[i], &found); err != nil {
			t.Fatal(err)
		}
		return found
	}
	hover := kin(1)
	if fmt.Sprint(hover["here"]) != "[m12]" || !has(hover["made"], "p38") || !has(hover["made"], "r38") || !has(hover["rests"], "p14") || !has(hover["rests"], "p29") {
		t.Errorf("pointing at move 12 lights up %v", hover)
	}
	if text := string(sight.Values[2]); !strings.Contains(text, "Move 12: straight to tray A1 approach") || !strings.Contains(text, "straight line") {
		t.Errorf("the answer is %s", text)
	}
	if focus := kin(4); !has(focus["rests"], "m7") || !has(focus["rests"], "r33") || has(focus["rests"], "m2") {
		t.Errorf("line 14 of the plan lights up %v", focus)
	}
	if string(sight.Values[6]) != `"m7"` || string(sight.Values[8]) != `"m8"` {
		t.Errorf("the keyboard comes to %s and %s, wanted m7 and m8", sight.Values[6], sight.Values[8])
	}
	if program := kin(10); fmt.Sprint(program["here"]) != "[r34]" || !has(program["made"], "m8") || !has(program["made"], "p38") {
		t.Errorf("line 34 of the program lights up %v", program)
	}
	if none := kin(12); len(none["here"])+len(none["made"])+len(none["rests"]) > 0 {
		t.Errorf("after Escape %v is lit", none)
	}
}

func has(list []string, word string) bool {
	for _, w := range list {
		if w == word {
			return true
		}
	}
	return false
}

// Without its script the page is plain text whose numbers lead from column to column.
func TestExplainPageWithoutScripts(t *testing.T) {
	sight := web.Look(t, web.Job{Page: explainPage(t, cubes), NoScript: true, Steps: []web.Step{
		{Do: "read", On: "document.querySelector('#m12 .does').textContent"},
		{Do: "click", On: "#m12 a"},
		{Do: "read", On: "location.hash"},
		{Do: "read", On: "getComputedStyle(document.querySelector('#r38')).borderLeftColor !== getComputedStyle(document.querySelector('#r39')).borderLeftColor"},
	}})
	if !strings.Contains(string(sight.Values[0]), "straight to tray A1 approach") || string(sight.Values[2]) != `"#r38"` || string(sight.Values[3]) != "true" {
		t.Errorf("without scripts: %s", sight.Values)
	}
}

// Text from a plan stays text.
func TestExplainPageHoldsHostileText(t *testing.T) {
	sight := web.Look(t, web.Job{Page: explainPage(t, hostile(t)), Steps: []web.Step{
		{Do: "read", On: "[document.scripts.length, document.images.length, document.querySelectorAll('style').length]"},
		{Do: "read", On: "document.querySelector('.job').textContent"},
	}})
	if string(sight.Values[0]) != "[1,0,1]" || len(sight.Complaints) > 0 {
		t.Errorf("scripts, images and styles: %s; complaints %v", sight.Values[0], sight.Complaints)
	}
	if !strings.Contains(string(sight.Values[1]), "alert(1)") {
		t.Errorf("the title is %s", sight.Values[1])
	}
}
