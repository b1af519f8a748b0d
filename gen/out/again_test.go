package out

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/golden/outside"
)

// edited writes as a person would: into the file that is there.
func edited(t *testing.T, name string) {
	t.Helper()
	if err := os.WriteFile(name, []byte("by hand"), 0o666); err != nil {
		t.Error(err)
	}
}

// stagedOver is a batch of new files, and old ones in their places.
func stagedOver(t *testing.T, names ...string) *Batch {
	t.Helper()
	t.Chdir(t.TempDir())
	b := NewBatch()
	t.Cleanup(b.Discard)
	for _, name := range names {
		if err := errors.Join(os.WriteFile(name, []byte("old"), 0o666), b.AddText(name, "new")); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

// TestGuardIsAskedWhenAllIsReady: it hears of what stands there then, and one refusal
// stops all files.
func TestGuardIsAskedWhenAllIsReady(t *testing.T) {
	b := stagedOver(t, "a", "b")
	refused := errors.New("not this one")
	b.Guard("b", func() (bool, error) {
		if data, err := os.ReadFile("b"); err != nil || string(data) != "old" {
			return false, refused
		}
		return false, nil
	})
	edited(t, "b")
	if err := b.Commit(); !errors.Is(err, refused) {
		t.Errorf("wanted the refusal, got %v", err)
	}
	b.Discard()
	holds(t, "a", "old")
	holds(t, "b", "by hand")
	if got := left(t); !slices.Equal(got, []string{"a", "b"}) {
		t.Errorf("left are %v", got)
	}
}

// TestChangedBehindTheGuard: what changes while, or after, the guards look is not lost
// either.
func TestChangedBehindTheGuard(t *testing.T) {
	for what, change := range map[string]func(*testing.T){
		"edited":   func(t *testing.T) { edited(t, "b") },
		"new":      func(t *testing.T) { edited(t, "c") },
		"gone":     func(t *testing.T) { os.Remove("b") },
		"replaced": func(t *testing.T) { edited(t, "d"); os.Rename("d", "b") },
	} {
		t.Run(what, func(t *testing.T) {
			b := stagedOver(t, "a", "b")
			if err := b.AddText("c", "new"); err != nil {
				t.Fatal(err)
			}
			b.Guard("c", func() (bool, error) { change(t); return false, nil })
			err := b.Commit()
			if err == nil || !strings.HasSuffix(err.Error(), "run the command again; nothing is replaced") {
				t.Errorf("wanted a refusal, got %v", err)
			}
			holds(t, "a", "old")
		})
	}
}

// TestChangedBetweenRenames: the message says which files are new and which are not.
func TestChangedBetweenRenames(t *testing.T) {
	b := stagedOver(t, "a", "b", "c")
	defer func() { reached = func(string) {} }()
	renames := 0
	reached = func(step string) {
		if step == "rename" {
			if renames++; renames == 2 {
				edited(t, "b")
			}
		}
	}
	err := b.Commit()
	if err == nil || !strings.HasPrefix(err.Error(), "b was changed by somebody") || !strings.HasSuffix(err.Error(), "; in place already: a; not replaced: b, c") {
		t.Errorf("said %v", err)
	}
	b.Discard()
	holds(t, "a", "new")
	holds(t, "b", "by hand")
	holds(t, "c", "old")
	if got := left(t); !slices.Equal(got, []string{"a", "b", "c"}) {
		t.Errorf("left are %v", got)
	}
}

// TestNewStaysNew: a file that came while the others were written is not replaced.
func TestNewStaysNew(t *testing.T) {
	t.Chdir(t.TempDir())
	b := NewBatch()
	for _, name := range []string{"a", "b"} {
		if err := b.AddNew(name, []byte("new")); err != nil {
			t.Fatal(err)
		}
	}
	edited(t, "b")
	if err := b.Commit(); err == nil || err.Error() != "b is there already" {
		t.Errorf("said %v", err)
	}
	b.Discard()
	holds(t, "b", "by hand")
	if got := left(t); !slices.Equal(got, []string{"b"}) {
		t.Errorf("left are %v", got)
	}
}

// TestRemovedIsStillTheSame: what changed since is not removed.
func TestRemovedIsStillTheSame(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("a", []byte("old"), 0o666); err != nil {
		t.Fatal(err)
	}
	b := NewBatch()
	b.Remove("a")
	edited(t, "a")
	if err := b.Commit(); err == nil || !strings.HasPrefix(err.Error(), "a was changed by somebody") {
		t.Errorf("said %v", err)
	}
	holds(t, "a", "by hand")
}

// TestWithin: a link on the way to a file is not followed, whenever it came there.
func TestWithin(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := errors.Join(os.Mkdir("top", 0o777), os.Mkdir("elsewhere", 0o777)); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join("top", "sub")
	b := NewBatch()
	defer b.Discard()
	b.Within("./top/")
	if err := b.AddText(filepath.Join(link, "deep", "file"), "new"); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("../elsewhere", link); err != nil {
		outside.Missing(t, err)
	}
	for _, err := range []error{b.Commit(), b.AddText(filepath.Join(link, "second"), "new")} {
		if err == nil || !strings.HasPrefix(err.Error(), link+" is a link or a file, wanted a folder") {
			t.Errorf("wanted a refusal, got %v", err)
		}
	}
	if err := b.AddText("third", "new"); err == nil || !strings.Contains(err.Error(), `third is not in the folder "top"`) {
		t.Errorf("wanted a refusal, got %v", err)
	}
	if files, err := os.ReadDir("elsewhere"); err != nil || len(files) > 0 {
		t.Errorf("written through the link: %v, %v", files, err)
	}
}
