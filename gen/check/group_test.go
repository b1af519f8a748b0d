package check

import (
	"strings"
	"testing"

	"gridferry/plan/diag"
)

func TestFoldTellsThreeAndCounts(t *testing.T) {
	var list diag.List
	f := newGrouper(&list)
	at := diag.Place{File: "p", Line: 3, Col: 5}
	for i := range 1000 {
		f.add(diag.Error, "some-rule", at, "number %d", []any{i}).note(at, "look here").hint("do that")
	}
	f.add(diag.Warning, "some-rule", diag.Place{File: "p", Line: 4}, "elsewhere", nil)
	f.done()
	all := list.Sorted()
	if len(all) != 2 {
		t.Fatalf("%d findings, wanted 2", len(all))
	}
	got := []string{all[0].Message}
	for _, n := range all[0].Notes {
		got = append(got, n.Message)
	}
	want := "number 0|number 1|number 2|and 997 more like this|look here"
	if strings.Join(got, "|") != want || all[0].Hint != "do that" {
		t.Errorf("got %s (hint %q), wanted %s", strings.Join(got, "|"), all[0].Hint, want)
	}
}
