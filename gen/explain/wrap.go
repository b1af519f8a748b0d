package explain

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// visible is diag.Visible with blanks for tabs, which would upset the columns.
func visible(text string) string { return diag.Visible(strings.ReplaceAll(text, "\t", " ")) }

// wrap is wording.Wrap for what a terminal shows; a word that is longer than a line
// is cut into pieces.
func wrap(text string, width int) []string {
	var pieces []string
	for _, word := range strings.Fields(visible(text)) {
		for piece := range slices.Chunk([]rune(word), width) {
			pieces = append(pieces, string(piece))
		}
	}
	return wording.Wrap(strings.Join(pieces, " "), width)
}

// hang is wrap with a number before the first line and blanks before the others.
func hang(number, text string, width int) []string {
	lines := wrap(text, width-len(number))
	if len(lines) == 0 {
		return []string{number}
	}
	for i := range lines {
		if i == 0 {
			lines[i] = number + lines[i]
		} else {
			lines[i] = strings.Repeat(" ", len(number)) + lines[i]
		}
	}
	return lines
}

// setIn is a line with a number before it as it stands or, where that is too
// wide, broken, with the blanks at its start before every piece.
func setIn(number, text string, width int) []string {
	if utf8.RuneCountInString(number+text) <= width {
		return []string{number + text}
	}
	indent := text[:len(text)-len(strings.TrimLeft(text, " "))]
	if len(number)+len(indent) > width/2 {
		indent = ""
	}
	return hang(number+indent, text, width)
}

// column is a text in a column: shortened, or with blanks behind it.
func column(text string, width int) string {
	return fmt.Sprintf("%-*s", width, wording.Shorten(text, width))
}
