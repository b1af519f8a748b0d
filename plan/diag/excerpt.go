package diag

import (
	"slices"
	"strings"
)

const (
	tabStop      = 4   // a tab moves to the next multiple of this
	excerptWidth = 100 // the most columns of a source line that are shown
	contextWidth = 30  // of those, how many are kept before the caret
	cutMark      = "…"
)

// farAway is how many characters beside the caret can matter; of a line of ten megabytes, no more are looked at.
const farAway = 2 * excerptWidth

// cell is one character of a source line as it is shown.
type cell struct {
	text  string
	width int // in columns of the terminal
}

// End is the column behind what a place speaks of. Where only its beginning is known, that is a list or mapping in brackets, or a
// word. It is 0 for a place without a column, or in a line that is not there.
func (s *Sources) End(at Place) int {
	text, before, ok := s.around(at)
	if !ok || at.Col <= 0 {
		return 0
	}
	cells := layOut(text)
	cells = cells[min(max(at.Col-1-before, 0), len(cells)):]
	width := max(at.Width, enclosed(cells))
	if width == 0 {
		width = slices.IndexFunc(cells, func(c cell) bool { return strings.ContainsAny(c.text, " ,:[]{}") })
	}
	if width < 0 || width > len(cells) {
		width = len(cells)
	}
	return at.Col + max(width, 1)
}

// excerpt returns the part of line around p and, below it, a caret with as many tildes as the thing at p is wide.
func excerpt(line string, p Place) (shown, caret string) {
	cells := layOut(line)
	start := min(max(p.Col-1, 0), len(cells))
	stop := start + min(max(p.Width, enclosed(cells[start:]), 1), len(cells)-start)
	cells, start, stop = window(cells, start, stop)

	var text strings.Builder
	for _, c := range cells {
		text.WriteString(c.text)
	}
	before := totalWidth(cells[:start])
	under := max(totalWidth(cells[start:stop]), 1)
	shown = strings.TrimRight(text.String(), " ")
	return shown, strings.Repeat(" ", before) + "^" + strings.Repeat("~", under-1)
}

// enclosed is how long a list or mapping in brackets is that begins here and ends on the
// line: what is meant is all of it, not its bracket. 0 for anything else.
func enclosed(cells []cell) int {
	depth, quote := 0, ""
	for i, c := range cells {
		switch {
		case quote != "":
			if c.text == quote {
				quote = ""
			}
		case depth > 0 && (c.text == `"` || c.text == "'"):
			quote = c.text
		case c.text == "[" || c.text == "{":
			depth++
		case c.text == "]" || c.text == "}":
			depth--
		}
		if depth == 0 {
			if i == 0 {
				return 0
			}
			return i + 1
		}
	}
	return 0
}

// layOut turns a source line into cells: tabs into blanks, what would not print into its escape.
func layOut(line string) []cell {
	var cells []cell
	at := 0
	for _, r := range line {
		c := layOutRune(r, at)
		cells = append(cells, c)
		at += c.width
	}
	return cells
}

func layOutRune(r rune, at int) cell {
	if r == '\t' {
		n := tabStop - at%tabStop
		return cell{strings.Repeat(" ", n), n}
	}
	text := visibleRune(r)
	if text == string(r) {
		return cell{text, columns(r)}
	}
	return cell{text, len(text)}
}

// window cuts a long line to what fits, keeping some text before the caret. It returns the new cells with start and stop moved
// along.
func window(cells []cell, start, stop int) ([]cell, int, int) {
	if totalWidth(cells) <= excerptWidth {
		return cells, start, stop
	}
	first := start
	for kept := 0; first > 0 && kept+cells[first-1].width <= contextWidth; first-- {
		kept += cells[first-1].width
	}
	last := first
	for kept := 0; last < len(cells) && kept+cells[last].width <= excerptWidth; last++ {
		kept += cells[last].width
	}
	var cut []cell
	shift := -first
	if first > 0 {
		cut = append(cut, cell{cutMark, 1})
		shift++
	}
	cut = append(cut, cells[first:last]...)
	if last < len(cells) {
		cut = append(cut, cell{cutMark, 1})
	}
	return cut, start + shift, min(stop, last) + shift
}

func totalWidth(cells []cell) int {
	sum := 0
	for _, c := range cells {
		sum += c.width
	}
	return sum
}
