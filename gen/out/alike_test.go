package out

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestAlikeNames: on some disks these are one file.
func TestAlikeNames(t *testing.T) {
	for _, c := range []struct {
		one, other string
		refused    bool
	}{{"rack.nc", "RACK.NC", true}, {"Pr\u00fcf.nc", "Pru\u0308f.nc", true}, {"rack.nc", "rack.txt", false}, {"a/x", "A/x", true}} {
		b, folder := NewBatch(), t.TempDir()
		if err := b.AddText(filepath.Join(folder, c.one), "1"); err != nil {
			t.Fatal(err)
		}
		if err := b.AddText(filepath.Join(folder, c.other), "2"); (err != nil) != c.refused || err != nil && !strings.Contains(err.Error(), "would be one file on disks") {
			t.Errorf("%q after %q: %v", c.other, c.one, err)
		}
		b.Discard()
	}
}

// TestNewNameInOtherLetters: what is recorded under a name in other letters, on a disk where both lead to one file, is
// there afterwards. A second name of the file stands for such a disk.
func TestNewNameInOtherLetters(t *testing.T) {
	folder := t.TempDir()
	old, now := filepath.Join(folder, "RACK.nc"), filepath.Join(folder, "rack.nc")
	if err := os.WriteFile(old, []byte("old"), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Lstat(now); err != nil {
		if err := os.Link(old, now); err != nil {
			t.Fatal(err)
		}
	}
	b := NewBatch()
	defer b.Discard()
	b.Remove(old)
	if err := b.AddText(now, "new"); err != nil {
		t.Fatal(err)
	}
	if err := b.Commit(); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{old, now} {
		if _, err := os.Lstat(name); err != nil {
			t.Error(err)
		}
	}
	if text, err := os.ReadFile(now); string(text) != "new" {
		t.Errorf("%q: %v", text, err)
	}
}

// TestHeldFiles: where a file that somebody has open cannot be replaced, that is tried for a moment, and then said.
func TestHeldFiles(t *testing.T) {
	busy := errors.New("a violation")
	defer func(was []error) { held, renameFile = was, os.Rename }(held)
	held = []error{busy}
	for _, c := range []struct {
		fails error
		times int
		tried int
		want  string
	}{
		{busy, 3, 4, ""},
		{busy, tries, tries, "another program has the file open"},
		{os.ErrInvalid, 1, 1, os.ErrInvalid.Error()},
	} {
		tried := 0
		renameFile = func(from, to string) error {
			if tried++; tried <= c.times {
				return &os.LinkError{Op: "rename", Old: from, New: to, Err: c.fails}
			}
			return os.Rename(from, to)
		}
		name, b := filepath.Join(t.TempDir(), "a.nc"), NewBatch()
		if err := b.AddText(name, "new"); err != nil {
			t.Fatal(err)
		}
		err := b.Commit()
		b.Discard()
		if tried != c.tried || (err == nil) != (c.want == "") || err != nil && !(strings.Contains(err.Error(), c.want) && strings.Contains(err.Error(), "a.nc")) {
			t.Errorf("%v, %d times: tried %d times, %v", c.fails, c.times, tried, err)
		}
	}
}
