package ynode

import (
	"strings"
	"testing"

	"gridferry/plan/diag"
)

// TestFlow holds that a value goes through a command line unchanged: its flow form
// set in another document gives the same flow form again.
func TestFlow(t *testing.T) {
	for _, tt := range []struct{ yaml, want string }{
		{"5", "5"},
		{"2.5 in", "2.5 in"},
		{`"5"`, `"5"`},
		{"'it''s'", `"it's"`},
		{"tray A1:B6, C2", "tray A1:B6, C2"},
		{"~", "null"},
		{"[60, -60.5]", "[60, -60.5]"},
		{"\n  - A1:B2\n  - \"C1, C2\"\n  - <b>", "[\"A1:B2\", \"C1, C2\", \"<b>\"]"},
		{"{grid: balance, then: [dwell: 2]}", "{grid: balance, then: [{dwell: 2}]}"},
		{"|\n  two\n  lines\n", `"two\nlines\n"`},
		{"[&a {x: 1}, *a, {<<: *a, y: 2}]", "[{x: 1}, {x: 1}, {x: 1, y: 2}]"},
		{"[]", "[]"},
	} {
		var l diag.List
		n, ok := Parse("p.yaml", "v: "+tt.yaml+"\nw: 1\n", &l)
		if !ok || l.Len() > 0 {
			t.Fatalf("%q: %s", tt.yaml, findings(&l))
		}
		got, ok := n.Child("v").Flow()
		if got != tt.want || !ok {
			t.Errorf("%q: got %q, wanted %q", tt.yaml, got, tt.want)
		}
		if !n.Set("w", got, "--set[1]", 3, &l) {
			t.Errorf("%q: %s", got, findings(&l))
		}
		if again, _ := n.Child("w").Flow(); again != got {
			t.Errorf("%q came back as %q", got, again)
		}
	}
}

func TestFlowIsBounded(t *testing.T) {
	var l diag.List
	long := `"` + strings.Repeat("x", longestFlow/2) + `"`
	n, ok := Parse("p.yaml", "v: [&a "+long+strings.Repeat(", *a", 400)+"]\n", &l)
	if !ok {
		t.Fatal(findings(&l))
	}
	if text, ok := n.Child("v").Flow(); ok || len(text) > 2*longestFlow {
		t.Errorf("%d bytes came out, %v", len(text), ok)
	}
}
