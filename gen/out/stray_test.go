package out

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// TestStrays: what others left is reported, what this process is writing is not.
func TestStrays(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, name := range []string{"a/.gridferry-2.tmp", "a/.gridferry-1.tmp", "a/.gridferry-1.txt", "a/gridferry-1.tmp", "b/x"} {
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	b := NewBatch()
	defer b.Discard()
	for _, name := range []string{"a/new", "b/new", "c/d/new"} {
		if err := b.AddText(name, "x"); err != nil {
			t.Fatal(err)
		}
	}
	for _, when := range []string{"before", "after"} {
		got := Strays(append(b.Folders(), "./a/")...)
		if len(got) != 1 || got[0].Folder != "a" || !slices.Equal(got[0].Names, []string{".gridferry-1.tmp", ".gridferry-2.tmp"}) {
			t.Errorf("%s: %v", when, got)
		}
		if when == "before" {
			if err := b.Commit(); err != nil {
				t.Fatal(err)
			}
		}
	}
	if _, err := os.Stat("a/.gridferry-1.tmp"); err != nil {
		t.Error("a stray is taken away:", err)
	}
	if err := os.WriteFile(".gridferry-3.tmp", nil, 0o666); err != nil { // where c/d was begun
		t.Fatal(err)
	}
	b = NewBatch()
	if err := b.AddText("e/f/new", "x"); err != nil {
		t.Fatal(err)
	}
	b.Discard()
	if got := Strays(b.Folders()...); len(got) != 1 || got[0].Folder != "." {
		t.Errorf("%v", got)
	}
}
