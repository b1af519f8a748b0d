// Package npm lets parsers from outside the project read word-address
// programs: the npm packages gcode 0.4.0 and gcode-parser 2.2.0 (both MIT),
// through judge.js. They are set up once with
//
//	npm ci --ignore-scripts
//
// in this folder. Package outside has what becomes of tests where that has not been
// done.
package npm

import (
	"encoding/json"
	"fmt"
	"testing"

	"gridferry/golden/outside"
)

var judge = outside.Script{Folder: "npm", File: "judge.js", Packages: []string{"gcode", "gcode-parser"}}

// A Report is what the parsers make of a program; lines that are blank or hold
// only "%" are left out.
type Report struct{ Lines []Line }

// A Line is one line of the program, read twice.
type Line struct {
	Line    int // from 1
	Text    string
	Grammar Reading // by gcode
	Tokens  Reading // by gcode-parser
}

// A Reading is one parser's view of a line.
type Reading struct {
	Words []Word
	// Position maps each axis letter placed so far to its value after the
	// line, mm and degrees (G20, G21, G90, G91 followed).
	Position map[string]float64
	Error    string // "" when the parser accepts the line
}

// A Word is a letter and its number; N is left out.
type Word struct {
	Letter string
	Value  float64
}

// UnmarshalJSON reads ["X", 1.5].
func (w *Word) UnmarshalJSON(data []byte) error {
	return json.Unmarshal(data, &[]any{&w.Letter, &w.Value})
}

// Faults lists every refusal by line, a message each.
func (r Report) Faults() []string {
	var faults []string
	for _, l := range r.Lines {
		if l.Grammar.Error != "" {
			faults = append(faults, fmt.Sprintf("line %d %q: gcode: %s", l.Line, l.Text, l.Grammar.Error))
		}
		if l.Tokens.Error != "" {
			faults = append(faults, fmt.Sprintf("line %d %q: gcode-parser: %s", l.Line, l.Text, l.Tokens.Error))
		}
	}
	return faults
}

// Judge has the parsers read a program.
func Judge(t testing.TB, program string) Report {
	t.Helper()
	var report Report
	judge.Ask(t, program, &report)
	return report
}
