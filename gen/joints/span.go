package joints

import (
	"gridferry/gen/arm"
	"gridferry/gen/move"
)

// mask is a set of configurations, by their indexes.
type mask uint8

// all is every configuration.
const all mask = 0xff

// span is motions in which the configuration cannot change, with those that serve for all of them: a
// travel and the straights behind it. Spans that are alike are one, as long as an entry goes on.
type span struct {
	first int  // the number of its first move
	entry int  // that it belongs to, from 0
	serve mask // 0 where none does
}

// server knows which configurations serve for which poses.
type server struct {
	*bench
	choice *Choice
	masks  map[spot]mask
	found  []arm.Solution
	only   bool // the configuration that the cell prefers is asked for, and no other
	likely mask // what has served since nothing did any more: the first choice of these mostly comes to be chosen
}

// spans divides a list into spans.
func (c *Choice) spans(moves move.Batches) []span {
	b := c.b
	serves := server{bench: b, choice: c, masks: map[spot]mask{}, likely: all}
	var spans []span
	var now span
	ends := func() {
		if now.first == 0 {
			return
		}
		if n := len(spans); n > 0 && spans[n-1].serve == now.serve && spans[n-1].entry == now.entry {
			return
		}
		spans = append(spans, now)
	}
	entry := 0
	for piece := range moves {
		for i := range piece {
			m := &piece[i]
			if !m.Kind.IsMotion() {
				continue
			}
			if _, e := b.layout.EntryOf(m.Transfer); e >= 0 {
				entry = e
			}
			if m.Kind == move.Travel || now.first == 0 {
				ends()
				now = span{first: m.N, entry: entry, serve: all}
			}
			now.serve &= serves.at(m)
		}
	}
	ends()
	return spans
}

// at is the configurations in which the arm can end a motion, and which the plan admits there.
func (b *server) at(m *move.Move) mask {
	asked := b.asked(m)
	if r := b.asJoints(m); r != nil {
		return asked & b.maskOf(*r)
	}
	at := spotOf(m)
	known, ok := b.masks[at]
	if !ok {
		known = b.solvable(&at)
		if len(b.masks) < mostSpots {
			b.masks[at] = known
			b.remember(&at, asked&known)
		}
	}
	return asked & known
}

// remember keeps, for the passes behind, the solution that was just found of a pose, in the configuration that is likely to be
// chosen: where that is only one.
func (b *server) remember(at *spot, serve mask) {
	if b.likely &= serve; b.likely == 0 {
		b.likely = serve
	}
	if b.likely == 0 || !b.settled {
		return
	}
	index, only := b.preferred(b.likely), -1
	for i := range b.found {
		r, ok := b.arm.InRange(b.found[i].Readings, arm.Readings{})
		switch {
		case !ok || b.maskOf(r)>>index&1 == 0:
		case only >= 0 || b.found[i].Free != 0:
			return
		default:
			only = i
		}
	}
	b.choice.remember(&taken{*at, index}, b.place(b.found[only].Readings, index))
}

// asked is the configurations that the figures of a motion admit.
func (b *bench) asked(m *move.Move) mask {
	f := b.layout.FiguresOf(m)
	if f.ConfigurationPlace.IsZero() {
		return all
	}
	return 1 << f.Configuration.Index()
}

// solvable is the configurations of all solutions inside the ranges.
func (b *server) solvable(at *spot) (serve mask) {
	b.found = b.solve(at, arm.Readings{}, b.only, b.found[:0])
	for i := range b.found {
		if r, ok := b.arm.InRange(b.found[i].Readings, arm.Readings{}); ok {
			serve |= b.maskOf(r)
		}
	}
	return serve
}

// maskOf is the configuration of some readings; on the edge between two, both.
func (b *bench) maskOf(r arm.Readings) mask {
	c, either := b.arm.Configuration(r)
	set := mask(0)
	for which := range uint8(8) {
		if which&^either != 0 {
			continue
		}
		edge := c
		for factor := range 3 {
			if which>>factor&1 == 1 {
				edge = edge.With(factor, true)
			}
		}
		set |= 1 << edge.Index()
	}
	return set
}
