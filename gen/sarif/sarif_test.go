package sarif

import (
	"encoding/json"
	"strings"
	"testing"

	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// written is the results of a log about findings in one text, f.plan.yaml.
func written(t *testing.T, text string, found ...diag.Finding) []result {
	t.Helper()
	var sources diag.Sources
	sources.Add("f.plan.yaml", []byte(text))
	var b strings.Builder
	tool := Tool{Name: "Gridferry", Version: "1", Manual: manual.Reading()}
	if err := tool.Write(&b, found, &sources); err != nil {
		t.Fatal(err)
	}
	var l log
	if err := json.Unmarshal([]byte(b.String()), &l); err != nil || len(l.Runs[0].Results) != len(found) {
		t.Fatalf("%v: %s", err, b.String())
	}
	return l.Runs[0].Results
}

func at(line, col, width int) diag.Finding {
	return diag.Finding{Severity: diag.Error, Rule: "unknown-key", Message: "m", Place: diag.Place{File: "f.plan.yaml", Line: line, Col: col, Width: width}}
}

// TestColumns: a character beyond the first 65,536 counts two, as in UTF-16 (The Unicode Standard, section 3.9);
// a byte order mark and what ends a line count none.
func TestColumns(t *testing.T) {
	const text = "\ufeffa: \U0001f9ca\U0001f9ca, é𝄞: tary\r\nb: x\n"
	var found []diag.Finding
	for _, place := range [][3]int{{1, 1, 1}, {1, 4, 2}, {1, 8, 2}, {1, 12, 4}, {1, 4, 1}, {2, 4, 1}, {1, 12, 4}, {1, 0, 0}} {
		found = append(found, at(place[0], place[1], place[2]))
	}
	want := []region{{1, 1, 2}, {1, 4, 8}, {1, 10, 13}, {1, 15, 19}, {1, 4, 6}, {2, 4, 5}, {1, 15, 19}, {StartLine: 1}}
	for i, r := range written(t, text, found...) {
		if got := *r.Locations[0].Physical.Region; got != want[i] {
			t.Errorf("%v stands at %+v, wanted %+v", found[i].Place, got, want[i])
		}
	}
}

func TestFix(t *testing.T) {
	f := at(1, 12, 4)
	f.DidYouMean("tary", "tray")
	change := written(t, "𝄞𝄞𝄞: from: tary", f)[0].Fixes[0].Changes[0]
	if change.Artifact.URI != "f.plan.yaml" || change.Replacements[0] != (replacement{region{1, 15, 19}, content{"tray"}}) {
		t.Errorf("%+v", change)
	}
	if r := written(t, "a: from: t\\u0061ry", f)[0]; r.Fixes != nil {
		t.Errorf("a fix of what does not stand there: %+v", r.Fixes)
	}
}

// TestPlaces: relative names begin from the folder of the run, absolute ones are URIs (RFC 8089), and what is no file has a name only.
func TestPlaces(t *testing.T) {
	for file, want := range map[string]artifactLocation{
		"a b/é%.yaml": {"a%20b/%C3%A9%25.yaml", here}, "./x:y.yaml": {"./x:y.yaml", here}, "../c.yaml": {"../c.yaml", here},
		"/p/q.yaml": {"file:///p/q.yaml", ""}, "C:/p/q.yaml": {"file:///C:/p/q.yaml", ""}, "//disks/p/a b.yaml": {"file://disks/p/a%20b.yaml", ""},
	} {
		f := diag.Finding{Severity: diag.Warning, Rule: "r", Place: diag.Place{File: file}}
		if p := written(t, "", f)[0].Locations[0].Physical; p.Artifact != want || p.Region != nil {
			t.Errorf("%s is %+v, wanted %+v", file, p, want)
		}
	}
	for _, file := range []string{"<stdin>", "--set[1]"} {
		l := written(t, "", diag.Finding{Severity: diag.Error, Rule: "r", Place: diag.Place{File: file, Line: 1, Col: 2}})[0].Locations[0]
		if l.Physical != nil || len(l.Logical) != 1 || l.Logical[0].Name != file+":1:2" {
			t.Errorf("%s: %+v", file, l)
		}
	}
	if r := written(t, "", diag.Finding{Severity: diag.Error, Rule: "too-many-findings"})[0]; len(r.Locations) != 0 {
		t.Errorf("%+v", r)
	}
}

// BenchmarkLongLine is ten thousand findings on a line of a megabyte, which are not looked for from its beginning each.
func BenchmarkLongLine(b *testing.B) {
	var sources diag.Sources
	sources.Add("f.plan.yaml", []byte(strings.Repeat("é: 1, ", 200_000)))
	found := make([]diag.Finding, 10_000)
	for i := range found {
		found[i] = at(1, 1+100*i, 1)
	}
	for b.Loop() {
		tool := Tool{}
		tool.run(found, &sources)
	}
}
