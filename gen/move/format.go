package move

import (
	"io"
	"strconv"
	"unicode/utf8"

	"gridferry/plan/wording"
)

// columns are the list's columns in their order; lines.go fills them. CSV writes
// them all, JSON lines leaves out those that do not apply.
var columns = [...]string{
	"n", "transfer", "leg", "action", "target", "frame",
	"x", "y", "z", "roll", "pitch", "yaw",
	"base_x", "base_y", "base_z", "base_roll", "base_pitch", "base_yaw",
	"speed", "fly_by",
	"tool", "load", "signal", "level", "seconds", "text", "line", "else", "id",
	"centre_x", "centre_y", "centre_z", "inertia_x", "inertia_y", "inertia_z",
}

// idColumn is the place of the part's id among the columns.
const idColumn = 28

// style is in what CSV and JSON lines differ.
type style struct {
	before [len(columns)]string               // what stands before a value
	absent string                             // what stands where a column does not apply
	end    string                             // what ends a line
	around string                             // what stands around every text
	odd    [256]bool                          // what a text is quoted for
	quote  func(b, text []byte) []byte        // writes such a text
	inert  func(b []byte, text string) []byte // writes a text so that nobody takes it for anything else
	joints func(l *lines, m *Move)            // writes the readings of joints and their configuration; nil where there is no arm
}

// WriteCSV writes the list as CSV (RFC 4180, with LF line ends) with a header. Of an arm it
// has a column for each of so many joints, and one for the configuration.
func WriteCSV(w io.Writer, joints int, moves Batches) error {
	csv := style{absent: ",", end: "\n", quote: appendCSVText, inert: wording.AppendInert}
	for _, c := range []byte(",\"\n\r") {
		csv.odd[c] = true
	}
	for i := range columns[1:] {
		csv.before[i+1] = ","
	}
	l := lines{style: &csv}
	for _, name := range columns {
		l.name(name)
	}
	if joints > 0 {
		for i := range joints {
			l.text = strconv.AppendInt(append(l.text, ",j"...), int64(i+1), 10)
		}
		l.text = append(l.text, ",configuration"...)
		csv.joints = func(l *lines, m *Move) { l.jointColumns(m, joints) }
	}
	l.text = append(l.text, csv.end...)
	return l.write(w, moves)
}

// WriteJSONL writes the list as JSON lines, one object a move, with the CSV's
// columns as keys; the readings of so many joints are one list.
func WriteJSONL(w io.Writer, joints int, moves Batches) error {
	json := style{end: "}\n", around: `"`, quote: appendJSONText, inert: func(b []byte, text string) []byte { return append(b, text...) }}
	for c := range json.odd {
		json.odd[c] = c < ' ' || c == '"' || c == '\\' || c >= 0x7f
	}
	for i, name := range columns {
		json.before[i] = `,"` + name + `":`
	}
	json.before[0] = "{" + json.before[0][1:]
	if joints > 0 {
		json.joints = func(l *lines, m *Move) { l.jointList(m, joints) }
	}
	l := lines{style: &json}
	return l.write(w, moves)
}

// appendCSVText quotes a field.
func appendCSVText(b, text []byte) []byte {
	b = append(b, '"')
	for _, c := range text {
		if c == '"' {
			b = append(b, '"')
		}
		b = append(b, c)
	}
	return append(b, '"')
}

// appendJSONText quotes a text as RFC 8259 asks.
func appendJSONText(b, text []byte) []byte {
	const hex = "0123456789abcdef"
	b = append(b, '"')
	for len(text) > 0 {
		c, size := utf8.DecodeRune(text)
		switch {
		case c == '"' || c == '\\':
			b = append(b, '\\', byte(c))
		case c < ' ' || c == 0x7f:
			b = append(b, '\\', 'u', '0', '0', hex[c>>4], hex[c&15])
		default:
			b = utf8.AppendRune(b, c)
		}
		text = text[size:]
	}
	return append(b, '"')
}
