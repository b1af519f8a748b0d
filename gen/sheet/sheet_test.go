package sheet_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/scene"
	"gridferry/golden/corpus"
	"gridferry/plan"
	"gridferry/templates"
)

const demoFolder = "../../testdata/demo/"

func fileSource(t *testing.T, file string) plan.Source {
	t.Helper()
	source, err := plan.Open(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	return source
}

// page is the sheet of a plan that has to have one.
func page(t *testing.T, source plan.Source, name string) string {
	t.Helper()
	job := new(gen.Job)
	if !job.Read(source, nil, layout.Options{}) {
		t.Fatal(job.Findings.Sorted())
	}
	var b bytes.Buffer
	ok, err := job.Sheet(&b, shipped(t, job, name))
	if err != nil || !ok {
		t.Fatal(err, job.Findings.Sorted())
	}
	return b.String()
}

func shipped(t *testing.T, job *gen.Job, name string) *family.Family {
	t.Helper()
	sub, err := fs.Sub(templates.FS, name)
	if err != nil {
		t.Fatal(err)
	}
	f, ok := job.LoadFamily(sub, name)
	if !ok {
		t.Fatalf("family %s does not load", name)
	}
	return f
}

// small is a plan whose cell stands in place; more goes behind its title.
func small(title, more string, rows, columns int) plan.Source {
	text := fmt.Sprintf(`format: gridferry plan 1
title: %q
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 1}, release: {output: 1, level: off, settle: 1}}}
  frames: {f: {at: [0, 0, 0]}}
  keep_out: {}
parts: {p: {mass: 0.1, size: [5, 5, 5]}}
grids:
  a: &grid {frame: f, rows: %d, columns: %d, pitch: [10, 10], first: [0, 0, 10], part: p, filled: all}
  b: {<<: *grid, first: [9000, 0, 10], filled: none}
motion: {tool: jaw, approach: 50, speed: {travel: 200, near: 80}}
%s
transfers: [{from: a, to: b}]
`, title, rows, columns, more)
	return plan.Source{File: "small.plan.yaml", Data: []byte(text), Dir: "."}
}

var (
	policyOf = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="([^"]*)">`)
	styles   = regexp.MustCompile(`(?s)<style>(.*?)</style>`)
	scripts  = regexp.MustCompile(`(?s)<script( type="application/json" id="job-data")?>(.*?)</script>`)
)

// The policy names every style and every script by the digest of its text
// (Content Security Policy Level 3, 2.3.1 and 6.7.3.2; from memory), and nothing
// else may be loaded. The data are no script.
func TestPolicyNamesWhatIsThere(t *testing.T) {
	for _, file := range corpus.Plans(t, demoFolder) {
		text := page(t, fileSource(t, file), "listing")
		policy := html.UnescapeString(policyOf.FindStringSubmatch(text)[1])
		var wanted []string
		for _, m := range styles.FindAllStringSubmatch(text, -1) {
			wanted = append(wanted, digest(m[1]))
		}
		if want := "style-src " + strings.Join(wanted, " "); !strings.Contains(policy, want+";") || len(wanted) != 2 {
			t.Errorf("%s: the policy is %q, wanted %q", file, policy, want)
		}
		all := scripts.FindAllStringSubmatch(text, -1)
		if len(all) != 2 || all[0][1] == "" || all[1][1] != "" || strings.Count(text, "<script") != 2 {
			t.Fatalf("%s: %d scripts, wanted the data and what reads them", file, len(all))
		}
		for _, want := range []string{"default-src 'none';", "script-src " + digest(all[1][2]) + ";", "base-uri 'none'", "form-action 'none'"} {
			if !strings.Contains(policy, want) {
				t.Errorf("%s: the policy is %q, wanted %q", file, policy, want)
			}
		}
		if strings.Contains(policy, "unsafe") || regexp.MustCompile(`(?i)\s(style|on[a-z]+|src)=|https?://(?:[^w]|w[^w])`).MatchString(withoutScripts(text)) {
			t.Errorf("%s: the page asks for what its policy forbids", file)
		}
	}
}

func withoutScripts(text string) string { return scripts.ReplaceAllString(text, "") }

func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// sceneOf is what the page's viewer is given.
func sceneOf(t *testing.T, text string) *scene.Scene {
	t.Helper()
	var d struct{ Scene scene.Scene }
	if err := json.Unmarshal([]byte(scripts.FindStringSubmatch(text)[2]), &d); err != nil {
		t.Fatal(err)
	}
	return &d.Scene
}

// Nothing of the plan can end the element that the data stand in (HTML Living
// Standard, 4.12.1.3, restrictions for contents of script elements; from memory),
// and it is the same text when it is read again.
func TestDataAreSafeInsideAScript(t *testing.T) {
	const hostile = "</script><!-- <script> ]]> & '"
	text := page(t, small("plain", "begin: [{note: "+fmt.Sprintf("%q", hostile)+"}]", 2, 2), "listing")
	inside := scripts.FindStringSubmatch(text)[2]
	if strings.ContainsAny(inside, "<>&") {
		t.Errorf("the data hold what ends a script")
	}
	if got := sceneOf(t, text).Moves.Words[0]; got != "note: "+hostile {
		t.Errorf("the note reads %q, wanted %q", got, hostile)
	}
}

// The same plan gives the same bytes, wherever its file lies.
func TestSameBytes(t *testing.T) {
	for _, file := range corpus.Plans(t, demoFolder) {
		first := page(t, fileSource(t, file), "listing")
		source := fileSource(t, file)
		source.File = "/somewhere/else/" + filepath.Base(file)
		if second := page(t, source, "listing"); first != second {
			t.Errorf("%s: two sheets differ", file)
		}
		if strings.Contains(first, "testdata") {
			t.Errorf("%s: the sheet shows the folder", file)
		}
	}
}

// A long job makes a bounded page: its steps end with a whole transfer, and the
// page says where. Maps thin out.
func TestLongJobsAreBounded(t *testing.T) {
	for _, c := range []struct {
		rows, columns int
		whole         bool
		most          int
	}{{10, 10, true, 1 << 20}, {40, 50, false, 2 << 20}, {40, 102, false, 2 << 20}} {
		text := page(t, small("long", "", c.rows, c.columns), "listing")
		s := sceneOf(t, text)
		m := &s.Moves
		name := fmt.Sprintf("%d × %d", c.rows, c.columns)
		if len(text) > c.most {
			t.Errorf("%s: %d bytes, wanted %d at most", name, len(text), c.most)
		}
		last := m.Transfer[m.N-1]
		said := fmt.Sprintf("To keep this page small it holds the first %d of %d transfers (moves 1 to %d of %d).", last, c.rows*c.columns, m.N, m.Of)
		switch {
		case c.whole && (m.N != m.Of || strings.Contains(text, "To keep this page small")):
			t.Errorf("%s: %d of %d moves, wanted all", name, m.N, m.Of)
		case !c.whole && (m.N < 1900 || m.N > 2100 || !strings.Contains(text, said)):
			t.Errorf("%s: %d of %d moves, and the page does not say %q", name, m.N, m.Of, said)
		}
		if blocks := strings.Contains(text, "Each field stands for up to"); blocks != (c.columns > 100) {
			t.Errorf("%s: fields stand for several slots: %v", name, blocks)
		}
		if only := !s.Grids[0].Whole; only != (c.rows*c.columns > 4000) {
			t.Errorf("%s: only some slots are shown: %v", name, only)
		}
	}
}

// Warnings that were folded into one are shown with how many there are, as the check shows
// them, and without the folder of what they point at.
func TestFoldedWarningsAreCounted(t *testing.T) {
	source := small("many", "", 3, 4)
	source.File = "/somewhere/small.plan.yaml"
	source.Data = bytes.Replace(source.Data, []byte("keep_out: {}"), []byte("keep_out: {wall: {from: [4000, -500, 0], to: [4100, 500, 500]}}"), 1)
	text := html.UnescapeString(page(t, source, "listing"))
	job := new(gen.Job)
	job.Read(source, nil, layout.Options{})
	job.Check()
	folded := 0
	for _, f := range job.Findings.Sorted() {
		for _, n := range f.Notes {
			folded++
			if words := strings.ToUpper(n.Message[:1]) + n.Message[1:]; !strings.Contains(text, n.Message) && !strings.Contains(text, words) {
				t.Errorf("%q is not on the sheet", n.Message)
			}
		}
	}
	if folded < 3 || !strings.Contains(text, "; and 20 more like this; the box is defined here (small.plan.yaml:") || strings.Contains(text, "somewhere") {
		t.Errorf("%d notes, wanted 3 or more, and on the sheet how many there are, without the folder", folded)
	}
}

// While the check finds an error there is no sheet.
func TestRefusesErrors(t *testing.T) {
	source := small("wrong", "", 2, 2)
	source.Data = bytes.Replace(source.Data, []byte("tcp: {at: [0, 0, 100]}, mass: 1"), []byte("tcp: {at: [0, 0, 100]}, mass: 9"), 1)
	source.Data = bytes.Replace(source.Data, []byte("  keep_out: {}\n"), []byte("  keep_out: {}\n  machine: {rated_load: 3}\n"), 1)
	job := new(gen.Job)
	if !job.Read(source, nil, layout.Options{}) {
		t.Fatal(job.Findings.Sorted())
	}
	var b bytes.Buffer
	if ok, err := job.Sheet(&b, shipped(t, job, "listing")); ok || err != nil || b.Len() > 0 {
		t.Errorf("ok %v, %v, %d bytes, wanted nothing", ok, err, b.Len())
	}
	var rules []string
	for _, f := range job.Findings.Sorted() {
		rules = append(rules, f.Rule)
	}
	if !slices.Contains(rules, "rated-load-exceeded") {
		t.Errorf("findings %v, wanted the rated load", rules)
	}
}

// What a page refers to by number is there under that number.
func TestSectionsAreWhereTheTextSays(t *testing.T) {
	text := page(t, fileSource(t, demoFolder+"mortar-cubes.plan.yaml"), "listing")
	for number, title := range map[int]string{5: "Points to touch", 6: "Tool, load, frames and motion", 7: "Signals", 8: "Grids before and after"} {
		if heading := fmt.Sprintf(">%d. %s</h2>", number, title); !strings.Contains(text, heading) {
			t.Errorf("%q is missing", heading)
		}
	}
	for _, said := range []string{"(section 5)", "as section 8 draws it"} {
		if !strings.Contains(text, said) {
			t.Errorf("%q is not said: are the numbers looked at here still those?", said)
		}
	}
	for _, m := range regexp.MustCompile(`href="#([^"]*)"`).FindAllStringSubmatch(text, -1) {
		if !strings.Contains(text, `id="`+m[1]+`"`) {
			t.Errorf("there is no %q to go to", m[1])
		}
	}
}
