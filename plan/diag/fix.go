package diag

import (
	"strings"
	"unicode/utf8"
)

// Fix is a text that stands where a finding is, and the one that its hint would have there; the zero Fix for a hint that
// leaves the text to whoever reads it.
type Fix struct{ Found, Put string }

// DidYouMean offers one text in the place of another, as a hint, and returns f.
func (f *Finding) DidYouMean(found, meant string) *Finding {
	f.Fix = Fix{found, meant}
	return f.WithHint("did you mean %q?", meant)
}

// Fixed is the place of what a finding's hint would replace. It is false where the hint offers nothing, or where the text
// does not stand there letter by letter.
func (s *Sources) Fixed(f *Finding) (at Place, ok bool) {
	text, before, there := s.around(f.Place)
	if !there || f.Fix.Found == "" || f.Place.Col < 1 {
		return Place{}, false
	}
	rest := text[bytesOf(text, f.Place.Col-1-before):]
	bare := strings.TrimLeft(rest, "\"' \t") // in quotes, or behind blanks in a table
	if !strings.HasPrefix(bare, f.Fix.Found) {
		return Place{}, false
	}
	at = f.Place
	at.Col += utf8.RuneCountInString(rest[:len(rest)-len(bare)])
	at.Width = utf8.RuneCountInString(f.Fix.Found)
	return at, true
}
