package check

import (
	"strings"
	"testing"

	"gridferry/plan/diag"
)

func TestFoldTellsThreeAndCounts(t *testing.T) {
	var list diag.List
	f := newGrouper(&list, func(string) bool { return false })
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

// Lines of a worklist have findings of their own, but not a hundred thousand of a kind.
func TestLinesOfAWorklistAreFoldedBehindTheFirstFew(t *testing.T) {
	var list diag.List
	f := newGrouper(&list, func(file string) bool { return file == "w.csv" })
	for i := range 1000 {
		f.add(diag.Error, "some-rule", diag.Place{File: "w.csv", Line: 2 + i}, "number %d", []any{i})
		f.add(diag.Error, "other-rule", diag.Place{File: "p", Line: 2 + i}, "number %d", []any{i})
	}
	f.done()
	in := map[string][]diag.Finding{}
	for _, found := range list.Sorted() {
		in[found.Place.File] = append(in[found.Place.File], found)
	}
	if len(in["w.csv"]) != mostListed || len(in["p"]) != 1000 {
		t.Fatalf("%d findings in the worklist and %d in the plan, wanted %d and 1000", len(in["w.csv"]), len(in["p"]), mostListed)
	}
	last := in["w.csv"][mostListed-1]
	if n := len(last.Notes); n != 3 || last.Notes[0].Message != "number 20" || last.Notes[0].Place.Line != 22 || last.Notes[2].Message != "and 978 more like this" {
		t.Errorf("the last one has the notes %+v", last.Notes)
	}
}
