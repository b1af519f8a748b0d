package ynode

import (
	"testing"

	"gridferry/plan/diag"
)

func mustParse(t testing.TB, text string) Node {
	t.Helper()
	var l diag.List
	n, ok := Parse("f", text, &l)
	if !ok || l.Len() > 0 {
		t.Fatalf("%q: %s", text, findings(&l))
	}
	return n
}

// at follows keys and entry numbers, without the help of a path.
func at(n Node, parts ...string) Node {
	for _, part := range parts {
		n = n.Child(part)
	}
	return n
}

func TestPlace(t *testing.T) {
	tests := []struct {
		name, text string
		path       []string
		want       diag.Place
	}{
		{"plain", "a: 12.5 # x", []string{"a"}, diag.Place{File: "f", Line: 1, Col: 4, Width: 4}},
		{"with blanks", "a: tray A1:B6\n", []string{"a"}, diag.Place{File: "f", Line: 1, Col: 4, Width: 10}},
		{"double quotes", `a: "x\"é"  # y`, []string{"a"}, diag.Place{File: "f", Line: 1, Col: 4, Width: 6}},
		{"single quotes", "a: 'x''y' # 'z'", []string{"a"}, diag.Place{File: "f", Line: 1, Col: 4, Width: 6}},
		{"columns are characters", "é: [ä, ööö]", []string{"é", "2"}, diag.Place{File: "f", Line: 1, Col: 8, Width: 3}},
		{"after a byte order mark", "\ufeffa: b", []string{"a"}, diag.Place{File: "f", Line: 1, Col: 4, Width: 1}},
		{"after CR LF", "x: 1\r\na: b\r\n", []string{"a"}, diag.Place{File: "f", Line: 2, Col: 4, Width: 1}},
		{"after an anchor", "a: &name  5", []string{"a"}, diag.Place{File: "f", Line: 1, Col: 11, Width: 1}},
		{"after anchor and tag", "a: &n !!str 5", []string{"a"}, diag.Place{File: "f", Line: 1, Col: 13, Width: 1}},
		{"text that looks like an anchor", "a: '&x y'", []string{"a"}, diag.Place{File: "f", Line: 1, Col: 4, Width: 6}},
		{"over lines", "a: p\n  q", []string{"a"}, diag.Place{File: "f", Line: 1, Col: 4, Width: 0}},
		{"block of text", "a: |\n  q", []string{"a"}, diag.Place{File: "f", Line: 1, Col: 4, Width: 0}},
		{"nothing", "a:\nb: 1", []string{"a"}, diag.Place{File: "f", Line: 1, Col: 3, Width: 0}},
		{"list", "a: [1]", []string{"a"}, diag.Place{File: "f", Line: 1, Col: 4, Width: 0}},
		{"mapping", "a:\n  b: 1", []string{"a"}, diag.Place{File: "f", Line: 2, Col: 3, Width: 0}},
		{"alias", "a: &x [1, 2]\nb: *x", []string{"b"}, diag.Place{File: "f", Line: 2, Col: 4, Width: 2}},
		{"inside an alias", "a: &x [1, 2]\nb: *x", []string{"b", "2"}, diag.Place{File: "f", Line: 1, Col: 11, Width: 1}},
		{"through a merge", "a: &x {p: 1}\nb: {<<: *x}", []string{"b", "p"}, diag.Place{File: "f", Line: 1, Col: 11, Width: 1}},
		{"JSON with escapes", `{"a": "\/\uD834\uDD1E", "b": 7}`, []string{"b"}, diag.Place{File: "f", Line: 1, Col: 30, Width: 1}},
		{"JSON text with escapes", `{"a": "\/\uD834\uDD1E", "b": 7}`, []string{"a"}, diag.Place{File: "f", Line: 1, Col: 7, Width: 16}},
		{"absent", "a: 1", []string{"b"}, diag.Place{}},
	}
	for _, tt := range tests {
		if got := at(mustParse(t, tt.text), tt.path...).Place(); got != tt.want {
			t.Errorf("%s: got %+v, want %+v", tt.name, got, tt.want)
		}
	}
}

func TestStands(t *testing.T) {
	n := mustParse(t, "a: &x  bath\nb: *x\nc: rack\n")
	for key, want := range map[string]diag.Place{"a": {File: "f", Line: 1, Col: 8, Width: 4}, "b": {File: "f", Line: 1, Col: 8, Width: 4}, "c": {File: "f", Line: 3, Col: 4, Width: 4}, "d": {}} {
		if got := at(n, key).Stands(); got != want {
			t.Errorf("%q: got %+v, want %+v", key, got, want)
		}
	}
}

func TestPlaceOfKey(t *testing.T) {
	for _, e := range mustParse(t, "rows: 1\n\"columns\" : 2\n").Entries() {
		want := diag.Place{File: "f", Line: 1, Col: 1, Width: 4}
		if e.Key.Text() == "columns" {
			want = diag.Place{File: "f", Line: 2, Col: 1, Width: 9}
		}
		if got := e.Key.Place(); got != want {
			t.Errorf("%q: got %+v, want %+v", e.Key.Text(), got, want)
		}
	}
}

// On a long line of characters of several bytes each the columns are found in steps.
func TestPlaceOnALongLine(t *testing.T) {
	n := mustParse(t, string(manyOnOneLine(1000)))
	want := len("{") + 1
	for i, e := range n.Entries() {
		p := e.Key.Place()
		width := len([]rune(e.Key.Text())) + 2
		if p.Col != want || p.Width != width {
			t.Fatalf("key %d: got %+v, want column %d, width %d", i, p, want, width)
		}
		want += width + len(": [1, 2], ")
	}
}

func TestAbsentNode(t *testing.T) {
	var n Node
	if !n.IsZero() || n.Kind() != Invalid || n.Text() != "" || n.Quoted() || n.Items() != nil || n.Entries() != nil || !n.Place().IsZero() {
		t.Error("the zero node must be absent in every way")
	}
}
