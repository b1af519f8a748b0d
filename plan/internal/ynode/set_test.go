package ynode

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/plan/diag"
)

const setDocument = `title: cubes
shared: &pitch [65, 65]
base: &base {rows: 2, pitch: [1, 2]}
grids:
  tray: {rows: 4, pitch: *pitch, filled: all}
  rack: {rows: 6, pitch: *pitch}
  plate: {<<: *base, columns: 3}
motion: &m {speed: {travel: 500}}
again: *m
transfers:
  - {from: tray, take: 12}
  - {from: rack}
none:
empty: {}
`

func TestSet(t *testing.T) {
	tests := []struct {
		name, path, value string
		look              string // another path to look at, "" for the same
		want              string
	}{
		{"number", "grids.tray.rows", "5", "", "5"},
		{"at the top", "title", "cubes of mortar", "", "cubes of mortar"},
		{"entry of a list", "transfers.1.take", "3", "", "3"},
		{"list", "grids.tray.filled", "[60, 60]", "", "[60 60]"},
		{"nested list", "grids.tray.filled", "[[1, 2], [3]]", "", "[[1 2] [3]]"},
		{"quantity", "grids.tray.filled", "2.5 in", "", "2.5 in"},
		{"rectangle", "grids.tray.filled", "A1:B6", "", "A1:B6"},
		{"rectangle in quotes", "grids.tray.filled", `"A1:B6"`, "", `"A1:B6"`},
		{"selection", "transfers.1.from", "tray A1:B6, C2", "", "tray A1:B6, C2"},
		{"mapping", "grids.tray.filled", "{a: 1, b: [x]}", "", "{a:1 b:[x]}"},
		{"null", "grids.tray.filled", "null", "", "~"},
		{"tilde", "grids.tray.filled", "~", "", "~"},
		{"empty text", "title", `""`, "", `""`},
		{"escapes of JSON", "title", `"1\/2"`, "", `"1/2"`},
		{"blanks around", "title", "  5  ", "", "5"},
		{"negative", "title", "-5", "", "-5"},
		{"where nothing was", "none", "5", "", "5"},

		{"no mapping", "title", "a: b", "", "a: b"},
		{"no list", "title", "- a", "", "- a"},
		{"no remark", "title", "a # b", "", "a # b"},
		{"no remark after a list", "title", "[1] # ]", "", "[1] # ]"},
		{"no remark after quotes", "title", `"a" # b`, "", `"a" # b`},
		{"remark only", "title", "# b", "", "# b"},
		{"no anchor", "title", "&x 5", "", "&x 5"},
		{"no alias", "title", "*pitch", "", "*pitch"},
		{"no tag", "title", "!!str 5", "", "!!str 5"},
		{"no block of text", "title", "|", "", "|"},
		{"no document", "title", "---", "", "---"},
		{"no key alone", "title", "{draft}", "", "{draft}"},
		{"open list", "title", "[60, 60", "", "[60, 60"},
		{"open quotes", "title", `"abc`, "", `"abc`},
		{"at sign", "title", "@home", "", "@home"},
		{"lines", "title", "a\nb", "", "a\nb"},

		{"aliases follow the anchor", "shared", "[70, 70]", "grids.rack.pitch", "[70 70]"},
		{"an alias changes alone", "grids.tray.pitch", "[70, 70]", "grids.rack.pitch", "[65 65]"},
		{"an alias changes alone, itself", "grids.tray.pitch", "[70, 70]", "", "[70 70]"},
		{"through an alias", "grids.tray.pitch.2", "80", "", "80"},
		{"through an alias, the rest stays", "grids.tray.pitch.2", "80", "grids.tray.pitch", "[65 80]"},
		{"through an alias, here only", "grids.tray.pitch.2", "80", "shared", "[65 65]"},
		{"through an alias, no other alias", "grids.tray.pitch.2", "80", "grids.rack.pitch", "[65 65]"},
		{"through an alias, deeper", "again.speed.travel", "80", "motion.speed", "{travel:500}"},
		{"through an anchor, everywhere", "motion.speed.travel", "80", "again.speed", "{travel:80}"},
		{"over a merge", "grids.plate.rows", "9", "", "9"},
		{"over a merge, here only", "grids.plate.rows", "9", "base", "{rows:2 pitch:[1 2]}"},
		{"over a merge, the rest stays", "grids.plate.rows", "9", "grids.plate", "{pitch:[1 2] columns:3 rows:9}"},
		{"into a merge", "grids.plate.pitch.1", "9", "grids.plate.pitch", "[9 2]"},
		{"into a merge, here only", "grids.plate.pitch.1", "9", "base.pitch", "[1 2]"},
	}
	for _, tt := range tests {
		n := mustParse(t, setDocument)
		var l diag.List
		if !n.Set(tt.path, tt.value, "--set[1]", len(tt.path)+2, &l) || l.Len() > 0 {
			t.Errorf("%s: refused: %s", tt.name, findings(&l))
		}
		look := tt.look
		if look == "" {
			look = tt.path
		}
		if got := show(at(n, strings.Split(look, ".")...)); got != tt.want {
			t.Errorf("%s: %s is %s, want %s", tt.name, look, got, tt.want)
		}
	}
}

func TestSetTwice(t *testing.T) {
	n := mustParse(t, setDocument)
	var l diag.List
	n.Set("shared", "[1, 2]", "--set[1]", 8, &l)
	n.Set("shared.2", "3", "--set[2]", 10, &l)
	n.Set("grids.plate.pitch", "[5, 6]", "--set[3]", 19, &l)
	n.Set("grids.plate.pitch.1", "7", "--set[4]", 21, &l)
	if got := show(at(n, "grids", "tray", "pitch")) + show(at(n, "grids", "plate", "pitch")); got != "[1 3][7 6]" || l.Len() > 0 {
		t.Errorf("got %s, %s", got, findings(&l))
	}
	for path, want := range map[string]string{
		"shared.1": "--set[1]:1:9", "shared.2": "--set[2]:1:10", "grids.plate.pitch.2": "--set[3]:1:23", "grids.plate.pitch.1": "--set[4]:1:21",
		"grids.rack.pitch": "f:6:26", "title": "f:1:8",
	} {
		if got := at(n, strings.Split(path, ".")...).Place().String(); got != want {
			t.Errorf("%s stands at %s, want %s", path, got, want)
		}
	}
}

func TestPlaceOfSetValues(t *testing.T) {
	tests := []struct {
		value string
		look  string
		want  diag.Place
	}{
		{"5 in", "title", diag.Place{File: "s", Line: 1, Col: 7, Width: 4}},
		{"  fast", "title", diag.Place{File: "s", Line: 1, Col: 9, Width: 4}},
		{`"é"`, "title", diag.Place{File: "s", Line: 1, Col: 7, Width: 3}},
		{"[é, bb]", "title.2", diag.Place{File: "s", Line: 1, Col: 11, Width: 2}},
		{"a: b", "title", diag.Place{File: "s", Line: 1, Col: 7, Width: 4}},
		{"&x b", "title", diag.Place{File: "s", Line: 1, Col: 7, Width: 4}},
	}
	for _, tt := range tests {
		n := mustParse(t, "title: x\n")
		var l diag.List
		n.Set("title", tt.value, "s", 7, &l)
		if got := at(n, strings.Split(tt.look, ".")...).Place(); got != tt.want {
			t.Errorf("%q: got %+v, want %+v", tt.value, got, tt.want)
		}
	}
}

func TestSetRefuses(t *testing.T) {
	tests := []struct{ path, value, want, part string }{
		{"", "5", "1:1 set-path", "a name is missing"},
		{"a..b", "5", "1:1 set-path", `no "a" in the file`},
		{"grids..rows", "5", "1:7 set-path", "a name is missing"},
		{"grids.", "5", "1:7 set-path", "a name is missing"},
		{"titel", "5", "1:1 set-path", `did you mean "title"?`},
		{"grid.tray.rows", "5", "1:1 set-path", `did you mean "grids.tray.rows"?`},
		{"grid.tray.nonsense", "5", "1:1 set-path", `did you mean "grids.tray"?`},
		{"grids.tray.rwos", "5", "1:12 set-path", `did you mean "grids.tray.rows"?`},
		{"grids.bench.rows", "5", "1:7 set-path", `"grids" holds "tray", "rack" and "plate"`},
		{"grids.plate.rwos", "5", "1:13 set-path", `did you mean "grids.plate.rows"?`},
		{"empty.x", "5", "1:7 set-path", `"empty" is empty`},
		{"title.x", "5", "1:7 set-path", `"title" is a text, there is no "x" in it`},
		{"none.x", "5", "1:6 set-path", `"none" is nothing`},
		{"transfers.0.take", "5", "1:11 set-path", "counting begins at 1"},
		{"transfers.3.take", "5", "1:11 set-path", `there are "transfers.1" to "transfers.2"`},
		{"transfers.first", "5", "1:11 set-path", `wanted the number of an entry but found "first"`},
		{"transfers.01", "5", "1:11 set-path", "wanted the number"},
		{"transfers.-1", "5", "1:11 set-path", "counting begins at 1"},
		{"transfers.2.take", "5", "1:13 set-path", `there is no "take" in "transfers.2"`},
		{"título.x", "5", "1:1 set-path", ""},
		{"title", "", "1:7 set-value", "no value is given"},
		{"title", "  ", "1:7 set-value", ""},
		{"title", "a\x1bb", "1:8 control-character", ""},
		{"title", "a\xff", "1:8 not-utf8", ""},
		{"title", "{a: 1, a: 2}", "1:14 duplicate-key", ""},
		{"title", "[!x 5]", "1:8 custom-tag", ""},
		{"title", strings.Repeat("[", 101) + strings.Repeat("]", 101), "1:107 nested-too-deep", ""},
	}
	for _, tt := range tests {
		n := mustParse(t, setDocument)
		var l diag.List
		if n.Set(tt.path, tt.value, "--set[1]", len([]rune(tt.path))+2, &l) {
			t.Errorf("%s=%s: accepted", tt.path, tt.value)
		}
		if got := findings(&l); got != tt.want {
			t.Errorf("%s=%s: got %q, want %q", tt.path, tt.value, got, tt.want)
			continue
		}
		f := l.Sorted()[0]
		if f.Place.File != "--set[1]" || !strings.Contains(f.Message+"\n"+f.Hint, tt.part) {
			t.Errorf("%s=%s: %s: %q, hint %q; want %q in it", tt.path, tt.value, f.Place.File, f.Message, f.Hint, tt.part)
		}
		if got, want := show(n), show(mustParse(t, setDocument)); got != want {
			t.Errorf("%s=%s: the document was changed: %s", tt.path, tt.value, got)
		}
		checkFindings(t, &l, tt.path+tt.value)
	}
}

func TestSetOnAbsentNode(t *testing.T) {
	var l diag.List
	if (Node{}).Set("a", "1", "s", 3, &l) || !l.HasErrors() {
		t.Error("nothing can be set where nothing is")
	}
}

func FuzzSet(f *testing.F) {
	f.Add("title", "5")
	f.Add("grids.plate.pitch.1", "[1, {a: b}]")
	f.Add("again.speed.travel", `"x\ty"`)
	f.Add("transfers.2", "{<<: {a: 1}, b: [2]}")
	f.Add("grids.tray.pitch", "*x # y")
	f.Add("..", "\ufeff")
	f.Add("%!", "B")
	f.Add("shared", "\"\\ud83d\\ude00\\/\"")
	f.Fuzz(func(t *testing.T, path, value string) {
		n := mustParse(t, setDocument)
		var l diag.List
		ok := n.Set(path, value, "s", len([]rune(path))+2, &l)
		if ok == l.HasErrors() {
			t.Fatalf("set %v, %s", ok, findings(&l))
		}
		checkFindings(t, &l, path+value)
		if count := visit(n, 100_000); count >= 100_000 {
			t.Fatalf("%d nodes", count)
		}
		if !ok {
			return
		}
		p := at(n, strings.Split(path, ".")...).Place()
		if p.File != "s" || p.Line != 1 || p.Col < len([]rune(path))+2 {
			t.Fatalf("the value of %q=%q stands at %+v", path, value, p)
		}
	})
}

// TestSetBelow: messages speak of the whole path, so that what they advise can be
// pasted.
func TestSetBelow(t *testing.T) {
	for path, want := range map[string][3]string{
		"cell.mashine.speed": {"1:6", `there is no "mashine" in "cell"`, `did you mean "cell.machine.speed"?`},
		"cell.machine.sped":  {"1:14", `there is no "sped" in "cell.machine"`, `did you mean "cell.machine.speed"?`},
		"cell.list.3":        {"1:11", `"cell.list" has no entry 3, it ends with 2`, `there are "cell.list.1" to "cell.list.2"`},
		"cell.":              {"1:6", `a name is missing in the path "cell."`, ""},
	} {
		var l diag.List
		n := mustParse(t, "machine: {speed: 1}\nlist: [1, 2]\n")
		if n.SetBelow(1, path, "8", "s", len(path)+2, &l) || l.Len() != 1 {
			t.Fatalf("%s: %d findings", path, l.Len())
		}
		f := l.Sorted()[0]
		if at := fmt.Sprintf("%d:%d", f.Place.Line, f.Place.Col); at != want[0] || f.Message != want[1] || want[2] != "" && f.Hint != want[2] {
			t.Errorf("%s: %s %s (%s)", path, at, f.Message, f.Hint)
		}
	}
	var l diag.List
	n := mustParse(t, "machine: {speed: 1}\n")
	if !n.SetBelow(1, "cell.machine.speed", "8", "s", 20, &l) || n.Child("machine").Child("speed").Text() != "8" {
		t.Error("the value is not set")
	}
}
