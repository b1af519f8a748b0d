package render

import (
	"gridferry/gen/family/blocks"
	"gridferry/gen/move"
)

// targets writes what moves go to, where a block of the family asks for it.
type targets struct {
	wanted, placesWanted bool // some block asks for Target, for Place
	texts                texts
	buf                  []byte
}

func newTargets(f *blocks.Blocks) targets {
	return targets{wanted: f.Mentions("Target"), placesWanted: f.Mentions("Place")}
}

// text is the target as lists show it.
func (t *targets) text(at *move.Target) blocks.Text {
	if !t.wanted {
		return blocks.Text{}
	}
	return t.write(at)
}

// place is the target without the word for the point above it.
func (t *targets) place(at *move.Target) blocks.Text {
	if !t.placesWanted {
		return blocks.Text{}
	}
	return t.slot(*at)
}

// slot is place where no block was asked.
func (t *targets) slot(at move.Target) blocks.Text {
	at = at.Below()
	return t.write(&at)
}

func (t *targets) write(at *move.Target) blocks.Text {
	t.buf = at.Append(t.buf[:0])
	return blocks.NewText(t.texts.keep(t.buf))
}
