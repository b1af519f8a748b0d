package plan

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/plan/diag"
	"os"
	"path/filepath"
	"slices"
)

// rulesOf is the rules of the findings, once each.
func rulesOf(list *diag.List) string {
	var rules []string
	for _, f := range list.Sorted() {
		if len(rules) == 0 || rules[len(rules)-1] != f.Rule {
			rules = append(rules, f.Rule)
		}
	}
	return strings.Join(rules, " ")
}

// TestBoundsOfVariants: what variants set is bounded before any of it is kept for each of them.
func TestBoundsOfVariants(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: huge texts are read")
	}
	set := func(n, value int) string { // n paths, each with a value of so many bytes
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "p%03d: %s, ", i, strings.Repeat("v", value))
		}
		return b.String()
	}
	each := func(n int) string { return strings.TrimSuffix(strings.Repeat("1, ", n-1)+"2", ", ") }
	many := func(variants, paths int) string { // every path has one value, but for the first
		var b strings.Builder
		for i := range variants {
			fmt.Fprintf(&b, "  - {name: v%d, set: {%s}}\n", i, set(paths, 1))
		}
		return b.String()
	}
	const long = 60_000
	fit := mostSetBytes / (long + 4) // variants that set such a value
	for name, tt := range map[string]struct {
		entries string
		wanted  string
	}{
		"one variant, as many as fit":       {"  - {name: a, set: {" + set(mostSettings, 1) + "}}\n", ""},
		"one variant, one more":             {"  - {name: a, set: {" + set(mostSettings+1, 1) + "}}\n", "too-many-settings"},
		"set and each, one more":            {"  - {name: a, set: {" + set(mostSettings, 1) + "}, each: {q: [1]}}\n", "too-many-settings"},
		"all variants, as many as fit":      {many(mostSettingsAll/500, 500), ""},
		"all variants, one more":            {many(mostSettingsAll/500, 500) + "  - {name: more, set: {q: 1}}\n", "too-many-settings"},
		"bytes, as many as fit":             {"  - {set: {p: " + strings.Repeat("v", long) + "}, each: {ppp: [" + numbers(fit-1) + "]}}\n", ""},
		"bytes, more":                       {"  - {set: {p: " + strings.Repeat("v", long) + "}, each: {ppp: [" + numbers(fit+1) + "]}}\n", "too-many-settings"},
		"a matrix of more paths than fit":   {"  - each: {" + strings.ReplaceAll(set(mostSettings+1, 1), "v", "[v]") + "}\n", "too-many-settings"},
		"bytes of a matrix count each once": {"  - {each: {p: [" + strings.Repeat("v", long) + ", " + each(1) + "], q: [" + numbers(fit/2) + "]}}\n", ""},
	} {
		_, list := variantsOf(t, tt.entries)
		if got := rulesOf(&list); got != tt.wanted {
			t.Errorf("%s: got %q, wanted %q", name, got, tt.wanted)
		}
	}
}

func numbers(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "%d, ", i)
	}
	return strings.TrimSuffix(b.String(), ", ")
}

// TestBoundOfATable: a table is as large as it may be, and no larger; every field of a long line has its place.
func TestBoundOfATable(t *testing.T) {
	head := "slot,x,y,z\nA1,0,0,0\n"
	for more, wanted := range []string{"", "file-too-big"} {
		text := head + "#" + strings.Repeat("x", largestTable-len(head)-1+more)
		var list diag.List
		p := ReadPoints(PointsOfGrid, Source{File: "a.csv", Data: []byte(text)}, &list, new(diag.Sources))
		if got := rulesOf(&list); got != wanted || (p.Corners != nil) != (wanted == "") {
			t.Errorf("%d bytes: %q", len(text), got)
		}
	}
}

// TestPlacesOfFields: columns are counted in characters, from field to field, over lines that a quoted field goes on for.
func TestPlacesOfFields(t *testing.T) {
	var list diag.List
	r := reader{sources: new(diag.Sources)}
	r.List = &list
	table, lines, ok := r.records(Source{File: "a.csv", Data: []byte("ä,öö, x,\"ü\"\n\"a\nä\",é,z\n")})
	if !ok {
		t.Fatal(list.Sorted())
	}
	var got []string
	for _, line := range append([][]Text{table.header}, lines...) {
		for _, field := range line {
			got = append(got, fmt.Sprintf("%d:%d", field.Place.Line, field.Place.Col))
		}
	}
	if want := "1:1 1:3 1:7 1:9 2:1 3:4 3:6"; strings.Join(got, " ") != want {
		t.Errorf("got %v, wanted %s", got, want)
	}
}

// TestBoundsOfWorklists: however many there are, and however short their lines.
func TestBoundsOfWorklists(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: huge texts are read")
	}
	folder := t.TempDir()
	keep := func(name, text string) {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	keep("lines.csv", "from,to\n"+strings.Repeat("a,b\n", mostLines/2))
	keep("long.csv", "from,to\n#"+strings.Repeat("x", LargestFile-100)+"\na,b\n")
	keep("longer.csv", "from,to\n#"+strings.Repeat("x", LargestFile)+"\na,b\n")
	for lists, want := range map[string]string{
		"lines lines":               "",
		"lines lines lines":         "too-many-values",
		"long long long long":       "",
		"long long long long lines": "file-too-big",
		"longer":                    "file-too-big",
	} {
		text := "format: gridferry plan 1\ncell: {tools: {}, frames: {}}\ngrids: {}\nmotion: {tool: t, approach: 1, speed: {travel: 1, near: 1}}\ntransfers:\n"
		for _, name := range strings.Fields(lists) {
			text += "  - list: " + name + ".csv\n"
		}
		var list diag.List
		Read(Source{File: "p", Data: []byte(text), Dir: folder}, nil, &list, new(diag.Sources))
		found := slices.DeleteFunc(strings.Fields(rulesOf(&list)), func(rule string) bool { return rule != "file-too-big" && rule != "too-many-values" })
		if strings.Join(found, " ") != want {
			t.Errorf("%s: %v, wanted %s", lists, list.Sorted(), want)
		}
	}
}
