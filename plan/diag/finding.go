package diag

import "slices"

// Severity says whether a finding is an error or a warning. The zero value is invalid.
type Severity uint8

// The severities.
const (
	_       Severity = iota
	Error            // nothing is written while there is one
	Warning          // worth reading, stops nothing
)

// String gives the word that is printed.
func (s Severity) String() string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	}
	return "invalid severity"
}

// Note points at a second place that has to do with a finding.
type Note struct {
	Place   Place
	Message string
}

// Finding is one mistake: at one place, under one rule, with one message. The rules for wording stand at the top of print.go.
type Finding struct {
	Severity Severity
	Rule     string // kebab-case, such as "slot-outside-grid"
	Place    Place
	Message  string
	Hint     string // what to do about it; may be empty
	Fix      Fix    // the same as an edit, where it is one
	Notes    []Note
	Slots    []Slot // that the message names, and those of findings that were folded into it
}

// Slot is a slot of a grid, by their names.
type Slot struct{ Grid, Slot string }

// slotted is a value in a message that is a slot of a grid; the grid is "" where it is something else.
type slotted interface{ InGrid() (grid, slot string) }

// mostSlots is how many slots a finding keeps.
const mostSlots = 200

// Concerns takes the slots among the values of a message.
func (f *Finding) Concerns(args ...any) {
	for _, arg := range args {
		one, is := arg.(slotted)
		if !is || len(f.Slots) >= mostSlots {
			continue
		}
		if grid, slot := one.InGrid(); grid != "" && !slices.Contains(f.Slots, Slot{grid, slot}) {
			f.Slots = append(f.Slots, Slot{grid, slot})
		}
	}
}

// WithHint sets the advice and returns f.
func (f *Finding) WithHint(format string, args ...any) *Finding {
	f.Hint = words(format, args)
	return f
}

// WithNote adds a note at p and returns f.
func (f *Finding) WithNote(p Place, format string, args ...any) *Finding {
	f.Notes = append(f.Notes, Note{Place: p, Message: words(format, args)})
	return f
}
