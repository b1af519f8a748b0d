package out

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// keep is what a guard says of a file that may be replaced, but not lost.
func keep() (bool, error) { return true, nil }

func TestKeepNeverTakesATakenName(t *testing.T) {
	t.Chdir(t.TempDir())
	write := func(name, s string) {
		t.Helper()
		if err := os.WriteFile(name, []byte(s), 0o640); err != nil {
			t.Fatal(err)
		}
	}
	write("a.nc", "by hand")
	write("a.nc.kept-1", "older")
	for _, again := range []string{"first", "second"} {
		b := NewBatch()
		if err := b.Add("a.nc", text(again)); err != nil {
			t.Fatal(err)
		}
		b.Guard("a.nc", keep)
		if err := b.Commit(); err != nil {
			t.Fatal(err)
		}
		if kept := b.Kept(); len(kept) != 1 || !strings.HasPrefix(kept[0], "a.nc.kept-") {
			t.Errorf("kept %q", kept)
		}
	}
	holds(t, "a.nc", "second")
	holds(t, "a.nc.kept-1", "older")
	holds(t, "a.nc.kept-2", "by hand")
	holds(t, "a.nc.kept-3", "first")
	if got := left(t); len(got) != 4 {
		t.Errorf("left are %v", got)
	}
}

func TestNothingIsReplacedThatCannotBeKept(t *testing.T) {
	t.Chdir(t.TempDir())
	b := NewBatch()
	defer b.Discard()
	if err := b.Add("a.nc", text("new")); err != nil {
		t.Fatal(err)
	}
	b.Guard("a.nc", keep) // but there is none
	if err := b.Commit(); err == nil {
		t.Error("what is not there is kept")
	}
	if slices.Contains(left(t), "a.nc") {
		t.Error("the file is written all the same")
	}
}

func TestSame(t *testing.T) {
	t.Chdir(t.TempDir())
	long := strings.Repeat("0123456789", 20_000)
	for name, there := range map[string]string{"same": long, "shorter": long[1:], "longer": long + "1", "other": "1" + long[1:], "empty": ""} {
		if err := os.WriteFile(name, []byte(there), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	b := NewBatch()
	defer b.Discard()
	for _, name := range []string{"same", "shorter", "longer", "other", "empty", "none"} {
		if err := b.Add(name, text(long)); err != nil {
			t.Fatal(err)
		}
		if same, err := b.Same(name); err != nil || same != (name == "same") {
			t.Errorf("%s: %v, %v", name, same, err)
		}
	}
	if _, err := b.Same("not staged"); err == nil {
		t.Error("what is not staged is compared")
	}
}

func TestRemoveComesLast(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, name := range []string{"old", "stays"} {
		if err := os.WriteFile(name, nil, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	b := NewBatch()
	b.Remove("old")
	if err := b.AddText("new", "x"); err != nil {
		t.Fatal(err)
	}
	b.Discard()
	if got := left(t); !slices.Equal(got, []string{"old", "stays"}) {
		t.Errorf("before Commit %v are left", got)
	}
	b = NewBatch()
	b.Remove("gone") // somebody else was quicker
	b.Remove("old")
	if err := b.AddText("new", "x"); err != nil {
		t.Fatal(err)
	}
	if err := b.Commit(); err != nil {
		t.Fatal(err)
	}
	if got := left(t); !slices.Equal(got, []string{"new", "stays"}) {
		t.Errorf("after it %v", got)
	}
}
