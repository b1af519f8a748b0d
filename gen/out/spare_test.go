package out

import (
	"errors"
	"os"
	"slices"
	"testing"

	"gridferry/golden/outside"
)

// TestWhatWasReadStays under every name that it has.
func TestWhatWasReadStays(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, name := range []string{"plan", "free"} {
		if err := os.WriteFile(name, []byte(name), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Link("plan", "second"); err != nil {
		outside.Missing(t, err)
	}
	if err := os.Symlink("plan", "sign"); err != nil {
		outside.Missing(t, err)
	}
	b := NewBatch()
	b.Spare(WasRead("plan", "<stdin>", "plan", "--set[1]"))
	for _, name := range []string{"plan", "./plan", "second", "sign"} {
		var read *ReadError
		if err := b.AddText(name, "new"); !errors.As(err, &read) || read.Read != "plan" {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := b.AddText("free", "new"); err != nil {
		t.Error(err)
	}
	b.Remove("second")
	if err := b.Commit(); err == nil {
		t.Error("a file that was read is taken away")
	}
	b.Discard()
	holds(t, "plan", "plan")
	holds(t, "free", "free")
	if got := left(t); !slices.Equal(got, []string{"free", "plan", "second", "sign"}) {
		t.Errorf("left are %v", got)
	}
}
