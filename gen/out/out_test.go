package out

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}

// left is the names of the files below the present folder.
func left(t *testing.T) []string {
	t.Helper()
	var names []string
	err := filepath.WalkDir(".", func(path string, d os.DirEntry, err error) error {
		if err == nil && path != "." {
			names = append(names, filepath.ToSlash(path))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

func holds(t *testing.T, name, want string) {
	t.Helper()
	if data, err := os.ReadFile(name); err != nil || string(data) != want {
		t.Errorf("%s holds %q (%v), wanted %q", name, data, err, want)
	}
}

func TestCommitPutsAllInPlace(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := errors.Join(os.WriteFile("old", []byte("old"), 0o600), os.Chmod("old", 0o640)); err != nil {
		t.Fatal(err)
	}
	b := NewBatch()
	for _, name := range []string{"old", filepath.Join("deep", "er", "new")} {
		if err := b.Add(name, text("made")); err != nil {
			t.Fatal(err)
		}
	}
	holds(t, "old", "old") // nothing is replaced before Commit
	if err := b.Commit(); err != nil {
		t.Fatal(err)
	}
	b.Discard()
	holds(t, "old", "made")
	holds(t, filepath.Join("deep", "er", "new"), "made")
	if got := left(t); !slices.Equal(got, []string{"deep", "deep/er", "deep/er/new", "old"}) {
		t.Errorf("left %v", got)
	}
	if info, err := os.Stat("old"); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the mode became %v (%v)", info.Mode(), err)
	}
}

func TestNothingIsLeftOfWhatFailed(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("old", []byte("old"), 0o666); err != nil {
		t.Fatal(err)
	}
	b := NewBatch()
	if err := b.Add("old", text("made")); err != nil {
		t.Fatal(err)
	}
	broken := errors.New("half way")
	err := b.Add(filepath.Join("folder", "second"), func(w io.Writer) error {
		if _, err := io.WriteString(w, strings.Repeat("x", 1<<20)); err != nil {
			return err
		}
		return broken
	})
	if !errors.Is(err, broken) {
		t.Errorf("the reason is lost: %v", err)
	}
	b.Discard()
	if got := left(t); !slices.Equal(got, []string{"old"}) {
		t.Errorf("left %v", got)
	}
	holds(t, "old", "old")
}

func TestRefusals(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := errors.Join(os.Mkdir("folder", 0o777), os.WriteFile("file", nil, 0o666), os.Symlink("file", "link")); err != nil {
		t.Fatal(err)
	}
	b := NewBatch()
	defer b.Discard()
	if err := b.Add("once", text("")); err != nil {
		t.Fatal(err)
	}
	for name, add := range map[string]func() error{
		"written twice":     func() error { return b.Add("once", text("")) },
		"no plain file":     func() error { return b.Add("folder", text("")) },
		"link is there":     func() error { return b.Add("link", text("")) },
		"file is there":     func() error { return b.AddNew("file", nil) },
		"link is there al":  func() error { return b.AddNew("link", nil) },
		"folder is there a": func() error { return b.AddNew("folder", nil) },
	} {
		if err := add(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("wanted an error with %q, got %v", name, err)
		}
	}
}

func TestCopyToKeepsTheOrder(t *testing.T) {
	t.Chdir(t.TempDir())
	b := NewBatch()
	for _, name := range []string{"z", "a"} {
		if err := b.Add(name, text(name+"\n")); err != nil {
			t.Fatal(err)
		}
	}
	var got strings.Builder
	if err := b.CopyTo(&got); err != nil || got.String() != "z\na\n" {
		t.Errorf("copied %q, %v", got.String(), err)
	}
	b.Discard()
	if got := left(t); got != nil {
		t.Errorf("left %v", got)
	}
}

// Whoever asked for a file hears of that one, not of the temporary one.
func TestErrorsNameTheFile(t *testing.T) {
	t.Chdir(t.TempDir())
	b := NewBatch()
	defer b.Discard()
	w, err := b.Create("a.nc")
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(w.Close(), os.Remove(left(t)[0])); err != nil {
		t.Fatal(err)
	}
	again := w.Close()
	for want, err := range map[string]error{"sync a.nc: ": again, "replace a.nc: ": b.Commit()} {
		if err == nil || !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), ".tmp") {
			t.Errorf("wanted %q, got %v", want, err)
		}
	}
}
