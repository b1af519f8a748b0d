package rules

import (
	"strings"
	"testing"
)

// FuzzQuote: whatever a text holds, it is one quotation from its first character to its
// last, and a comment's mark in it begins no comment.
func FuzzQuote(f *testing.F) {
	for _, text := range []string{"tray A1", `"`, `a""b`, `\`, `\"`, "a\nb", "# (x", "\u202e ] >", "]]", `<\>`, "ä\xff"} {
		f.Add(text)
	}
	marks := []Quotes{{`"`, `"`, `"`}, {`"`, `"`, `\`}, {"<", ">", `\`}, {"[", "]", ""}, {"[", "]", "]"}, {"'", "'", "$"}, {"|", "|", ""}}
	f.Fuzz(func(t *testing.T, text string) {
		for _, marks := range marks {
			r := Default()
			r.Quotes, r.Comment.Open, r.Comment.quotes = marks, "# ", marks
			quoted := r.Quote(text)
			if n := marks.Length([]byte(quoted + ` x"'>]|`)); n != len(quoted) {
				t.Fatalf("%+v: %q ends after %d bytes", marks, quoted, n)
			}
			if strings.ContainsAny(quoted, "\n\r\x00") || r.Comment.Inside(quoted) != "" || r.Comment.Inside(quoted+" # x") != InComment {
				t.Fatalf("%+v: %q is not one quotation", marks, quoted)
			}
		}
	})
}
