package lsp_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// completions is what the server offers at a bar in a text of a document, and hovers what it says there.
func (e *editor) completions(path, text string) []string {
	e.t.Helper()
	var list struct {
		Items []struct {
			Label    string
			TextEdit struct {
				Range   span
				NewText string
			}
		}
	}
	e.ask("textDocument/completion", spot(path, text), &list)
	var labels []string
	for _, i := range list.Items {
		labels = append(labels, i.Label)
	}
	return labels
}

func (e *editor) hovers(path, text string) string {
	e.t.Helper()
	var said *struct{ Contents struct{ Value string } }
	if e.ask("textDocument/hover", spot(path, text), &said); said == nil {
		return ""
	}
	return said.Contents.Value
}

// spot is the place of a bar in an ASCII text.
func spot(path, text string) map[string]any {
	before, _, _ := strings.Cut(text, "‸")
	line := strings.Count(before, "\n")
	return map[string]any{"textDocument": map[string]any{"uri": uri(path)}, "position": position{line, len(before) - 1 - strings.LastIndex(before, "\n")}}
}

// opens opens a document with a text in which a bar says where something is asked.
func (e *editor) opens(path, text string) {
	e.t.Helper()
	e.open(path, strings.Replace(text, "‸", "", 1))
	e.until(path, 1)
}

// TestCompletion: keys, words, names of the cell, slots, rules of a family and fields of its blocks.
func TestCompletion(t *testing.T) {
	plan, cell := bench(t)
	family := filepath.Join(filepath.Dir(plan), "family")
	files, err := os.ReadDir("../../templates/starter")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	if err := os.CopyFS(family, os.DirFS("../../templates/starter")); err != nil {
		t.Fatal(err)
	}
	text := read(t, plan)
	for _, c := range []struct{ path, text, want string }{
		{plan, text + "‸", "end"},
		{plan, strings.Replace(text, "from: tray", "from: t‸", 1), "tray"},
		{plan, strings.Replace(text, "from: tray", "from: tray ‸", 1), "A1:B3"},
		{plan, text + "beg‸in", "begin"},
		{cell, read(t, cell) + "ar‸", "arm"},
		{filepath.Join(family, "family.yaml"), read(t, filepath.Join(family, "family.yaml")) + "tab‸", "tables"},
		{filepath.Join(family, "moves.tmpl"), `{{define "straight"}}{{.Sp‸`, "Speed"},
	} {
		e := edit(t)
		e.opens(c.path, c.text)
		if got := e.completions(c.path, c.text); !strings.Contains(" "+strings.Join(got, " ")+" ", " "+c.want+" ") {
			t.Errorf("%s: got %v, wanted %s", filepath.Base(c.path), got, c.want)
		}
	}
}

// TestHover: what a key means, where a slot is, what an entry makes, what a field is.
func TestHover(t *testing.T) {
	plan, cell := bench(t)
	text := read(t, plan)
	for _, c := range []struct{ path, text, want string }{
		{plan, strings.Replace(text, "from: tray", "fr‸om: tray", 1), "transfers.1.from: "},
		{plan, strings.Replace(text, "from: tray", "fr‸om: tray", 1), "This entry makes 6 transfers, 110 moves, "},
		{plan, strings.Replace(text, "from: tray ", "from: tray A‸1:B3 ", 1), "tray A1 is at (30, 30, 20) mm in left, at ("},
		{filepath.Join(filepath.Dir(plan), "x.csv"), "from,to\ntray A1,rack B‸2\n", ""},
		{cell, strings.Replace(read(t, cell), "rated_load", "rated‸_load", 1), "kg"},
		{filepath.Join(filepath.Dir(plan), "x.tmpl"), `{{define "straight"}}{{.Sp‸eed}}{{end}}`, "Speed: a word"},
	} {
		e := edit(t)
		e.opens(c.path, c.text)
		if got := e.hovers(c.path, c.text); !strings.Contains(got, c.want) {
			t.Errorf("%s: got %q, wanted %q", filepath.Base(c.path), got, c.want)
		}
	}
}
