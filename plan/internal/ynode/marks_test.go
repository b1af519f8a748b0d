package ynode

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"gridferry/plan/diag"
)

// TestTooManyValues: texts of few bytes for each value end before anything is built
// from them.
func TestTooManyValues(t *testing.T) {
	texts := []string{
		strings.Repeat("[", maxMarks+1),
		"[a" + strings.Repeat(",a", maxSize/2-2) + "]",
		"{a" + strings.Repeat(",a", maxSize/2-2) + "}",
		strings.Repeat("- ", maxMarks+1),
		strings.Repeat("\n", maxMarks+1),
		strings.Repeat("a:\n", maxMarks+1),
	}
	if testing.Short() {
		texts = texts[:1]
	}
	for _, text := range texts {
		var before, after runtime.MemStats
		var l diag.List
		runtime.ReadMemStats(&before)
		_, ok := Parse("p.yaml", text, &l)
		runtime.ReadMemStats(&after)
		if got := findings(&l); ok || l.Len() != 1 || l.Sorted()[0].Rule != "too-many-values" {
			t.Errorf("%.10q: %s", text, got)
		}
		// The text, its lines, and nothing of a tree.
		if grown := after.TotalAlloc - before.TotalAlloc; grown > 150<<20 {
			t.Errorf("%.10q: %d bytes were taken", text, grown)
		}
	}
	if testing.Short() {
		t.Skip("skipped, as -short asks: a text of as many values as are allowed")
	}
	var l diag.List
	if _, ok := Parse("p.yaml", "[a"+strings.Repeat(",a", maxMarks-1)+"]", &l); !ok {
		t.Errorf("as many as are allowed: %s", findings(&l))
	}
}

// BenchmarkParse shows that reading grows with the text and not faster, a hundred
// thousand entries included.
func BenchmarkParse(b *testing.B) {
	for _, n := range []int{1_000, 10_000, 100_000} {
		text := "transfers:\n" + strings.Repeat("  - {from: tray A1, to: rack F12}\n", n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				var l diag.List
				if _, ok := Parse("p.yaml", text, &l); !ok {
					b.Fatal(findings(&l))
				}
			}
		})
	}
}
