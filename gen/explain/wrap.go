package explain

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// visible replaces what a terminal would obey instead of showing.
func visible(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t':
			return ' '
		case !unicode.IsPrint(r):
			return '?'
		}
		return r
	}, text)
}

// wrap breaks a text between words into lines of at most width characters; a
// word that is longer is cut into pieces.
func wrap(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(visible(text)) {
		for utf8.RuneCountInString(word) > width {
			if line != "" {
				lines, line = append(lines, line), ""
			}
			runes := []rune(word)
			lines, word = append(lines, string(runes[:width])), string(runes[width:])
		}
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > width:
			lines, line = append(lines, line), word
		default:
			line += " " + word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
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

// cut shortens a text to width characters, the last of which then shows that
// something is missing.
func cut(text string, width int) string {
	if utf8.RuneCountInString(text) <= width {
		return text
	}
	return string([]rune(text)[:width-1]) + "…"
}

// fill puts blanks behind a text.
func fill(text string, width int) string {
	return text + strings.Repeat(" ", max(width-utf8.RuneCountInString(text), 0))
}
