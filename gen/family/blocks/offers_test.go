package blocks

import (
	"slices"
	"strings"
	"testing"
)

// TestOffered: what is offered at the bar, of whole templates and of half-written ones.
func TestOffered(t *testing.T) {
	for _, c := range []struct{ text, want, not string }{
		{`{{define "straight"}}{{.Sp|}}{{end}}`, "Speed", "Seconds"},
		{`{{define "straight"}}{{.Sp|`, "Speed", "Seconds"},
		{`{{define "dwell"}}{{.|}}{{end}}`, "Seconds", "Speed"},
		{`{{define "begin"}}{{range .Frames}}{{.|}}{{end}}{{end}}`, "Number", "Frames"},
		{`{{define "begin"}}{{range .Frames}}{{$.|}}{{end}}{{end}}`, "Frames", "Number"},
		{`{{define "begin"}}{{range .Frames}}{{end}}{{.|}}{{end}}`, "Frames", "Number"},
		{`{{define "begin"}}{{range .Frames}}{{else}}{{.|}}{{end}}{{end}}`, "Frames", "Number"},
		{`{{define "begin"}}{{if .Title}}{{.|}}{{end}}{{end}}`, "Frames", "Number"},
		{`{{define "st|`, "straight", "begin"},
		{`{{define "mine"}}{{end}}{{define "begin"}}{{template "m|" .}}{{end}}`, "mine", "begin"},
		{`{{define "begin"}}{{com|}}{{end}}`, "comment", "pad"},
		{`{{define "begin"}}{{ra|}}{{end}}`, "range", "if"},
		{`{{define "begin"}}.|{{end}}`, "", "Frames"},
		{`{{define "mine"}}{{.|}}{{end}}`, "", "Frames"},
		{`{{/* .| */}}`, "", "Frames"},
		{`{{define "begin"}}{{comment "a | .Title}}` + "\n" + `{{.Title}}`, "", "Frames"},
	} {
		at := strings.Index(c.text, "|")
		offers, _, _ := Offered(strings.Replace(c.text, "|", "", 1), at)
		names := func(o Offer) bool { return o.Text == c.want }
		if c.want != "" && !slices.ContainsFunc(offers, names) || c.want == "" && len(offers) > 0 && c.not == "" {
			t.Errorf("%s: got %v, wanted %s", c.text, offers, c.want)
		}
		if slices.ContainsFunc(offers, func(o Offer) bool { return o.Text == c.not }) {
			t.Errorf("%s: got %s", c.text, c.not)
		}
	}
}

// TestOfferedReplaces: the whole word is replaced, also where the cursor is within it.
func TestOfferedReplaces(t *testing.T) {
	text := `{{define "straight"}}{{.Speed}}`
	at := strings.Index(text, "Speed")
	for n := range len("Speed") + 1 {
		if _, from, to := Offered(text, at+n); text[from:to] != "Speed" {
			t.Errorf("at %d: %q", n, text[from:to])
		}
	}
}

// FuzzOffered: whatever stands there, what is replaced is part of the text.
func FuzzOffered(f *testing.F) {
	f.Add(`{{define "straight"}}{{.Sp`, 26)
	f.Add(`{{range $i, $x := .Frames}}{{$x.`, 30)
	f.Fuzz(func(t *testing.T, text string, at int) {
		if at < 0 || at > len(text) {
			return
		}
		if _, from, to := Offered(text, at); from < 0 || from > at || to < at || to > len(text) {
			t.Errorf("[%d, %d) of %d", from, to, len(text))
		}
	})
}
