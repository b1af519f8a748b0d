package diag

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible is text for one line that people read, with every character that could move the cursor, change colours, break the
// line or reorder it written out, so that a terminal shows it and does not obey it. Seen twice it stays as it is.
func Visible(text string) string { return visible(text, "") }

// visible is Visible, but for the characters that are kept.
func visible(text, kept string) string {
	if isPlain(text, kept) {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		if strings.ContainsRune(kept, r) {
			b.WriteRune(r)
		} else {
			b.WriteString(visibleRune(r))
		}
	}
	return b.String()
}

// isPlain reports at a glance that all of a text prints: most is ASCII.
func isPlain(text, kept string) bool {
	for i := range len(text) {
		if c := text[i]; (c < ' ' || c > '~') && strings.IndexByte(kept, c) < 0 {
			return false
		}
	}
	return true
}

// visibleRune returns r itself if it prints, otherwise its escape: \x1b, \u202e, \U000e0001.
//
// unicode.IsPrint is false for control and format characters (which include all that reorder text), for line and paragraph
// separators, and for blanks other than the common one.
func visibleRune(r rune) string {
	switch {
	case unicode.IsPrint(r):
		return string(r)
	case r < 0x80:
		return fmt.Sprintf(`\x%02x`, r)
	case r <= 0xffff:
		return fmt.Sprintf(`\u%04x`, r)
	}
	return fmt.Sprintf(`\U%08x`, r)
}

// Printer passes on text for people, lines and tabs as they are and all else as Visible does. What may hold a line break that
// is none of the text's own, such as the name of a file, goes through Visible before.
type Printer struct {
	to   io.Writer
	rest []byte // the beginning of a character, until the next Write brings the others of its bytes
}

// NewPrinter prints to a writer. Flush must be called at the end.
func NewPrinter(to io.Writer) *Printer { return &Printer{to: to} }

// Write prints all characters that are complete.
func (p *Printer) Write(text []byte) (int, error) {
	all := text
	if len(p.rest) > 0 {
		all = append(p.rest, text...)
	}
	end := complete(all)
	err := p.print(all[:end])
	p.rest = append([]byte(nil), all[end:]...)
	return len(text), err
}

// Flush prints the bytes of a character that never came to its end.
func (p *Printer) Flush() error {
	rest := p.rest
	p.rest = nil
	return p.print(rest)
}

func (p *Printer) print(text []byte) error {
	if len(text) == 0 {
		return nil
	}
	_, err := io.WriteString(p.to, visible(string(text), "\n\t"))
	return err
}

// complete is how much of a text is there without a character that the bytes behind it may complete.
func complete(text []byte) int {
	for i := len(text) - 1; i >= max(len(text)-utf8.UTFMax, 0); i-- {
		if utf8.RuneStart(text[i]) {
			if utf8.FullRune(text[i:]) {
				break
			}
			return i
		}
	}
	return len(text)
}

// wide lists the blocks whose characters take two columns of a terminal (East Asian Width W and F, Unicode Standard Annex 11),
// coarsely: a caret that stands one column off is the worst that a gap here can do.
var wide = []struct{ from, to rune }{
	{0x1100, 0x115f}, {0x2e80, 0x303e}, {0x3041, 0xa4cf}, {0xa960, 0xa97c}, {0xac00, 0xd7a3}, {0xf900, 0xfaff},
	{0xfe30, 0xfe6f}, {0xff01, 0xff60}, {0xffe0, 0xffe6}, {0x1f300, 0x1f64f}, {0x1f680, 0x1f6ff}, {0x1f900, 0x1f9ff},
	{0x20000, 0x3fffd},
}

// columns is how many columns of a terminal a printable character takes.
func columns(r rune) int {
	if unicode.In(r, unicode.Mn, unicode.Me) {
		return 0
	}
	for _, block := range wide {
		if block.from <= r && r <= block.to {
			return 2
		}
	}
	return 1
}
