//go:build unix

package out

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// TestModes: a new file has the mode that the process's mask leaves it, as of any other
// program's, and a file that was there keeps its own.
func TestModes(t *testing.T) {
	for mask, want := range map[string]os.FileMode{"002": 0o664, "027": 0o640, "077": 0o600} {
		folder := t.TempDir()
		old := filepath.Join(folder, "b.txt")
		if err := os.WriteFile(old, nil, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(old, 0o646); err != nil { // which no mask here leaves
			t.Fatal(err)
		}
		c := exec.Command("sh", "-c", "umask "+mask+`; exec "$0"`, os.Args[0])
		c.Env = append(os.Environ(), asWriter+"="+folder)
		if said, err := c.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		for name, want := range map[string]os.FileMode{"a.txt": want, "b.txt": 0o646, "b.txt.kept-1": 0o646} {
			if got := modeOf(t, filepath.Join(folder, name)); got != want {
				t.Errorf("mask %s: %s has the mode %o, wanted %o", mask, name, got, want)
			}
		}
	}
}

// TestModeOfCopy: a file that is kept as a copy, where the disk has no second names, keeps
// its mode, too.
func TestModeOfCopy(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("a", nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod("a", 0o666); err != nil { // which the usual masks do not leave
		t.Fatal(err)
	}
	if err := copyNew("a", "b"); err != nil {
		t.Fatal(err)
	}
	if got := modeOf(t, "b"); got != 0o666 {
		t.Errorf("the copy has the mode %o", got)
	}
}

func modeOf(t *testing.T, name string) os.FileMode {
	t.Helper()
	info, err := os.Stat(name)
	if err != nil {
		t.Fatal(err)
	}
	return info.Mode().Perm()
}
