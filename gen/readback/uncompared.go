package readback

import (
	"gridferry/gen/family"
	"gridferry/gen/family/reads"
	"gridferry/gen/move"
)

// Uncompared is what the lines of a kind of move say and nobody compares.
type Uncompared struct {
	Kind   move.Kind
	Fields []reads.Field
}

// NotCompared lists, by kind of move, the fields that a family's blocks put into a
// program outside of comments and that its entries under "reads" do not read: a mistake
// in one of those goes unseen. Kinds that no entry reads at all are told by Warn, and so
// is a family without entries; neither is listed but for selects.
func NotCompared(f *family.Family) []Uncompared {
	if f.Loops || !f.Reads.Has() {
		return nil
	}
	var all []Uncompared
	state, sway := newState(&f.Reads), newSwayer(f)
	for _, kind := range move.Kinds {
		if !f.Has(kind.String()) || kind != move.Select && !f.Reads.Knows(kind) {
			continue
		}
		u := Uncompared{Kind: kind}
		known := state.known[kind]
		if kind == move.Select {
			known |= state.known[frameSelect] | state.known[loadSelect] | state.known[toolSelect]
		}
		for rest := reads.About(kind) &^ known; rest != 0; rest &= rest - 1 {
			if field := first(rest); sway.sways(kind, viewFields[field]...) {
				u.Fields = append(u.Fields, field)
			}
		}
		if u.Fields != nil {
			all = append(all, u)
		}
	}
	return all
}
