package expand_test

import (
	"pgregory.net/rapid"

	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// laidOut is the layout of a plan without mistakes.
func laidOut(t rapid.TB, text string) *layout.Layout {
	t.Helper()
	var list diag.List
	l := layout.Resolve(plan.Read(plan.Source{File: "p.yaml", Data: []byte(text), Dir: "."}, nil, &list, new(diag.Sources)), layout.Options{}, &list)
	if list.HasErrors() {
		t.Fatalf("%+v\n%s", list.Sorted(), text)
	}
	return l
}
