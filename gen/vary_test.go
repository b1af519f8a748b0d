package gen

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unsafe"

	"gridferry/plan"
	"gridferry/plan/diag"
)

// TestFindingsOfVariantsAreBounded: of each variant as many findings are kept as all may have together, and one says so.
func TestFindingsOfVariantsAreBounded(t *testing.T) {
	found := make([]diag.Finding, 10)
	if got := firstFindings(found, 10); len(got) != 10 {
		t.Errorf("of 10 that fit, %d were kept", len(got))
	}
	found[9].Rule = "kept in the original"
	got := firstFindings(found, 9)
	if len(got) != 10 || got[9].Rule != "too-many-findings" || found[9].Rule != "kept in the original" {
		t.Errorf("%+v", got)
	}
}

// TestBoundOfWhatVariantsRead: what the variants' plans and cells come to is as much as fits,
// and no more; a cell that a variant sets counts too.
func TestBoundOfWhatVariantsRead(t *testing.T) {
	const each = 1 << 16
	text := "format: gridferry plan 1\n"
	text += "#" + strings.Repeat("x", each-len(text)-1)
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "other.cell.yaml"), []byte("#"), 0o600); err != nil {
		t.Fatal(err)
	}
	other := plan.Setting{Path: "cell", Value: "other.cell.yaml"}
	for name, tt := range map[string]struct {
		variants int
		cells    []plan.Setting // of the last variant
		wanted   string
	}{
		"none":         {0, nil, ""},
		"as many":      {mostRead / each, nil, ""},
		"one more":     {mostRead/each + 1, nil, "too-many-variants"},
		"cells, too":   {mostRead / each, []plan.Setting{other}, "too-many-variants"},
		"cells, fewer": {mostRead/each - 1, []plan.Setting{other}, ""},
	} {
		v := Variation{Source: plan.Source{File: "p.yaml", Data: []byte(text), Dir: dir}, Variants: make([]plan.Variant, tt.variants)}
		if n := tt.variants; n > 0 {
			v.Variants[0].Place = diag.Place{File: "v.yaml", Line: 7, Col: 5}
			v.Variants[n-1].Settings = tt.cells
		}
		var list diag.List
		v.Bound(&list)
		got := ""
		for _, f := range list.Sorted() {
			if got += f.Rule; f.Place.Line != 7 || f.Hint == "" {
				t.Errorf("%s: %+v", name, f)
			}
		}
		if got != tt.wanted {
			t.Errorf("%s: got %q, wanted %q", name, got, tt.wanted)
		}
	}
}

// TestVariantsShareTexts: a thousand variants hold the text that all of them have read once, and no layout.
func TestVariantsShareTexts(t *testing.T) {
	v := Variation{
		Source: plan.Source{File: "p.yaml", Data: []byte("format: gridferry plan 1\ntitle: " + strings.Repeat("x", 1000) + "\n"), Dir: "."},
		Variants: []plan.Variant{
			{Name: "a", Settings: []plan.Setting{{Path: "title", Value: "a"}}},
			{Name: "b", Settings: []plan.Setting{{Path: "title", Value: "b"}}},
		},
		Done: func(int) {},
	}
	all := v.Run()
	var first *byte
	for _, one := range all {
		text, ok := one.Sources.Text("p.yaml")
		if setting, there := one.Sources.Text("--set[1]"); !ok || !there || setting != "title="+one.Variant.Name {
			t.Fatalf("%s has read %v", one.Variant.Name, one.Sources.Names())
		}
		if first == nil {
			first = unsafe.StringData(text)
		}
		if unsafe.StringData(text) != first {
			t.Errorf("%s holds a text of its own", one.Variant.Name)
		}
	}
}
