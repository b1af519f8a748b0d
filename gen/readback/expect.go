package readback

import (
	"iter"

	"gridferry/gen/family"
	"gridferry/gen/move"
)

// Expected is one line that the program has to have: a move and, for a select
// that is told in several lines, which change it is about.
type Expected struct {
	Move move.Move
	When string
}

// expected goes through the moves that the program tells, a line each.
func expected(reads *family.Reads, moves move.Seq) iter.Seq[Expected] {
	whens := reads.Whens()
	tells := map[move.Kind]bool{}
	for _, kind := range move.Kinds {
		tells[kind] = kind != move.Note && reads.Knows(kind)
	}
	return func(yield func(Expected) bool) {
		var before move.Move
		for m := range moves {
			if m.Kind == move.Select {
				for _, when := range whens {
					if changes(&before, &m, when) && !yield(Expected{m, when}) {
						return
					}
				}
				before = m
			} else if tells[m.Kind] && !yield(Expected{m, ""}) {
				return
			}
		}
	}
}

// changes tells whether a select makes that change; before the first there is
// the zero move.
func changes(before, m *move.Move, when string) bool {
	switch when {
	case family.WhenFrame:
		return before.Kind == 0 || before.FrameNumber != m.FrameNumber
	case family.WhenLoad:
		return before.Kind == 0 || before.ToolNumber != m.ToolNumber || before.Load != m.Load
	case family.WhenTool:
		return before.Kind != 0 && before.ToolNumber != m.ToolNumber
	}
	return true
}
