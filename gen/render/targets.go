package render

import (
	"gridferry/gen/family/blocks"
	"gridferry/gen/move"
)

// targets writes what moves go to, where a block of the family asks for it. It
// remembers the last ones: a transfer goes to the same two slots again and again.
type targets struct {
	wanted, placesWanted bool // some block asks for Target, for Place
	texts                texts
	buf                  []byte
	known                [16]namedTarget
}

// namedTarget is a slot or a pose in both its forms.
type namedTarget struct {
	at    move.Target // not the point above it
	alone blocks.Text
	above blocks.Text
}

func newTargets(f *blocks.Blocks) targets {
	return targets{wanted: f.Mentions("Target"), placesWanted: f.Mentions("Place")}
}

// text is the target as lists show it.
func (t *targets) text(at *move.Target) blocks.Text {
	switch {
	case !t.wanted:
		return blocks.Text{}
	case at.Approach:
		return t.find(at).above
	}
	return t.find(at).alone
}

// place is the target without the word for the point above it.
func (t *targets) place(at *move.Target) blocks.Text {
	if !t.placesWanted {
		return blocks.Text{}
	}
	return t.find(at).alone
}

// find gives a target the one place where it can be remembered.
func (t *targets) find(at *move.Target) *namedTarget {
	k := &t.known[(int(at.Slot.Row)+int(at.Slot.Col)+int(at.Slot.Layer)+len(at.Grid)+2*len(at.Pose))%len(t.known)]
	if k.at.Slot != at.Slot || k.at.Grid != at.Grid || k.at.Pose != at.Pose || k.at.Layered != at.Layered {
		*k = namedTarget{at: *at}
		k.at.Approach = true
		k.above = t.write(&k.at)
		k.at.Approach = false
		k.alone = t.write(&k.at)
	}
	return k
}

func (t *targets) write(at *move.Target) blocks.Text {
	t.buf = at.Append(t.buf[:0])
	return blocks.NewText(t.texts.keep(t.buf))
}
