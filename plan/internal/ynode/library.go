package ynode

import (
	"encoding/json"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// filler stands in for characters of an escape that was shortened, so that all that follows keeps its column. It is a
// noncharacter that checkText refuses in files.
const filler = '\ufdd0'

// forLibrary changes what the library cannot read, keeping every character at its place: the line "%YAML 1.2" (it stops at any
// version but 1.1) and, in JSON, blanks before the first bracket and the escapes of section 7 of RFC 8259 that it does not know.
func forLibrary(text string) string {
	switch {
	case strings.HasPrefix(text, "%YAML 1."):
		return "#" + text[1:]
	case json.Valid([]byte(text)):
		body := strings.TrimLeft(text, "\t")
		return strings.Repeat(" ", len(text)-len(body)) + plainEscapes(body)
	}
	return text
}

// plainEscapes resolves in a JSON text the escapes "\/" and those of surrogate pairs, "\ud83d\ude00".
func plainEscapes(text string) string {
	var b strings.Builder
	for {
		i := strings.IndexByte(text, '\\')
		if i < 0 || i+1 >= len(text) {
			b.WriteString(text)
			return b.String()
		}
		b.WriteString(text[:i])
		text = text[i:]
		r, n := escape(text)
		if r == 0 {
			b.WriteString(text[:2])
			text = text[2:]
			continue
		}
		b.WriteRune(r)
		b.WriteString(strings.Repeat(string(filler), n-1))
		text = text[n:]
	}
}

// escape resolves the escape that text begins with and gives its length; r is 0 for those that the library knows.
func escape(text string) (r rune, n int) {
	if text[1] == '/' {
		return '/', 2
	}
	r = utf16.DecodeRune(codeUnit(text), codeUnit(text[min(6, len(text)):]))
	if r == utf8.RuneError {
		return 0, 0
	}
	return r, 12
}

// codeUnit is the number in an escape such as "\ud83d", 0 if there is none.
func codeUnit(text string) rune {
	if len(text) < 6 || text[0] != '\\' || text[1] != 'u' {
		return 0
	}
	n, err := strconv.ParseUint(text[2:6], 16, 16)
	if err != nil {
		return 0
	}
	return rune(n)
}
