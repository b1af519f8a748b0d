package gen

import (
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
		if setting, there := one.Sources.Text(plan.SettingFile(0)); !ok || !there || setting != "title="+one.Variant.Name {
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
