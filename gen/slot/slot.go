// Package slot names the places of a grid: row letters, a column number and,
// where the grid has several layers, a dot and the layer number. Inside, all
// three count from 0; outside, from A and 1.
package slot

import (
	"strconv"
	"strings"
)

// MaxRows is the largest number of rows a label can keep apart in practice:
// three letters, A to ZZZ.
const MaxRows = 26 + 26*26 + 26*26*26

// Slot is one place of a grid, counted from 0 in each direction.
type Slot struct{ Row, Col, Layer int32 }

// Label writes the slot as people do: "A1", "AB3", or "B2.3" when layered.
func (s Slot) Label(layered bool) string {
	return string(s.AppendLabel(nil, layered))
}

// AppendLabel is Label without the allocation.
func (s Slot) AppendLabel(b []byte, layered bool) []byte {
	b = appendLetters(b, int(s.Row))
	b = strconv.AppendInt(b, int64(s.Col)+1, 10)
	if layered {
		b = append(b, '.')
		b = strconv.AppendInt(b, int64(s.Layer)+1, 10)
	}
	return b
}

// Letters names row i, counted from 0: A … Z, AA … AZ, BA … as the columns of
// a spreadsheet are named.
func Letters(i int) string { return string(appendLetters(nil, i)) }

func appendLetters(b []byte, i int) []byte {
	if i >= 26 {
		b = appendLetters(b, i/26-1)
	}
	return append(b, byte('A'+i%26))
}

// Label is a slot as it was written: HasLayer keeps "B2.3" from "B2".
type Label struct {
	Slot
	HasLayer bool
}

// Parse reads one label. Lower-case letters and a padded column number ("a01")
// mean the same slot as "A1"; false when the text is no label at all.
func Parse(text string) (Label, bool) {
	letters := strings.IndexFunc(text, func(r rune) bool { return !isLetter(r) })
	if letters < 1 {
		return Label{}, false
	}
	row, ok := parseLetters(text[:letters])
	if !ok {
		return Label{}, false
	}
	column, layer, layered := strings.Cut(text[letters:], ".")
	label := Label{Slot: Slot{Row: row}, HasLayer: layered}
	if label.Col, ok = parseIndex(column); !ok {
		return Label{}, false
	}
	if layered {
		if label.Layer, ok = parseIndex(layer); !ok {
			return Label{}, false
		}
	}
	return label, true
}

func isLetter(r rune) bool { return 'A' <= r && r <= 'Z' || 'a' <= r && r <= 'z' }

// parseLetters turns row letters into a row counted from 0.
func parseLetters(letters string) (int32, bool) {
	if len(letters) > 3 {
		return 0, false
	}
	row := int32(0)
	for _, c := range strings.ToUpper(letters) {
		row = row*26 + int32(c-'A') + 1
	}
	return row - 1, true
}

// parseIndex turns a number counted from 1 into one counted from 0.
func parseIndex(digits string) (int32, bool) {
	if digits == "" || len(digits) > 9 || strings.ContainsFunc(digits, func(c rune) bool { return c < '0' || c > '9' }) {
		return 0, false
	}
	n, err := strconv.Atoi(digits)
	if err != nil || n < 1 {
		return 0, false
	}
	return int32(n - 1), true
}
