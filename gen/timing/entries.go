package timing

import "gridferry/gen/move"

// EntryTime is all moves of one entry of the plan, or of several.
type EntryTime struct {
	Moves   int
	Seconds float64
	Waits   int // whose length is unknown
	Hands   int // changes of tool by hand
}

// Clock is how long it takes, with what nobody knows the length of.
func (e *EntryTime) Clock() string { return Lasts(e.Seconds, e.Waits, e.Hands) }

func (e *EntryTime) add(t *Timed) {
	e.Moves++
	e.Seconds += t.Seconds
	switch t.Unknown {
	case Wait:
		e.Waits++
	case Hand:
		e.Hands++
	case Nothing, Start, Turning: // which take no time that anybody would ask for
	}
}

// Entries is the time of the whole list, and of each of so many entries of the plan: entry says whose a transfer is, from 0, or
// -1 for none.
func Entries(moves move.Batches, m Machine, entries int, entry func(transfer int) int) (whole EntryTime, each []EntryTime) {
	each = make([]EntryTime, entries)
	for t := range Times(moves, m) {
		whole.add(&t)
		if i := entry(t.Move.Transfer); i >= 0 {
			each[i].add(&t)
		}
	}
	return whole, each
}
