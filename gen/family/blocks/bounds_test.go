package blocks

import (
	"errors"
	"strings"
	"testing"
)

// TestVariables: a hundred variables may be there at once, "$" among them; those of a
// block that has ended are not.
func TestVariables(t *testing.T) {
	for body, want := range map[string]string{
		strings.Repeat("{{$x := 1}}", 99):  "",
		strings.Repeat("{{$x := 1}}", 100): "fam/b.tmpl:1:1111 too-many-variables",
		strings.Repeat("{{$x := 1}}", 200): "fam/b.tmpl:1:1111 too-many-variables",
		strings.Repeat("{{if .N}}"+strings.Repeat("{{$x := 1}}", 60)+"{{end}}", 3) + "{{$x := .N}}": "",
		strings.Repeat("{{$x := 1}}", 98) + "{{range $i, $f := 3}}{{end}}":                          "fam/b.tmpl:1:1110 too-many-variables",
	} {
		if _, found := loadFound(small(`{{define "travel"}}` + body + `{{end}}`)); strings.Join(found, ", ") != want {
			t.Errorf("%.40s…: got %q, want %q", body, found, want)
		}
	}
}

// writing is a family whose travels write a megabyte above a slot, two thousand bytes at
// the first motion, and one more elsewhere.
const writing = `{{define "travel"}}{{if .Above}}{{range 256}}{{pad 4096 "x"}}{{end}}{{else if .First}}{{pad 2000 "x"}}{{else}}{{pad 2001 "x"}}{{end}}{{end}}`

// TestTextOnAverage: blocks may write a megabyte, once, and two thousand bytes for each
// move besides.
func TestTextOnAverage(t *testing.T) {
	f, found := loadFound(small(writing))
	if len(found) > 0 {
		t.Fatal(found)
	}
	p := f.NewPrinter()
	large, usual, more := Motion{Above: true}, Motion{First: true}, Motion{}
	for i, view := range []Motion{large, usual, usual} {
		if text, err := p.Print("travel", view); err != nil {
			t.Errorf("%d: %d bytes, %v", i, len(text), err)
		}
	}
	// Another printer goes on with what is left; one that begins anew has it all.
	next := f.NewPrinter()
	next.GoOn(p.Left())
	for _, p := range []*Printer{p, next} {
		_, err := p.Print("travel", more)
		var e *BlockError
		if !errors.As(err, &e) || !e.Bounds || e.Message != errTooMuchTextInAll.Error() {
			t.Errorf("one byte more: %v", err)
		}
	}
	next.Renew()
	if _, err := next.Print("travel", large); err != nil {
		t.Error(err)
	}
	for range 500 {
		if _, err := next.Print("travel", Motion{First: true}); err != nil {
			t.Fatal(err) // what is spared does not grow beyond what is there to spare
		}
	}
}

// TestSpellingIsCounted: what takes a text apart costs steps for its length, in the short
// way and in the long one.
func TestSpellingIsCounted(t *testing.T) {
	for _, body := range []string{`{{comment .Target}}`, `{{range 1}}{{comment $.Target}}{{end}}`, `{{name .Target}}`, `{{quote .Target}}`, `{{range 1}}{{quote $.Target}}{{end}}`} {
		fsys := small(`{{define "travel"}}` + body + `{{end}}`)
		fsys["family.yaml"].Data = append(fsys["family.yaml"].Data, doubled...)
		f, found := loadFound(fsys)
		if len(found) > 0 {
			t.Fatal(found)
		}
		steps := func(text string) int {
			p := f.NewPrinter()
			if _, err := p.Print("travel", Motion{Target: NewText(text)}); err != nil {
				t.Fatal(err)
			}
			return p.steps
		}
		short, long := steps("a"), steps(strings.Repeat("é", 2000))
		if long-short < 4000/8-1 || long-short > 4000/8+4000/64 {
			t.Errorf("%s: %d steps for a letter, %d for 4000 bytes", body, short, long)
		}
	}
}

// TestWordsAreNotMultiplied: a helper that is called everywhere is written out only as far
// as that makes a block short.
func TestWordsAreNotMultiplied(t *testing.T) {
	for size, want := range map[int]bool{mostDirectWords / 100: true, mostDirectWords/100 + 1: false} {
		helper := strings.Repeat(strings.Repeat("x", 50)+"\n", size/51) + strings.Repeat("x", size%51)
		f, found := loadFound(small(`{{define "travel"}}` + strings.Repeat(`{{template "h"}}`, 100) + `{{end}}{{define "h"}}` + helper + `{{end}}`))
		if len(found) > 0 {
			t.Fatal(found)
		}
		if hasShortWay(f, "travel") != want {
			t.Errorf("a hundred times %d bytes: a short way: %v", size, !want)
		}
	}
}
