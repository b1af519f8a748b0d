package out

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/golden/outside"
)

// asHolder has this test program lock a folder until its standard input ends.
const asHolder = "GRIDFERRY_TEST_HOLDER"

func init() {
	roles[asHolder] = func(folder string) error {
		WorkAs("gridferry vary")
		unlock, err := Lock(folder)
		if err != nil {
			return err
		}
		defer unlock()
		fmt.Println("locked")
		_, err = io.Copy(io.Discard, os.Stdin)
		return err
	}
}

// lockedByAnother is another process that has the lock of a folder, and a function that
// has it come to its end.
func lockedByAnother(t *testing.T, folder string) (holder *exec.Cmd, end func() error) {
	t.Helper()
	c := child(asHolder, folder)
	in, err := c.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	said, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { in.Close() })
	if line, err := bufio.NewReader(said).ReadString('\n'); line != "locked\n" {
		t.Fatalf("it said %q: %v", line, err)
	}
	return c, func() error { return errors.Join(in.Close(), c.Wait()) }
}

// put writes one file into each folder.
func put(word string, names ...string) error {
	b := NewBatch()
	defer b.Discard()
	for _, name := range names {
		if err := b.AddText(name, word); err != nil {
			return err
		}
	}
	return b.Commit()
}

// TestLockOfAnotherProcess: nothing is written where another process writes, and the
// message names it; after its end the next one goes on.
func TestLockOfAnotherProcess(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := put("old", "b/file"); err != nil {
		t.Fatal(err)
	}
	holder, end := lockedByAnother(t, "b")
	err := put("new", "a/file", "b/file")
	var inUse *InUseError
	if !errors.As(err, &inUse) || inUse.Folder != "b" {
		t.Fatalf("wanted a refusal, got %v", err)
	}
	for _, want := range []string{`the folder "b" is in use by "gridferry vary", process `, fmt.Sprint(holder.Process.Pid), "wait until that is done, or name another folder"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("no %q in %v", want, err)
		}
	}
	if got := left(t); !slices.Equal(got, []string{"a", "b", "b/" + lockName, "b/file"}) {
		t.Errorf("left are %v", got)
	}
	holds(t, "b/file", "old")
	if err := errors.Join(end(), put("new", "a/file", "b/file")); err != nil {
		t.Error(err)
	}
	holds(t, "b/file", "new")
	if got := left(t); !slices.Equal(got, []string{"a", "a/file", "b", "b/file"}) {
		t.Errorf("left are %v", got)
	}
}

// TestKilledHolderStopsNobody, though the file of its lock is still there.
func TestKilledHolderStopsNobody(t *testing.T) {
	t.Chdir(t.TempDir())
	holder, end := lockedByAnother(t, "a")
	if err := holder.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = end() // it says that it was killed
	if _, err := os.Lstat(filepath.Join("a", lockName)); err != nil {
		t.Fatal(err)
	}
	if err := put("new", "a/file"); err != nil {
		t.Error(err)
	}
	if got := left(t); !slices.Equal(got, []string{"a", "a/file"}) {
		t.Errorf("left are %v", got)
	}
}

// TestFoldersAreLockedInOneOrder, whatever order they are written in: of two processes that
// want the same folders, one gets the first of them and then the rest.
func TestFoldersAreLockedInOneOrder(t *testing.T) {
	t.Chdir(t.TempDir())
	_, end := lockedByAnother(t, "a")
	defer func() { reached = func(string) {} }()
	reached = func(step string) {
		if step == "locked" {
			t.Error("another folder is locked before the first one")
		}
	}
	if err := put("new", "b/file", "a/file"); !errors.As(err, new(*InUseError)) {
		t.Errorf("wanted a refusal, got %v", err)
	}
	if err := end(); err != nil {
		t.Error(err)
	}
}

// TestOwnLockStopsNoBatch, under whatever name the folder goes.
func TestOwnLockStopsNoBatch(t *testing.T) {
	t.Chdir(t.TempDir())
	unlock, err := Lock("a")
	if err != nil {
		t.Fatal(err)
	}
	abs, err := filepath.Abs("a")
	if err != nil {
		t.Fatal(err)
	}
	if err := put("new", "a/file", filepath.Join(abs, "second")); err != nil {
		t.Error(err)
	}
	if _, err := os.Lstat(filepath.Join("a", lockName)); err != nil {
		t.Error("the lock is gone with the first batch:", err)
	}
	unlock()
	if got := left(t); !slices.Equal(got, []string{"a", "a/file", "a/second"}) {
		t.Errorf("left are %v", got)
	}
}

// TestLockIsAPlainFile: what else has its name is not written to.
func TestLockIsAPlainFile(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("mine", []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("mine", lockName); err != nil {
		outside.Missing(t, err)
	}
	if err := put("new", "file"); err == nil || !strings.Contains(err.Error(), lockName+" is no plain file: move it away") {
		t.Errorf("wanted a refusal, got %v", err)
	}
	holds(t, "mine", "mine")
	if got := left(t); !slices.Equal(got, []string{lockName, "mine"}) {
		t.Errorf("left are %v", got)
	}
}

// TestFileSystemWithoutLocks: files are written there, and no file of a lock stays.
func TestFileSystemWithoutLocks(t *testing.T) {
	t.Chdir(t.TempDir())
	defer func() { flock = lockFile }()
	flock = func(*os.File) error { return errNoLocks }
	unlock, err := Lock("a")
	if err := errors.Join(err, put("new", "a/file")); err != nil {
		t.Fatal(err)
	}
	unlock()
	holds(t, "a/file", "new")
	if got := left(t); !slices.Equal(got, []string{"a", "a/file"}) {
		t.Errorf("left are %v", got)
	}
}

// TestLockIsOnTheFileOfItsName: one whose file was taken away, as if a killed run had left
// it, between making it and locking it, would be seen by nobody.
func TestLockIsOnTheFileOfItsName(t *testing.T) {
	t.Chdir(t.TempDir())
	taken := 0
	defer func() { reached = func(string) {} }()
	reached = func(step string) {
		if step == "lock opened" {
			if taken++; taken == 1 {
				if err := os.Remove(filepath.Join("a", lockName)); err != nil {
					outside.Missing(t, err) // a system on which nobody can take away an open file
				}
			}
		}
	}
	unlock, err := Lock("a")
	if err != nil {
		t.Fatal(err)
	}
	defer unlock()
	if _, err := os.Lstat(filepath.Join("a", lockName)); err != nil || taken != 2 {
		t.Errorf("locked in %d attempts, and there is no file: %v", taken, err)
	}
}
