package diag

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
	Notes    []Note
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
