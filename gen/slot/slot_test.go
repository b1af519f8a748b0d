package slot

import "testing"

// Row letters past Z follow the spreadsheet-style practice for 1536-well
// plates (common practice; ANSI/SLAS 4-2004 fixes the marking of A1 only).
func TestLetters(t *testing.T) {
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 31: "AF", 701: "ZZ", 702: "AAA", MaxRows - 1: "ZZZ"} {
		if got := Letters(i); got != want {
			t.Errorf("Letters(%d) = %q, want %q", i, got, want)
		}
	}
}

func TestParseIsTheInverseOfLabel(t *testing.T) {
	for row := int32(0); row < MaxRows; row += 7 {
		want := Slot{row, row % 48, row % 5}
		for _, layered := range []bool{false, true} {
			got, ok := Parse(want.Label(layered))
			if !layered {
				got.Layer = want.Layer
			}
			if !ok || got.Slot != want || got.HasLayer != layered {
				t.Fatalf("Parse(%q) = %v, %v", want.Label(layered), got, ok)
			}
		}
	}
}

func TestParse(t *testing.T) {
	for text, want := range map[string]string{"a1": "A1", "A01": "A1", "af48": "AF48", "B2.3": "B2.3", "b02.03": "B2.3"} {
		got, ok := Parse(text)
		if !ok || got.Slot.Label(got.HasLayer) != want {
			t.Errorf("Parse(%q) = %v, %v, want %s", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "A", "1", "A0", "A-1", "A1.0", "A1.", "A1.2.3", "AAAA1", "A1 ", "Ä1", "A١", "A9999999999", "1A"} {
		if got, ok := Parse(text); ok {
			t.Errorf("Parse(%q) = %v, want a refusal", text, got)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, seed := range []string{"A1", "AB3", "B2.3", "a01", "ZZZ999999999", "A1.", "é1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		label, ok := Parse(text)
		if !ok {
			return
		}
		again, ok := Parse(label.Slot.Label(label.HasLayer))
		if !ok || again != label {
			t.Fatalf("%q reads as %v, which reads back as %v", text, label, again)
		}
	})
}
