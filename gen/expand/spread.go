package expand

import "gridferry/gen/move"

// spreads remembers the last few spreads of loads, so that moves alike share one: without and with
// a part is all that most jobs have.
type spreads struct {
	last [4]*move.Spread
	next int
}

// of is a spread that stands in one place; nil for one of which nothing is known.
func (s *spreads) of(spread move.Spread) *move.Spread {
	if spread == (move.Spread{}) {
		return nil
	}
	for _, known := range s.last {
		if known != nil && *known == spread {
			return known
		}
	}
	own := spread
	s.last[s.next] = &own
	s.next = (s.next + 1) % len(s.last)
	return &own
}
