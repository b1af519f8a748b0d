// Package wording puts figures and texts into words for people: counts with their
// nouns, times, levels, lines of a width. It decides on form only.
package wording

import (
	"strconv"
	"strings"
)

// Count is a number with the noun that it counts: "1 row", "2 rows", "0 entries",
// "3 boxes".
func Count(n int, noun string) string { return Number(n, noun, plural(noun)) }

// Number is a number with the words that go with one and with several: "1 part
// stands", "2 parts stand".
func Number(n int, one, several string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + several
}

func plural(noun string) string {
	switch {
	case strings.HasSuffix(noun, "y"):
		return strings.TrimSuffix(noun, "y") + "ies"
	case strings.HasSuffix(noun, "x"):
		return noun + "es"
	}
	return noun + "s"
}
