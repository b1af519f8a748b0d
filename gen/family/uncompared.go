package family

import (
	"gridferry/gen/family/reads"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// RuleNoReadBack is a family that says nothing about how its lines read, or nothing
// about some kind of move.
const RuleNoReadBack = "no-read-back"

// Uncompared is what the lines of a kind of move say and nobody compares.
type Uncompared struct {
	Kind   move.Kind
	Fields []reads.Field
}

// NotCompared lists, by kind of move, the fields that a family's blocks put into a
// program outside of comments and that its entries under "reads" do not read: a mistake
// in one of those goes unseen. Of kinds that no entry reads at all, and of a family
// without entries, WarnUnread warns; neither is listed but for selects.
func (f *Family) NotCompared() []Uncompared {
	if f.Loops || !f.Reads.Has() {
		return nil
	}
	var all []Uncompared
	modal, probe := reads.NewModal(&f.Reads), newOutputProbe(f)
	for _, kind := range move.Kinds {
		if !f.Has(kind.String()) || kind != move.Select && !f.Reads.Knows(kind) {
			continue
		}
		u := Uncompared{Kind: kind}
		for rest := reads.About(kind) &^ modal.ComparedOf(kind); rest != 0; rest &= rest - 1 {
			if field := rest.First(); probe.affects(kind, viewFields[field]...) {
				u.Fields = append(u.Fields, field)
			}
		}
		if u.Fields != nil {
			all = append(all, u)
		}
	}
	return all
}

// WarnUnread says what of a family's programs is not read back.
func (f *Family) WarnUnread(list *diag.List) {
	if f.Loops {
		return // no controller reads loops, and nothing in them is a single move
	}
	at := diag.Place{File: f.Label + "/" + rules.File}
	if !f.Reads.Has() {
		list.Warnf(RuleNoReadBack, at, "the family does not say how its lines read, so that its programs are not read back").
			WithHint("add \"reads\" to %s; see templates/AUTHORING.md", rules.File)
		return
	}
	for _, kind := range move.Kinds {
		_, cannot := f.Cannot[kind.String()]
		if !cannot && kind != move.Note && kind != move.Select && !f.Reads.Knows(kind) {
			list.Warnf(RuleNoReadBack, f.Reads.Place, "\"reads\" does not say how %q reads, so that it is not read back", kind).
				WithHint("add an entry with \"is: %s\"", kind)
		}
	}
}
