package reads

import (
	"hash/maphash"

	"gridferry/gen/move"
)

// memory is how the last lines read: half of a program's lines are among a few that
// come again and again, and what a line says depends on nothing but its words and
// the section that it stands in.
type memory struct {
	lines [256]reading
}

// reading is a line that an entry fitted.
type reading struct {
	section, text string
	entry         *Entry
	kind          move.Kind
	values        Values
}

var seed = maphash.MakeSeed()

func (m *memory) at(text []byte) *reading {
	return &m.lines[maphash.Bytes(seed, text)%uint64(len(m.lines))]
}

// of is how a line reads; nil where that is not remembered.
func (m *memory) of(section string, text []byte) *reading {
	if k := m.at(text); k.text == string(text) && k.section == section {
		return k
	}
	return nil
}

func (m *memory) keep(section string, e *Entry, item *Item) {
	*m.at(item.Text) = reading{section, string(item.Text), e, item.Kind, item.Values}
}
