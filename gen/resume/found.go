package resume

import (
	"fmt"
	"strings"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// hold compares what somebody found with what the plan leaves, refuses it when
// parts are missing or too many, and takes it over otherwise: whether the rest
// can be done with it, the rules about slots will tell.
func (s *State) hold(l *layout.Layout, written *plan.Found, list *diag.List) {
	var faults diag.List
	found := l.Found(written, &faults)
	if faults.Len() > 0 {
		list.AddAll(&faults)
		return
	}
	wanted, stand := 0, 0
	var differ []difference
	for i := range s.Grids {
		g := &s.Grids[i]
		now, looked := found[g.Grid]
		if !looked {
			now = g.Full
		}
		d := compare(g, now)
		wanted, stand = wanted+d.wanted, stand+d.found
		if len(d.gone)+len(d.more) > 0 {
			d.place = placeOf(written, g.Name)
			differ = append(differ, d)
		}
		if g.Full = now; looked {
			g.FullPlace = placeOf(written, g.Name)
		}
	}
	s.Removed, s.Added = written.Removed.V, written.Added.V
	wanted += s.Added - s.Removed
	if stand != wanted {
		s.unaccounted(written, stand, wanted, differ, list)
		return
	}
	for _, d := range differ {
		list.Warnf("slots-differ", d.place, "%q does not stand as %d transfers leave it: %s", d.grid.Name, s.Transfer-1, d.String()).
			WithHint("%s", s.advice(differ))
	}
}

// difference is how one grid stands otherwise than the plan leaves it.
type difference struct {
	grid          *layout.Grid
	place         diag.Place
	wanted, found int
	gone, more    []move.Target // slots that lack a part, and that hold one too many
}

func compare(g *Grid, now layout.Slots) difference {
	d := difference{grid: g.Grid}
	for i := range g.Size() {
		want, is := g.Full.Has(i), now.Has(i)
		if want {
			d.wanted++
		}
		if is {
			d.found++
		}
		at := move.Target{Grid: g.Name, Slot: g.Slot(i), Layered: g.Layered()}
		switch {
		case want && !is:
			d.gone = append(d.gone, at)
		case is && !want:
			d.more = append(d.more, at)
		}
	}
	return d
}

func placeOf(written *plan.Found, grid string) diag.Place {
	for _, g := range written.Grids {
		if g.Name.V == grid {
			return g.Filled.Place
		}
	}
	return written.Place
}

// String names the first few slots: "A3" is full, "B2" is empty, and 4 more.
func (d *difference) String() string {
	const most = 3
	var words []string
	name := func(all []move.Target, is string) {
		for _, at := range all[:min(len(all), most-len(words))] {
			words = append(words, fmt.Sprintf("%q is %s", at, is))
		}
	}
	name(d.gone, "empty")
	name(d.more, "full")
	if rest := len(d.gone) + len(d.more) - len(words); rest > 0 {
		words = append(words, fmt.Sprintf("and %d more", rest))
	}
	return strings.Join(words, ", ")
}

// unaccounted refuses a stop that leaves parts which nobody accounts for.
func (s *State) unaccounted(written *plan.Found, stand, wanted int, differ []difference, list *diag.List) {
	f := list.Errorf("part-unaccounted", written.Place, "%s in the grids, but the plan and this file account for %d", parts(stand), wanted)
	for _, d := range differ {
		f.WithNote(d.place, "%s", d.String())
	}
	f.WithHint("%s", s.advice(differ))
}

func parts(n int) string {
	if n == 1 {
		return "1 part stands"
	}
	return fmt.Sprintf("%d parts stand", n)
}

// advice tells the likeliest reason why slots are not as the plan leaves them.
func (s *State) advice(differ []difference) string {
	gone, more := holds(differ, s.From)
	_, arrived := holds(differ, s.To)
	switch {
	case s.Holding && more:
		return fmt.Sprintf("%q still holds the part of transfer %d: without --holding the rest begins by taking it", s.From, s.Transfer)
	case s.Holding && arrived || gone && arrived:
		return fmt.Sprintf("%q holds the part of transfer %d already: the rest may begin with --from %d", s.To, s.Transfer, s.Transfer+1)
	case gone:
		return fmt.Sprintf("%q, where transfer %d takes its part, is empty: if the jaw holds it, say --holding", s.From, s.Transfer)
	}
	return "\"removed\" and \"added\" in the file account for parts that people took away or put in"
}

// holds tells whether a slot is among those that lack a part, and among those
// that hold one too many.
func holds(differ []difference, at move.Target) (gone, more bool) {
	for _, d := range differ {
		for _, g := range d.gone {
			gone = gone || g == at
		}
		for _, m := range d.more {
			more = more || m == at
		}
	}
	return gone, more
}
