package lsp

import (
	"slices"
	"unicode/utf16"
	"unicode/utf8"
)

// encoding is the units in which an editor counts the characters of a line.
type encoding string

// The encodings, by their names in the protocol. All editors have the first one.
const (
	utf16Units encoding = "utf-16"
	utf8Units  encoding = "utf-8"
	utf32Units encoding = "utf-32"
)

// chosen is the first of those that an editor offers.
func chosen(offered []encoding) encoding {
	for _, e := range offered {
		if slices.Contains([]encoding{utf16Units, utf8Units, utf32Units}, e) {
			return e
		}
	}
	return utf16Units
}

// size is how many units a character takes.
func (e encoding) size(c rune) int {
	switch e {
	case utf8Units:
		return utf8.RuneLen(c)
	case utf32Units:
		return 1
	case utf16Units:
	}
	return utf16.RuneLen(c)
}

// units is how many units a text takes.
func (e encoding) units(text string) int {
	n := 0
	for _, c := range text {
		n += e.size(c)
	}
	return n
}

// bytes is how many bytes the first n units of a text take: all of them where it has no more. In the middle of a
// character is before it.
func (e encoding) bytes(text string, n int) int {
	for i, c := range text {
		if n -= e.size(c); n < 0 {
			return i
		}
	}
	return len(text)
}
