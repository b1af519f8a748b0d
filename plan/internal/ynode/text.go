package ynode

import (
	"strings"
	"unicode/utf8"

	"gridferry/plan/diag"
)

// maxSize is the most bytes of a file that are read: 16 MiB, a hundred times the largest plan anybody would write by hand.
const maxSize = 16 << 20

// checkText finds what cannot be read as text at all, or reads differently from how it looks.
func checkText(src *source, list *diag.List) bool {
	if at := firstInvalid(src.text); at >= 0 {
		list.Errorf("not-utf8", src.atOffset(at), "the byte 0x%02x is not UTF-8 text", src.text[at]).
			WithHint("%s", encodingHint(src.text))
		return false
	}
	at := strings.IndexFunc(src.text, isControl)
	if at < 0 {
		return true
	}
	r, _ := utf8.DecodeRuneInString(src.text[at:])
	f := list.Errorf("control-character", src.atOffset(at), "the control character %U cannot stand here", r)
	if isReordering(r) {
		f.WithHint("it is a bidirectional or line-separator character, which changes how the text is displayed")
	} else {
		f.WithHint(`take it out; in double quotes it can be written as an escape such as "\u%04x"`, r)
	}
	return false
}

// firstInvalid is the offset of the first byte that is not UTF-8, -1 for none.
func firstInvalid(text string) int {
	if utf8.ValidString(text) {
		return -1
	}
	for i, r := range text {
		if r != utf8.RuneError {
			continue
		}
		if _, size := utf8.DecodeRuneInString(text[i:]); size == 1 {
			return i
		}
	}
	return -1
}

func encodingHint(text string) string {
	if strings.HasPrefix(text, "\xff\xfe") || strings.HasPrefix(text, "\xfe\xff") {
		return "the file is UTF-16, save it as UTF-8"
	}
	return "save the file as UTF-8"
}

// isControl reports whether r is refused in a file: what is no character, what the library would take for a line break though
// editors do not count it as one, what is invisible, and what reorders the text around it.
func isControl(r rune) bool {
	switch {
	case r == '\t' || r == '\n' || r == '\r':
		return false
	case r < 0x20 || 0x7f <= r && r <= 0x9f:
		return true
	case r == 0x2028 || r == 0x2029 || r == 0xfeff:
		return true
	case r&0xfffe == 0xfffe || 0xfdd0 <= r && r <= 0xfdef: // the noncharacters of Unicode
		return true
	}
	return isReordering(r)
}

// isReordering recognises the bidirectional embeddings, overrides and isolates (Unicode Standard Annex 9, section 2).
func isReordering(r rune) bool {
	return 0x202a <= r && r <= 0x202e || 0x2066 <= r && r <= 0x2069
}
