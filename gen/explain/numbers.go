package explain

import (
	"strconv"
	"strings"
)

func number(n int) string { return strconv.Itoa(n) }

// short is a figure with at most so many decimals and no zeros at its end.
func short(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// span is "7" or "7 to 9".
func span(first, last int) string {
	if last <= first {
		return number(first)
	}
	return number(first) + " to " + number(last)
}

// spans is span with what is counted before it.
func spans(noun string, first, last int) string {
	if last > first {
		noun += "s"
	}
	return noun + " " + span(first, last)
}
