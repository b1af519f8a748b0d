package rules

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Encoding is how the characters of a program become bytes.
type Encoding uint8

// The encodings.
const (
	UTF8 Encoding = iota
	ASCII
	Latin1 // ISO 8859-1
)

var (
	encodingWords = []string{"utf-8", "ascii", "latin-1"}
	encodings     = []Encoding{UTF8, ASCII, Latin1}
)

// String is the word for the encoding in family.yaml.
func (e Encoding) String() string { return encodingWords[e] }

// Has reports whether the encoding has a character.
func (e Encoding) Has(c rune) bool {
	switch e {
	case ASCII:
		return c < utf8.RuneSelf
	case Latin1:
		return c <= unicode.MaxLatin1
	case UTF8:
	}
	return true
}

// Append appends a line of UTF-8, all of whose characters the encoding has, in
// its own bytes.
func (e Encoding) Append(b, line []byte) []byte {
	if e != Latin1 {
		return append(b, line...)
	}
	for _, c := range string(line) {
		b = append(b, byte(c))
	}
	return b
}

// spell writes s with the characters that the encoding has: accents fall off
// where they must, and what has no spelling becomes other.
func (e Encoding) spell(s, other string) string {
	switch e {
	case ASCII:
		return toASCII(s, other)
	case Latin1:
		var b strings.Builder
		for _, c := range norm.NFC.String(s) {
			if e.Has(c) {
				b.WriteRune(c)
			} else {
				b.WriteString(toASCII(string(c), other))
			}
		}
		return b.String()
	case UTF8:
	}
	return s
}

// spelled are letters and signs that do not decompose but have a usual spelling.
var spelled = strings.NewReplacer(
	"ß", "ss", "æ", "ae", "Æ", "AE", "ø", "o", "Ø", "O", "ł", "l", "Ł", "L", "đ", "d", "Đ", "D", "œ", "oe", "Œ", "OE", "ı", "i",
	"–", "-", "—", "-", "−", "-", "×", "x", "·", ".", "…", "...", "°C", " deg C", "°", " deg", "µ", "u", "‘", "'", "’", "'", "“", `"`, "”", `"`,
)

// toASCII spells s with the 95 printable ASCII characters: accents fall off, and
// what has no spelling becomes other.
func toASCII(s, other string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(spelled.Replace(s)) {
		switch {
		case r < utf8.RuneSelf:
			b.WriteRune(r)
		case !unicode.Is(unicode.Mn, r):
			b.WriteString(other)
		}
	}
	return b.String()
}
