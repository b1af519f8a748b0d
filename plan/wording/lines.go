package wording

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Lines lays words out in lines, as many on each as fit on it. Only a word that
// does not fit by itself stands over.
func Lines(words []string, fits func(line string) bool) []string {
	var lines []string
	for _, word := range words {
		if last := len(lines) - 1; last >= 0 && fits(lines[last]+" "+word) {
			lines[last] += " " + word
		} else {
			lines = append(lines, word)
		}
	}
	return lines
}

// Wrap breaks a text at its blanks into lines of at most width characters.
func Wrap(text string, width int) []string {
	return Lines(strings.Fields(text), func(line string) bool { return utf8.RuneCountInString(line) <= width })
}

// List is words as a sentence has them: "a, b and c". Of many it names the first ones:
// "a, b and 3 more".
func List(words []string, most int) string {
	n := len(words)
	switch {
	case n > most:
		return strings.Join(words[:most], ", ") + " and " + strconv.Itoa(n-most) + " more"
	case n > 1:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

// Brief is enough of a text to know it by, so that a message stays readable where
// somebody wrote a page.
func Brief(text string) string { return Shorten(text, 40) }

// Shorten cuts a text to at most so many characters, the last of which then says
// that something is missing.
func Shorten(text string, most int) string {
	n, kept := 0, 0 // characters, and the bytes of all but the last that fit
	for i := range text {
		if n++; n == most {
			kept = i
		} else if n > most {
			return text[:kept] + "…"
		}
	}
	return text
}

// ShortenWords is Shorten between two words: a number that was cut would be another number.
func ShortenWords(text string, most int) string {
	short := Shorten(text, most)
	if short == text {
		return text
	}
	kept := []rune(text)[:max(most-1, 0)]
	next := []rune(text)[len(kept)]
	for len(kept) > 0 && next != ' ' && kept[len(kept)-1] != ' ' {
		kept = kept[:len(kept)-1]
	}
	return strings.TrimRight(string(kept), " ") + "…"
}
