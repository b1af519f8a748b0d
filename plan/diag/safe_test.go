package diag

import (
	"strings"
	"testing"
	"unicode"
)

// hiddenSamples is one of each kind that a terminal obeys (ECMA-48, 5.2 to 5.5, from memory) or that reorders text (Unicode
// Standard Annex 9, 2.1 to 2.6), with what is shown in its place.
var hiddenSamples = map[string]string{
	"\x1b[2K\x1b[1A": `\x1b[2K\x1b[1A`, // ESC: erase the line, go up
	"a\rb":           `a\x0db`,         // back to the line's start
	"a\b\bb":         `a\x08\x08b`,     // backspace
	"\a":             `\x07`,           // BEL, which ends an operating system command, too
	"\u009b2J":       `\u009b2J`,       // C1: CSI in one character
	"\u0085":         `\u0085`,         // C1: next line
	"\x9b2J":         "\ufffd2J",       // the same as a byte, which is no UTF-8
	"\u202eab\u2066": `\u202eab\u2066`, // override, isolate
	"\u200f\u200b":   `\u200f\u200b`,   // mark, zero width
	"\u2028\v\f\x7f": `\u2028\x0b\x0c\x7f`,
}

func TestVisible(t *testing.T) {
	for text, want := range hiddenSamples {
		if got := Visible(text); got != want || Visible(got) != want {
			t.Errorf("%q is shown as %q, and that as %q, wanted %q", text, got, Visible(got), want)
		}
	}
	if got, want := Visible("a\nb\tc"), `a\x0ab\x09c`; got != want {
		t.Errorf("one line is shown as %q, wanted %q", got, want)
	}
	for _, text := range []string{"", "tray A1 (60 °)", "日本 µ …", "e\u0301"} {
		if got := Visible(text); got != text {
			t.Errorf("%q became %q", text, got)
		}
	}
}

// TestPrinter writes every sample at once and byte by byte: characters are cut where a buffer ends.
func TestPrinter(t *testing.T) {
	for text, want := range hiddenSamples {
		text, want = "日1\n\t"+text+"…\n", "日1\n\t"+want+"…\n"
		for name, write := range map[string]func(*Printer) error{
			"at once": func(p *Printer) error { _, err := p.Write([]byte(text)); return err },
			"byte by byte": func(p *Printer) error {
				for i := range len(text) {
					if n, err := p.Write([]byte{text[i]}); n != 1 || err != nil {
						return err
					}
				}
				return nil
			},
		} {
			var b strings.Builder
			p := NewPrinter(&b)
			if err := write(p); err != nil || p.Flush() != nil || b.String() != want {
				t.Errorf("%s, %q: printed %q, wanted %q (%v)", name, text, b.String(), want, err)
			}
		}
	}
}

func TestPrinterAtTheEnd(t *testing.T) {
	var b strings.Builder
	p := NewPrinter(&b)
	p.Write([]byte("a\xe6\x97")) // two of three bytes
	if p.Flush() != nil || b.String() != "a\ufffd\ufffd" || p.Flush() != nil || b.Len() != 7 {
		t.Errorf("%q", b.String())
	}
	p = NewPrinter(brokenWriter{})
	if _, err := p.Write([]byte("a")); err == nil {
		t.Error("a write that failed was not reported")
	}
}

func FuzzPrinter(f *testing.F) {
	for text := range hiddenSamples {
		f.Add(text, 1)
	}
	f.Fuzz(func(t *testing.T, text string, cut int) {
		var whole, halves strings.Builder
		p, q := NewPrinter(&whole), NewPrinter(&halves)
		p.Write([]byte(text))
		cut = min(max(cut, 0), len(text))
		q.Write([]byte(text[:cut]))
		q.Write([]byte(text[cut:]))
		if p.Flush() != nil || q.Flush() != nil || whole.String() != halves.String() {
			t.Fatalf("cut at %d: %q, whole: %q", cut, halves.String(), whole.String())
		}
		for _, r := range whole.String() {
			if r != '\n' && r != '\t' && !unicode.IsPrint(r) {
				t.Fatalf("%U reaches the terminal: %q", r, whole.String())
			}
		}
	})
}
