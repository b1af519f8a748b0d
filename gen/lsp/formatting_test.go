package lsp_test

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	plans "gridferry/plan"
)

// TestFormatting: what comes of an untidy plan is tidy, says the same and is not formatted again.
func TestFormatting(t *testing.T) {
	plan, _ := bench(t)
	text := read(t, plan)
	for _, encoding := range []string{"utf-16", "utf-8", "utf-32"} {
		untidy := strings.NewReplacer("[50, 60]", "[50,60]", "rows: 2", "rows: 2   ", "title:", "# é𝔸 [1,2]   \ntitle:").Replace(text)
		e := edit(t, encoding)
		e.open(plan, untidy)
		e.until(plan, 1)
		tidy := apply(untidy, e.formatting(plan), encoding)
		if want := strings.Replace(text, "title:", "# é𝔸 [1,2]\ntitle:", 1); strings.Join(strings.Fields(tidy), " ") != strings.Join(strings.Fields(want), " ") || strings.Contains(tidy, " \n") {
			t.Errorf("%s: got\n%s", encoding, tidy)
		}
		if a, b := listOf(t, plan, untidy), listOf(t, plan, tidy); a != b {
			t.Error("the moves differ")
		}
		e.tell("textDocument/didChange", map[string]any{"textDocument": map[string]any{"uri": uri(plan), "version": 2}, "contentChanges": []any{map[string]any{"text": tidy}}})
		if again := e.formatting(plan); len(again) > 0 {
			t.Errorf("%s: again %v", encoding, again)
		}
	}
}

// listOf is the moves of a plan, without their places.
func listOf(t *testing.T, file, text string) string {
	t.Helper()
	j := new(gen.Job)
	if !j.Read(plans.Source{File: file, Data: []byte(text), Dir: filepath.Dir(file)}, nil, layout.Options{Slots: layout.DefaultSlots}) {
		t.Fatal(j.Findings.Sorted())
	}
	var b strings.Builder
	if err := move.WriteTable(&b, j.Batches(), 0); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

type change struct {
	Range   span
	NewText string
}

func (e *editor) formatting(path string) (edits []change) {
	e.t.Helper()
	e.ask("textDocument/formatting", map[string]any{"textDocument": map[string]any{"uri": uri(path)}, "options": map[string]any{"tabSize": 8}}, &edits)
	return edits
}

// apply makes changes from the last to the first, in units that are counted here by themselves.
func apply(text string, edits []change, encoding string) string {
	offset := func(at position) int {
		n := 0
		for range at.Line {
			n += strings.IndexByte(text[n:], '\n') + 1
		}
		for units := 0; units < at.Character; {
			c := []rune(text[n:])[0]
			n += len(string(c))
			switch {
			case encoding == "utf-8":
				units += len(string(c))
			case encoding == "utf-16" && c > 0xffff:
				units += 2
			default:
				units++
			}
		}
		return n
	}
	for _, e := range slices.Backward(edits) {
		text = text[:offset(e.Range.Start)] + e.NewText + text[offset(e.Range.End):]
	}
	return text
}
