package nest

import (
	"iter"
	"slices"
	"strconv"

	"gridferry/gen/layout"
	"gridferry/gen/loops"
	"gridferry/gen/slot"
)

// job is what the loops of a layout are written from: for every entry, which routines
// are called in which groups.
type job struct {
	*book
	entries []entry
	last    *layout.Figures // by which the arm leaves the last grid
}

type entry struct {
	*layout.Entry
	change *loops.Change // of the tool before it; nil for none
	passes []pass
	lines  []pass // of a worklist, by its legs: how the lines along each are carried
}

// pass is loops in which every part makes some legs.
type pass struct {
	caller
	legs  []layout.Leg
	known map[string][]carrying // what is done with a group, by how it is carried
}

// mostKnown bounds how many of these are kept: there may be as many as groups.
const mostKnown = 100

// carried is what is done with a group of n parts.
func (p *pass) carried(n int, same []bool) []carrying {
	key := []byte(strconv.Itoa(n))
	for _, s := range same {
		key = strconv.AppendBool(key, s)
	}
	if known, ok := p.known[string(key)]; ok {
		return known
	}
	if len(p.known) == mostKnown {
		clear(p.known)
	}
	p.known[string(key)] = p.carry(p.legs, n, same)
	return p.known[string(key)]
}

// stretch is groups that are all carried alike, one behind the other.
type stretch struct {
	groups [2]int // the first and the last one, from 1
	parts  int    // of each
	last   bool   // there are no more groups
	legs   []carrying
}

type carrying struct{ take, put []call }

// call is what is done at a slot of a stop: the routine, and the steps before and behind it.
type call struct {
	routine, come, back string // labels; "" for none
	pick                bool
	grouped             bool
	part                int // of the group, from 0
	before              []layout.Step
	loaded              bool // a part is held before it
	then                []layout.Step
	after               bool // a part is held behind it
	by                  *layout.Figures
}

func newJob(l *layout.Layout) *job {
	j := &job{book: newBook(l), last: l.Figures(nil, nil)}
	known := map[*layout.Tool]bool{} // grippers that were opened once
	var on *layout.Tool
	for _, e := range l.Entries {
		out := entry{Entry: e}
		if e.Parts > 0 {
			by := l.Figures(e, e.Stops[0].Grid)
			if on != nil && on != by.Tool {
				out.change = j.change(layout.Change{Entry: e, From: on, To: by.Tool, By: by})
				for t := range known {
					if t.Beside(by.Tool) {
						delete(known, t)
					}
				}
			}
			on = by.Tool
			if out.passes = j.passes(e, known); e.Listed != nil {
				out.lines, out.passes = out.passes, nil
			}
			j.last = l.Figures(e, e.LastLeg().To.Grid)
		}
		j.entries = append(j.entries, out)
	}
	return j
}

// change is a change of tool, with the routines for it.
func (b *book) change(c layout.Change) *loops.Change {
	return &loops.Change{
		From: c.From.Whole(), To: c.To.Whole(), Home: b.homeWith(c.By, c.From), ByHand: c.ByHand(), Near: c.By.Near.V, First: nameOf(c.To), Asks: b.empty(c.To),
		Leave: b.toolSteps("leave", c.From, c.From.LeavePlace, c.From.Leave, c.By), Fetch: b.toolSteps("fetch", c.To, c.To.FetchPlace, c.To.Fetch, c.By),
	}
}

// passes are the loops of an entry: one after the other for each leg, or one for all.
func (b *book) passes(e *layout.Entry, known map[*layout.Tool]bool) []pass {
	t, of := b.l.Figures(e, e.Stops[0].Grid).Tool, zonesOf(e)
	open := 0
	for open < of && known[t.Zone(open)] {
		open++
	}
	if open == of { // all are open
		open = 0
	}
	for i := range of {
		known[t.Zone(i)] = true
	}
	c := caller{b, e, of, open}
	if e.ByPart || e.Listed == nil && len(e.Legs) == 1 {
		return c.passing(e.Legs)
	}
	var all []pass
	for i := range e.Legs {
		all = append(all, c.passing(e.Legs[i:i+1])...)
	}
	return all
}

// passing is a pass over some legs, whose routines are noted.
func (c caller) passing(legs []layout.Leg) []pass {
	p := pass{c, legs, map[string][]carrying{}}
	for range p.stretches() {
	}
	return []pass{p}
}

// zonesOf is how many zones an entry carries parts in; 1 where its tool has none.
func zonesOf(e *layout.Entry) int { return min(e.AtOnce, e.Parts) }

// caller finds the routines of an entry.
type caller struct {
	*book
	e    *layout.Entry
	of   int // zones in which parts are carried
	open int // the first of them that is to be opened
}

// stretches are the groups of a pass, those behind each other that are alike put together.
// They are found as they are asked for: there may be as many as groups.
func (p *pass) stretches() iter.Seq[stretch] {
	if p.of == 1 {
		return slices.Values([]stretch{{[2]int{1, p.e.Parts}, 1, true, p.carried(1, make([]bool, 2*len(p.legs)))}})
	}
	return func(yield func(stretch) bool) {
		var stops []layout.Cursor
		for i := range p.legs {
			stops = append(stops, p.legs[i].From.Cursor(), p.legs[i].To.Cursor())
		}
		var now stretch
		same, before := make([]bool, len(stops)), make([]bool, len(stops))
		for group, left := 1, p.e.Parts; left > 0; group, left = group+1, left-p.of {
			n := min(left, p.of)
			for i := range stops {
				same[i] = p.together(&p.legs[i/2], i%2 == 1, next(&stops[i], n))
			}
			if now.parts == n && slices.Equal(before, same) {
				now.groups[1] = group
				continue
			}
			if now.parts > 0 && !yield(now) {
				return
			}
			now = stretch{groups: [2]int{group, group}, parts: n, legs: p.carried(n, same)}
			copy(before, same)
		}
		now.last = true
		yield(now)
	}
}

// next is the next n slots of a stop.
func next(c *layout.Cursor, n int) []slot.Slot {
	var slots []slot.Slot
	for range n {
		at, _ := c.Next()
		slots = append(slots, at)
	}
	return slots
}

// together reports whether a group is picked, or placed, in one descent.
func (c caller) together(l *layout.Leg, put bool, slots []slot.Slot) bool {
	g := l.From.Grid
	if put {
		g = l.To.Grid
	}
	return len(slots) == 1 || c.l.Figures(c.e, g).Tool.InOneDescent(g, slots)
}

// carry is the calls for a group of n parts.
func (c caller) carry(legs []layout.Leg, n int, same []bool) []carrying {
	var all []carrying
	for i := range legs {
		l := &legs[i]
		first := l == &c.e.Legs[0]
		all = append(all, carrying{
			c.calls(side{l.From.Grid, true, first, l.OverFrom, l.Taken}, n, same[2*i]),
			c.calls(side{l.To.Grid, false, false, l.OverTo, l.Put}, n, same[2*i+1]),
		})
	}
	return all
}

// side is one end of a leg.
type side struct {
	grid         *layout.Grid
	pick, first  bool // of the entry's first leg
	before, then []layout.Step
}

func (c caller) calls(s side, n int, same bool) []call {
	by := c.l.Figures(c.e, s.grid)
	if same || n == 1 {
		return []call{c.call(s, by, 0, n, n)}
	}
	var all []call
	for i := range n {
		all = append(all, c.call(s, by, i, 1, n))
	}
	return all
}

// call is one of a group's descents, with n zones of the tool from one on.
func (c caller) call(s side, by *layout.Figures, from, n, group int) call {
	k := work{by, s.grid, from, n, from, n, c.of}
	if s.first && from == 0 {
		k.open, k.many = c.open, c.of-c.open
	}
	out := call{
		pick: s.pick, grouped: c.of > 1, part: from, before: s.before, then: s.then, by: by,
		loaded: !s.pick || from > 0, after: s.pick || from+n < group,
	}
	verb, come, back := loops.Pick, loops.ComePick, loops.BackPick
	if !s.pick {
		verb, come, back = loops.Put, loops.ComePut, loops.BackPut
	}
	if len(s.before) > 0 {
		out.come = c.routine(come, k)
		if slices.ContainsFunc(s.before, func(s layout.Step) bool { return s.Kind.IsMotion() }) {
			out.back = c.routine(back, k)
		}
	}
	out.routine = c.routine(verb, k)
	return out
}
