package resume

import (
	"fmt"
	"slices"
	"strings"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// hold compares what somebody found with what the plan leaves. It reports parts that
// are missing or too many, or not where the next transfer needs them, and takes over what
// was found otherwise; whether the rest is possible with it is for the rules about slots.
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
		if g.Feeder() { // whose parts nobody counts
			continue
		}
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
	if len(differ) > 0 {
		s.differs(differ, list)
	}
}

// differs reports as many parts as are accounted for, but in other slots: an error where the next
// transfer finds its own slots so that it cannot be made.
func (s *State) differs(differ []difference, list *diag.List) {
	at := slices.IndexFunc(differ, func(d difference) bool {
		return !s.Holding && slices.Contains(d.gone, s.From) || slices.Contains(d.more, s.To)
	})
	var f *diag.Finding
	if at >= 0 {
		f = list.Errorf("slots-differ", differ[at].place, "transfer %d cannot be next: %s", s.Transfer, s.Next())
	} else {
		at = 0
		f = list.Warnf("slots-differ", differ[at].place, "%q does not stand as %d transfers leave it: %s", differ[at].grid.Name, s.Transfer-1, differ[at].String())
	}
	for i, d := range differ {
		if i != at {
			f.WithNote(d.place, "%s", d.String())
		}
	}
	f.WithHint("%s", s.elsewhere(differ))
}

// difference is how what was found in one grid differs from what the plan leaves.
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

// unaccounted refuses a stop that leaves parts which nobody accounts for, at the grid
// that has too many of them or too few.
func (s *State) unaccounted(written *plan.Found, stand, wanted int, differ []difference, list *diag.List) {
	const message = "%s in the grids, but the plan and this file account for %d"
	at := slices.IndexFunc(differ, func(d difference) bool { return (d.found-d.wanted)*(stand-wanted) > 0 })
	var f *diag.Finding
	if at < 0 { // no grid has too many, or too few: the counts are wrong
		f = list.Errorf("part-unaccounted", figuresOf(written), message, wording.Number(stand, "part stands", "parts stand"), wanted)
	} else {
		f = list.Errorf("part-unaccounted", differ[at].place, message+": %s", wording.Number(stand, "part stands", "parts stand"), wanted, differ[at].String())
	}
	for i, d := range differ {
		if i != at {
			f.WithNote(d.place, "%s", d.String())
		}
	}
	switch {
	case at < 0:
		f.WithHint("%s: see whether \"removed\" and \"added\" are meant so", beside(stand-(wanted-s.Added+s.Removed)))
	case stand > wanted:
		f.WithHint("%s", s.tooMany(differ, stand-wanted))
	default:
		f.WithHint("%s", s.tooFew(differ, wanted-stand))
	}
}

// beside gives how many parts more stand in the grids than the plan leaves there, or
// how many fewer.
func beside(more int) string {
	switch {
	case more > 0:
		return fmt.Sprintf("the grids hold %d more than the plan leaves there", more)
	case more < 0:
		return fmt.Sprintf("the grids hold %d fewer than the plan leaves there", -more)
	}
	return "the grids hold as many parts as the plan leaves there"
}

// figuresOf is where the file says how many parts people took away or put in.
func figuresOf(written *plan.Found) diag.Place {
	for _, place := range []diag.Place{written.Removed.Place, written.Added.Place} {
		if !place.IsZero() {
			return place
		}
	}
	return written.Place
}

// tooMany gives the likeliest reason why so many parts more stand than are accounted
// for.
func (s *State) tooMany(differ []difference, extra int) string {
	gone, more := holds(differ, s.From)
	_, arrived := holds(differ, s.To)
	switch {
	case s.Holding && more:
		return fmt.Sprintf("%q still holds the part of transfer %d: without --holding the resumed job begins by taking it", s.From, s.Transfer)
	case arrived && (gone || s.Holding):
		return s.done()
	case arrived:
		return fmt.Sprintf("%q has to be free for transfer %d: look again, and take out what stands there", s.To, s.Transfer)
	}
	return fmt.Sprintf("look again, or say \"added: %d\" if people put in so many", s.Added+extra)
}

// tooFew gives the likeliest reason why so many parts are missing.
func (s *State) tooFew(differ []difference, lost int) string {
	gone, _ := holds(differ, s.From)
	_, arrived := holds(differ, s.To)
	switch {
	case gone && arrived:
		return s.done()
	case gone && !s.Holding:
		return fmt.Sprintf("%q, where transfer %d takes its part, is empty: if the gripper holds it, say --holding", s.From, s.Transfer)
	}
	return fmt.Sprintf("look again, or say \"removed: %d\" if people took so many away", s.Removed+lost)
}

// elsewhere gives the likeliest reason why as many parts stand as are accounted for,
// but in other slots: the gripper is as it is said to be.
func (s *State) elsewhere(differ []difference) string {
	gone, _ := holds(differ, s.From)
	_, arrived := holds(differ, s.To)
	lacks, has := ends(differ)
	switch {
	case gone && arrived:
		return s.done()
	case s.Removed+s.Added > 0:
		return "as many parts as \"removed\" and \"added\" account for; an error says where the resumed job cannot work with them"
	case len(lacks) == 1: // and as many that hold one too many
		return fmt.Sprintf("as many parts as expected, but one stands in %q instead of %q: put it back by hand, or correct the file", has[0], lacks[0])
	}
	return "as many parts as expected, but in other slots: put them back by hand, or correct the file"
}

func (s *State) done() string {
	return fmt.Sprintf("%q holds the part of transfer %d already: the job may resume with --from %d", s.To, s.Transfer, s.Transfer+1)
}

// ends is all slots that lack a part, and all that hold one too many.
func ends(differ []difference) (lacks, has []move.Target) {
	for _, d := range differ {
		lacks, has = append(lacks, d.gone...), append(has, d.more...)
	}
	return lacks, has
}

// holds reports whether a slot is among those that lack a part, and among those
// that hold one too many.
func holds(differ []difference, at move.Target) (gone, more bool) {
	lacks, has := ends(differ)
	return slices.Contains(lacks, at), slices.Contains(has, at)
}
