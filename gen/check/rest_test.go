package check_test

import (
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/resume"
	"gridferry/plan/diag"
)

// TestRestsEndAsTheWholeJob stops random plans before every transfer, and in it
// with its part in the gripper: what was done before and the rest together end as an
// independent simulator of the whole plan says, and no rule objects to the rest.
func TestRestsEndAsTheWholeJob(t *testing.T) {
	t.Parallel()
	plans, rests := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		for range 8 { // one plan in nine is accepted
			plans++
			rests += restsOf(r, randomPlan(r))
		}
	})
	if rests*8 < plans { // about as many as plans
		t.Errorf("only %d rests of %d plans were looked at", rests, plans)
	}
}

// restsOf stops one plan everywhere and gives the number of rests.
func restsOf(r *rapid.T, p *toyPlan) int {
	text := p.text()
	want, wrong := simulate(p)
	if wrong != nil {
		return 0
	}
	rests := 0
	for n := 1; n <= quietly(r, text).Transfers(); n++ {
		for _, holding := range []bool{false, true} {
			rests++
			holdRest(r, text, resume.Request{Transfer: n, Holding: holding}, want)
		}
	}
	return rests
}

func quietly(r *rapid.T, text string) *layout.Layout {
	var list diag.List
	l := resolve(text, &list)
	if list.HasErrors() {
		r.Fatalf("the simulator carries the plan out, but %v\n%s", errorsOf(&list), text)
	}
	return l
}

func holdRest(r *rapid.T, text string, q resume.Request, want state) {
	first := standing(quietly(r, text))
	for m := range expand.Moves(quietly(r, text)) {
		if m.Transfer == q.Transfer && (!q.Holding || m.Role == move.ClearLoaded || m.Role == move.OverDestination) {
			break
		}
		first.follow(r, &m, q)
	}
	rest := quietly(r, text)
	var list diag.List
	_, start := resume.Prepare(rest, q, &list)
	if now := standing(rest); !maps.Equal(now.full, first.full) {
		r.Fatalf("%+v begins with %v, but the moves before leave %v\n%s", q, slices.Sorted(maps.Keys(now.full)), slices.Sorted(maps.Keys(first.full)), text)
	}
	slots := check.NewSlots(rest)
	check.Run(rest, expand.Batches(rest, start), &list, slots)
	if list.HasErrors() {
		r.Fatalf("%+v is refused: %v\n%s", q, errorsOf(&list), text)
	}
	for m := range expand.Rest(rest, start) {
		first.follow(r, &m, q)
	}
	compare(r, "the rest", first.full, want, text)
	compare(r, "check --slots of the rest", occupied(slots), want, text)
}

// table is slots and a gripper, and what was wrong with using them.
type table struct {
	full state
	jaw  bool
	l    *layout.Layout
}

func standing(l *layout.Layout) *table {
	t := &table{full: state{}, l: l}
	for _, g := range l.Grids {
		for i := range g.Size() {
			if g.Full.Has(i) {
				t.full[g.Name+" "+g.Label(g.Slot(i))] = true
			}
		}
	}
	return t
}

func (t *table) follow(r *rapid.T, m *move.Move, q resume.Request) {
	at := m.Target.String()
	switch {
	case m.Kind == move.Grip && (t.jaw || !t.full[at]):
		r.Fatalf("%+v: transfer %d cannot pick from %q", q, m.Transfer, at)
	case m.Kind == move.Grip:
		if !feeds(t.l, at) {
			delete(t.full, at)
		}
		t.jaw = true
	case m.Kind == move.Release && at == "" && t.jaw:
		r.Fatalf("%+v: the gripper opens in the air with a part in it", q)
	case m.Kind == move.Release && at != "" && (!t.jaw || t.full[at]):
		r.Fatalf("%+v: transfer %d cannot put a part into %q", q, m.Transfer, at)
	case m.Kind == move.Release && at != "":
		if !feeds(t.l, at) {
			t.full[at] = true
		}
		t.jaw = false
	}
}
