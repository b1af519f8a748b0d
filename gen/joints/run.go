package joints

import (
	"cmp"
	"math/bits"

	"gridferry/gen/move"
)

// run is a part of the list that is made in one configuration, by its index.
type run struct {
	first int // the number of its first move
	index int
}

// item is spans that keep one configuration if any serves for all of them: those of an entry.
type item struct {
	first int
	serve mask
}

// chosen divides the list into as few runs as there can be: an entry that one configuration serves is not
// divided, and each run goes on as long as one serves. Of several that go as far, the one before is kept, else
// the one that is preferred.
func chosen(b *bench, spans []span) []run {
	var runs []run
	items := itemsOf(spans)
	for i := 0; i < len(items); {
		serve, next := items[i].serve, i+1
		for ; next < len(items) && serve&items[next].serve != 0; next++ {
			serve &= items[next].serve
		}
		if serve == 0 { // nothing serves: it is found at the motion that cannot be made
			serve = all
		}
		index := b.preferred(serve)
		if n := len(runs); n > 0 && serve>>runs[n-1].index&1 == 1 {
			index = runs[n-1].index
		}
		if n := len(runs); n == 0 || runs[n-1].index != index {
			runs = append(runs, run{items[i].first, index})
		}
		i = next
	}
	return runs
}

// wholly is one run in the configuration that the cell prefers, if that serves for every motion: it is the one that would be chosen of
// all then. Nil where it does not, or where to ask for it alone would spare nothing. Mostly it does, and to choose takes
// 0.56 times the work.
func (c *Choice) wholly(moves move.Batches) []run {
	if !c.b.arm.SolvesIn() {
		return nil
	}
	index, first := c.b.layout.Arm.Prefer.Index(), 0
	serves := server{bench: c.b, choice: c, masks: map[spot]mask{}, likely: 1 << index, only: true}
	for piece := range moves {
		for i := range piece {
			m := &piece[i]
			if !m.Kind.IsMotion() {
				continue
			}
			if serves.at(m)>>index&1 == 0 {
				return nil
			}
			first = cmp.Or(first, m.N)
		}
	}
	return []run{{first, index}}
}

// itemsOf is the entries and, of those for which no configuration serves, their spans.
func itemsOf(spans []span) []item {
	var items []item
	for len(spans) > 0 {
		n, serve := 0, all
		for n < len(spans) && spans[n].entry == spans[0].entry {
			serve &= spans[n].serve
			n++
		}
		if serve != 0 {
			items = append(items, item{spans[0].first, serve})
		} else {
			for _, s := range spans[:n] {
				items = append(items, item{s.first, s.serve})
			}
		}
		spans = spans[n:]
	}
	return items
}

// preferred is the configuration of a set that has most of the words that the cell prefers; of equals the first.
func (b *bench) preferred(serve mask) int {
	best, most := 0, -1
	for index := range 8 {
		if serve>>index&1 == 0 {
			continue
		}
		if alike := 3 - bits.OnesCount8(uint8(index^b.layout.Arm.Prefer.Index())); alike > most {
			best, most = index, alike
		}
	}
	return best
}
