package diag

import (
	"encoding/json"
	"io"
)

// jsonFinding is a finding as programs read it. Keys that do not apply are left out: a finding without a place has no file,
// line or column.
type jsonFinding struct {
	File     string     `json:"file,omitempty"`
	Line     int        `json:"line,omitempty"`
	Column   int        `json:"column,omitempty"`
	Severity string     `json:"severity"`
	Rule     string     `json:"rule"`
	Message  string     `json:"message"`
	Hint     string     `json:"hint,omitempty"`
	Notes    []jsonNote `json:"notes,omitempty"`
	Help     string     `json:"help"`
}

type jsonNote struct {
	File    string `json:"file,omitempty"`
	Line    int    `json:"line,omitempty"`
	Column  int    `json:"column,omitempty"`
	Message string `json:"message"`
}

// PrintJSON writes findings as one JSON array, an empty one for none.
func PrintJSON(w io.Writer, fs []Finding) error {
	out := make([]jsonFinding, 0, len(fs))
	for _, f := range fs {
		out = append(out, toJSON(f))
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(out)
}

func toJSON(f Finding) jsonFinding {
	out := jsonFinding{
		File: f.Place.File, Line: f.Place.Line, Column: f.Place.Col,
		Severity: f.Severity.String(), Rule: f.Rule, Message: f.Message, Hint: f.Hint,
		Help: HelpCommand(f.Rule),
	}
	for _, n := range f.Notes {
		out.Notes = append(out.Notes, jsonNote{n.Place.File, n.Place.Line, n.Place.Col, n.Message})
	}
	return out
}
