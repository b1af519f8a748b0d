package diag

import (
	"fmt"
	"strings"
	"unicode"
)

// visible returns text with every character that could move the cursor, change colours or reorder the line written out, so
// that a terminal shows it and does not obey it.
func visible(text string) string {
	var b strings.Builder
	for _, r := range text {
		b.WriteString(visibleRune(r))
	}
	return b.String()
}

// visibleRune returns r itself if it prints, otherwise its escape: \x1b, \u202e, \U000e0001.
//
// unicode.IsPrint is false for control and format characters (which include all that reorder text), for line and paragraph
// separators, and for blanks other than the common one.
func visibleRune(r rune) string {
	switch {
	case unicode.IsPrint(r):
		return string(r)
	case r < 0x80:
		return fmt.Sprintf(`\x%02x`, r)
	case r <= 0xffff:
		return fmt.Sprintf(`\u%04x`, r)
	}
	return fmt.Sprintf(`\U%08x`, r)
}

// wide lists the blocks whose characters take two columns of a terminal (East Asian Width W and F, Unicode Standard Annex 11),
// coarsely: a caret that stands one column off is the worst that a gap here can do.
var wide = []struct{ from, to rune }{
	{0x1100, 0x115f}, {0x2e80, 0x303e}, {0x3041, 0xa4cf}, {0xa960, 0xa97c}, {0xac00, 0xd7a3}, {0xf900, 0xfaff},
	{0xfe30, 0xfe6f}, {0xff01, 0xff60}, {0xffe0, 0xffe6}, {0x1f300, 0x1f64f}, {0x1f680, 0x1f6ff}, {0x1f900, 0x1f9ff},
	{0x20000, 0x3fffd},
}

// columns is how many columns of a terminal a printable character takes.
func columns(r rune) int {
	if unicode.In(r, unicode.Mn, unicode.Me) {
		return 0
	}
	for _, block := range wide {
		if block.from <= r && r <= block.to {
			return 2
		}
	}
	return 1
}
