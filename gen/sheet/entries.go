package sheet

import (
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"gridferry/gen/layout"
	"gridferry/gen/slot"
	"gridferry/plan/wording"
)

// entries is the plan's list of transfers, a row each; of a resumed job, those of
// which something is left.
func (j *Job) entries() table {
	var t table
	over := 0
	for _, e := range j.Layout.Entries {
		if e.Parts == 0 {
			continue
		}
		first, last := e.Span()
		p := progress{e, max(0, j.Next-first)}
		if p.over() {
			over++
		} else {
			t.add(strconv.Itoa(e.Place.Line), strconv.Itoa(p.parts()), partNames(e), p.way(), p.span(first, last), strings.Join(append(p.underWay(), j.doings(e)...), "; "))
		}
	}
	t.keep(mostEntries, "entry")
	if over > 0 {
		t.Before = fmt.Sprintf("Of the plan's entries %s done, and of the others this is what is left:", wording.Number(over, "is", "are"))
	}
	return t
}

func partName(p *layout.Part) string {
	if p == nil {
		return "part"
	}
	return p.Name
}

func partNames(e *layout.Entry) string {
	var names []string
	for _, p := range e.Kinds() {
		names = append(names, p.Name)
	}
	if names == nil {
		return partName(nil)
	}
	return strings.Join(names, ", ")
}

// progress is an entry, and how many of its transfers are done.
type progress struct {
	*layout.Entry
	done int
}

func (p progress) over() bool { return p.done >= p.Transfers() }

// inLeg is how many transfers of a leg are done.
func (p progress) inLeg(leg int) int {
	if p.Listed != nil {
		return p.done
	}
	if p.ByPart {
		return (p.done + len(p.Legs) - 1 - leg) / len(p.Legs)
	}
	return min(p.Parts, max(0, p.done-leg*p.Parts))
}

// parts is how many parts have a way to go.
func (p progress) parts() int { return p.Parts - p.inLeg(len(p.Legs)-1) }

// way is the grids that the entry goes through, each with its slots: those that are
// still gone to.
func (p progress) way() string {
	if p.Listed != nil {
		return p.listed()
	}
	first := 0
	for p.inLeg(first) == p.Parts {
		first++
	}
	stops := []string{slots(&p.Legs[first].From, p.inLeg(first))}
	for i := first; i < len(p.Legs); i++ {
		stops = append(stops, slots(&p.Legs[i].To, p.inLeg(i)))
	}
	return strings.Join(stops, " → ")
}

// listed is the grids between which the lines of a worklist lead that are left.
func (p progress) listed() string {
	var from, to []string
	add := func(names *[]string, g *layout.Grid) {
		if !slices.Contains(*names, g.Name) {
			*names = append(*names, g.Name)
		}
	}
	for part := p.done; part < p.Parts; part++ {
		leg := &p.Legs[p.Listed.LegOf(part)]
		add(&from, leg.From.Grid)
		add(&to, leg.To.Grid)
	}
	const most = 6
	return fmt.Sprintf("%s → %s, by the worklist %s", wording.List(from, most), wording.List(to, most), path.Base(p.Listed.File))
}

// underWay says where a part goes on that made some of its legs before the others
// begin.
func (p progress) underWay() []string {
	leg := p.done % p.PerPart()
	if !p.ByPart || leg == 0 {
		return nil
	}
	c := p.Legs[leg].From.Cursor()
	at, _ := c.Next()
	for range p.inLeg(leg) {
		at, _ = c.Next()
	}
	g := p.Legs[leg].From.Grid
	return []string{"the first part goes on from " + g.Name + " " + g.Label(at)}
}

// span is the transfers that are left, and which are not.
func (p progress) span(first, last int) string {
	if p.done == 0 {
		return span(first, last)
	}
	return fmt.Sprintf("%s (of %s)", span(first+p.done, last), span(first, last))
}

func span(first, last int) string {
	if first == last {
		return strconv.Itoa(first)
	}
	return fmt.Sprintf("%d to %d", first, last)
}

// slots names a sequence by its first and last slot, without so many that are done.
func slots(s *layout.Sequence, done int) string {
	var first, last slot.Slot
	n := -done
	for at := range s.All() {
		if n == 0 {
			first = at
		}
		last = at
		n++
	}
	label := s.Grid.Label
	switch {
	case n <= 0:
		return s.Grid.Name
	case n == 1 || first == last:
		return s.Grid.Name + " " + label(last)
	case n == 2:
		return s.Grid.Name + " " + label(first) + ", " + label(last)
	}
	return s.Grid.Name + " " + label(first) + " … " + label(last)
}
