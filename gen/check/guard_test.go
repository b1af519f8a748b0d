package check

import (
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// layoutOf is a plan, resolved.
func layoutOf(t *testing.T, text string) *layout.Layout {
	t.Helper()
	var list diag.List
	var sources diag.Sources
	p := plan.Read(plan.Source{File: "x", Data: []byte(text), Dir: "."}, nil, &list, &sources)
	l := layout.Resolve(p, layout.Options{}, &list)
	if list.HasErrors() {
		t.Fatal(list.Sorted())
	}
	return l
}

// TestGuards spoils the move list of a sound plan, since no plan can.
func TestGuards(t *testing.T) {
	is := func(kind move.Kind, transfer int) func(*move.Move) bool {
		return func(m *move.Move) bool { return m.Kind == kind && m.Transfer == transfer && m.Target.Grid != "" }
	}
	for _, c := range []struct {
		rule  string
		spoil func(m move.Move) (move.Move, bool)
	}{
		{"pick-while-holding", without(is(move.Release, 1))},
		{"place-with-nothing", without(is(move.Grip, 2))},
		{"part-left-in-gripper", without(is(move.Release, 5))},
		{"fly-by-at-slot", func(m move.Move) (move.Move, bool) {
			if m.Kind == move.Straight && m.Transfer == 3 && !m.Target.Approach {
				m.FlyBy = 5
			}
			return m, true
		}},
	} {
		t.Run(c.rule, func(t *testing.T) {
			l := layoutOf(t, manual.ExamplePlan)
			var list diag.List
			Run(l, move.Batched(changed(expand.Moves(l), c.spoil)), &list)
			for _, f := range list.Sorted() {
				if f.Rule == c.rule && f.Severity == diag.Error && f.Place.Line > 0 {
					return
				}
			}
			t.Errorf("not found; there are %v", list.Sorted())
		})
	}
}

// TestGuardsAreMarked: what the test above spoils is what is marked, no more.
func TestGuardsAreMarked(t *testing.T) {
	want := map[string]bool{"pick-while-holding": true, "place-with-nothing": true, "part-left-in-gripper": true, "fly-by-at-slot": true}
	for _, f := range Pages() {
		if guard := f.Unshown == manual.Guards; guard != want[f.Name] {
			t.Errorf("%s: guard is %t, wanted %t", f.Name, guard, want[f.Name])
		}
	}
}

func without(drop func(*move.Move) bool) func(move.Move) (move.Move, bool) {
	return func(m move.Move) (move.Move, bool) { return m, !drop(&m) }
}

func changed(moves move.Seq, change func(move.Move) (move.Move, bool)) move.Seq {
	return func(yield func(move.Move) bool) {
		for m := range moves {
			if m, keep := change(m); keep && !yield(m) {
				return
			}
		}
	}
}
