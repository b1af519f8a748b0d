package ynode

import (
	"strings"
	"testing"

	"gridferry/plan/diag"
)

const putDocument = `grids:
  tray: &tray
    rows: 2
    missing: &holes [A1]
  rack: {missing: *holes}
  same: *tray
  plate: {<<: *tray, rows: 3}
  one: {missing: B2}
  open: {missing: }
  none: {rows: 1}
  wrong: {missing: {a: b}}
  list: [1]
`

// TestPut: a text goes to the place that is named, and to no other that shares its value.
func TestPut(t *testing.T) {
	for _, tt := range []struct {
		grid  string
		more  bool
		there string // what then stands there, and what elsewhere
		tray  string
		rack  string
	}{
		{"tray", true, "[A1 C3]", "[A1 C3]", "[A1]"},
		{"tray", false, "C3", "C3", "[A1]"},
		{"rack", true, "[A1 C3]", "[A1]", "[A1 C3]"},
		{"same", true, "[A1 C3]", "[A1]", "[A1]"},
		{"plate", true, "[A1 C3]", "[A1]", "[A1]"},
		{"one", true, "[B2 C3]", "[A1]", "[A1]"},
		{"open", true, "C3", "[A1]", "[A1]"},
		{"none", true, "C3", "[A1]", "[A1]"},
		{"wrong", true, "{a:b}", "[A1]", "[A1]"},
		{"wrong", false, "C3", "[A1]", "[A1]"},
	} {
		n := mustParse(t, putDocument)
		var l diag.List
		if !n.Put([]string{"grids", tt.grid, "missing"}, "C3", "--missing[1]", 6, tt.more, &l) || l.Len() > 0 {
			t.Errorf("%s: refused: %s", tt.grid, findings(&l))
		}
		for grid, want := range map[string]string{tt.grid: tt.there, "tray": tt.tray, "rack": tt.rack} {
			if got := show(at(n, "grids", grid, "missing")); got != want {
				t.Errorf("%s, more %v: %s has %s, want %s", tt.grid, tt.more, grid, got, want)
			}
		}
		if got := show(at(n, "grids", "same", "rows")) + show(at(n, "grids", "plate", "rows")); got != "23" {
			t.Errorf("%s: other keys become %s", tt.grid, got)
		}
	}
}

// TestDrop: a key goes from the place that is named, wherever it comes from, and from no other.
func TestDrop(t *testing.T) {
	for _, tt := range []struct{ grid, left, others string }{
		{"tray", "{rows:2}", "[A1][A1]"},
		{"same", "{rows:2}", "[A1][A1]"},
		{"plate", "{rows:3}", "[A1][A1]"},
		{"none", "{rows:1}", "[A1][A1]"},
		{"list", "[1]", "[A1][A1]"},
		{"other", "absent", "[A1][A1]"},
	} {
		n := mustParse(t, putDocument)
		n.Drop("grids", tt.grid, "missing")
		if got := show(at(n, "grids", tt.grid)); got != tt.left {
			t.Errorf("%s is %s, want %s", tt.grid, got, tt.left)
		}
		others := ""
		for _, grid := range []string{"tray", "rack", "plate"} {
			if grid != tt.grid {
				others += show(at(n, "grids", grid, "missing"))
			}
		}
		if len(others) < len(tt.others) || others != "[A1][A1]" && others != "[A1][A1][A1]" {
			t.Errorf("without that of %s the others are %s", tt.grid, others)
		}
	}
}

// TestPutWhereNothingIs: a path that leads nowhere changes nothing.
func TestPutWhereNothingIs(t *testing.T) {
	for _, path := range []string{"grids.other.missing", "grids.list.missing", "frames.tray.missing"} {
		n := mustParse(t, putDocument)
		var l diag.List
		before := show(n)
		if n.Put(strings.Split(path, "."), "C3", "--missing[1]", 6, true, &l); show(n) != before || l.Len() > 0 {
			t.Errorf("%s: %s, %s", path, show(n), findings(&l))
		}
	}
}

// TestPlaceOfPut: what was put stands in the text of the flag, all else where it stood.
func TestPlaceOfPut(t *testing.T) {
	n := mustParse(t, putDocument)
	var l diag.List
	n.Put([]string{"grids", "tray", "missing"}, "C3", "--missing[1]", 6, true, &l)
	n.Put([]string{"grids", "tray", "missing"}, "D4", "--missing[2]", 6, true, &l)
	for path, want := range map[string]string{
		"grids.tray.missing": "f:4:21", "grids.tray.missing.1": "f:4:22", "grids.tray.missing.2": "--missing[1]:1:6", "grids.tray.missing.3": "--missing[2]:1:6",
		"grids.rack.missing": "f:5:19", "grids.rack.missing.1": "f:4:22",
	} {
		if got := at(n, strings.Split(path, ".")...).Place().String(); got != want {
			t.Errorf("%s stands at %s, want %s", path, got, want)
		}
	}
	if n.Put([]string{"grids", "tray", "missing"}, "C\x00", "--missing[3]", 6, true, &l) || findings(&l) == "" {
		t.Error("a control character was taken")
	}
}
