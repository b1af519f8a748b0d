package check_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/resume"
	"gridferry/golden/simulate"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// TestRestsEndAsTheWholeJob stops random plans before every transfer, and in it
// with its part in the gripper: what was done before and the rest together end as an
// independent simulator of the whole plan says, and no rule objects to the rest.
func TestRestsEndAsTheWholeJob(t *testing.T) {
	t.Parallel()
	rests, groups := 0, 0
	folder := t.TempDir()
	for seed := range simulate.Plans(t) / 8 { // each plan is stopped everywhere
		text := simulate.DrawCalm(seed).Source(t, folder)
		l, job := played(t, text, new(diag.List))
		if job.Refused+job.Wrong != "" || l.Transfers() > 12 {
			continue
		}
		for n := 1; n <= l.Transfers(); n++ {
			first, together := job.Group(n)
			if first != n {
				groups++
				refused(t, text, resume.Request{Transfer: n})
				continue
			}
			holdRest(t, text, resume.Request{Transfer: n}, job.End)
			if together == 1 {
				holdRest(t, text, resume.Request{Transfer: n, Holding: true}, job.End)
			}
			rests++
		}
	}
	if n := simulate.Plans(t); n >= 2000 && (uint64(rests) < n/40 || groups == 0) {
		t.Errorf("only %d rests were looked at, and %d in a group", rests, groups)
	}
}

// refused holds a job that would begin within a group to its error.
func refused(t *testing.T, text plan.Source, q resume.Request) {
	t.Helper()
	var list diag.List
	if resume.Prepare(quietly(t, text), q, &list); !slices.ContainsFunc(list.Sorted(), func(f diag.Finding) bool { return f.Rule == "resume-in-group" }) {
		t.Fatalf("%+v is not refused: %v\n%s", q, errorsOf(&list), text.Data)
	}
}

func quietly(t *testing.T, text plan.Source) *layout.Layout {
	t.Helper()
	var list diag.List
	l := layout.Resolve(plan.Read(text, nil, &list, new(diag.Sources)), layout.Options{}, &list)
	if list.HasErrors() {
		t.Fatalf("the simulator carries the plan out, but %v\n%s", errorsOf(&list), text.Data)
	}
	return l
}

func holdRest(t *testing.T, text plan.Source, q resume.Request, want map[string]string) {
	first := standing(quietly(t, text))
	for m := range expand.Moves(quietly(t, text)) {
		if m.Transfer == q.Transfer && (!q.Holding || m.Role == move.ClearLoaded || m.Role == move.OverDestination) {
			break
		}
		first.follow(t, &m, q)
	}
	rest := quietly(t, text)
	var list diag.List
	_, start := resume.Prepare(rest, q, &list)
	if now := standing(rest); !maps.Equal(now.full, first.full) {
		t.Fatalf("%+v begins with %v, but the moves before leave %v\n%s", q, slices.Sorted(maps.Keys(now.full)), slices.Sorted(maps.Keys(first.full)), text.Data)
	}
	slots := check.NewSlots(rest)
	check.Run(rest, expand.Batches(rest, start), &list, slots)
	if list.HasErrors() {
		t.Fatalf("%+v is refused: %v\n%s", q, errorsOf(&list), text.Data)
	}
	for m := range expand.Rest(rest, start) {
		first.follow(t, &m, q)
	}
	compare(t, "the rest", first.full, want, string(text.Data))
	compare(t, "check --slots of the rest", occupied(slots), want, string(text.Data))
}

// table is slots and grippers, and what was wrong with using them.
type table struct {
	full, held map[string]bool
	l          *layout.Layout
}

func standing(l *layout.Layout) *table {
	t := &table{full: map[string]bool{}, held: map[string]bool{}, l: l}
	for _, g := range l.Grids {
		for i := range g.Size() {
			if g.Full.Has(i) {
				t.full[g.Name+" "+g.Label(g.Slot(i))] = true
			}
		}
	}
	return t
}

// feeds reports whether a slot is one of a feeder.
func feeds(l *layout.Layout, target string) bool {
	return slices.ContainsFunc(l.Grids, func(g *layout.Grid) bool { return g.Feeder() && strings.HasPrefix(target, g.Name+" ") })
}

func (b *table) follow(t *testing.T, m *move.Move, q resume.Request) {
	at := m.Target.String()
	switch {
	case m.Kind == move.Grip && (b.held[m.Tool] || !b.full[at]):
		t.Fatalf("%+v: transfer %d cannot pick from %q", q, m.Transfer, at)
	case m.Kind == move.Grip:
		if !feeds(b.l, at) {
			delete(b.full, at)
		}
		b.held[m.Tool] = true
	case m.Kind == move.Release && at == "" && b.held[m.Tool]:
		t.Fatalf("%+v: the gripper opens in the air with a part in it", q)
	case m.Kind == move.Release && at != "" && (!b.held[m.Tool] || b.full[at]):
		t.Fatalf("%+v: transfer %d cannot put a part into %q", q, m.Transfer, at)
	case m.Kind == move.Release && at != "":
		if !feeds(b.l, at) {
			b.full[at] = true
		}
		delete(b.held, m.Tool)
	}
}
