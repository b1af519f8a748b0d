//go:build unix

package out

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"gridferry/golden/outside"
)

// Environment of this test program where it plays the one that is killed.
const (
	asWriter = "GRIDFERRY_TEST_WRITER" // the folder to write to
	killAt   = "GRIDFERRY_TEST_KILL"   // the step at which it kills itself, from 1
)

func init() { roles[asWriter] = beWriter }

// beWriter writes "new" over "old" in a folder.
func beWriter(folder string) error {
	left, err := strconv.Atoi(os.Getenv(killAt))
	if err == nil {
		reached = func(string) {
			if left--; left == 0 {
				_ = syscall.Kill(os.Getpid(), syscall.SIGKILL)
				select {}
			}
		}
	}
	return writeBoth(folder, "new")
}

// writeBoth writes two files that belong together, and keeps the old second one.
func writeBoth(folder, word string) error {
	b := NewBatch()
	defer b.Discard()
	for _, name := range []string{"a.txt", "b.txt"} {
		err := b.Add(filepath.Join(folder, name), func(w io.Writer) error {
			piece := content(word)
			for range 20 {
				if _, err := w.Write(piece); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	b.Guard(filepath.Join(folder, "b.txt"), keep)
	return b.Commit()
}

const contentSize = 1 << 20

// content is a twentieth of a megabyte of a word.
func content(word string) []byte {
	return bytes.Repeat([]byte(word+"\n"), contentSize/20)[:contentSize/20]
}

// wholeFiles holds both files to being all old or all new.
func wholeFiles(t *testing.T, folder, when string) (anyNew bool) {
	t.Helper()
	before, after := old(), young()
	for _, name := range []string{"a.txt", "b.txt"} {
		data, err := os.ReadFile(filepath.Join(folder, name))
		switch {
		case err != nil:
			t.Errorf("%s: %v", when, err)
		case bytes.Equal(data, after):
			anyNew = true
		case !bytes.Equal(data, before):
			t.Errorf("%s: %s is neither old nor new: %d bytes", when, name, len(data))
		}
	}
	return anyNew
}

// old and young are what writeBoth writes for "old" and "new".
func old() []byte   { return bytes.Repeat(content("old"), 20) }
func young() []byte { return bytes.Repeat(content("new"), 20) }

// writer is this test program as a child that writes "new" over "old".
func writer(folder string, more ...string) *exec.Cmd { return child(asWriter, folder, more...) }

// TestKilledAtEveryStep kills a program that replaces two files, by SIGKILL, at each
// step of its way, until it comes through. What was killed stops nobody after it.
func TestKilledAtEveryStep(t *testing.T) {
	steps, news, every := 0, 0, 1
	if testing.Short() {
		every = 7
	}
	for n := 1; ; n += every {
		folder := t.TempDir()
		if err := putOld(folder); err != nil {
			t.Fatal(err)
		}
		err := writer(folder, killAt+"="+strconv.Itoa(n)).Run()
		if wholeFiles(t, folder, fmt.Sprintf("killed at step %d", n)) {
			news++
		}
		if err == nil {
			break
		}
		if !killed(err) {
			t.Fatalf("step %d: %v", n, err)
		}
		steps++
		if err := writer(folder).Run(); err != nil {
			t.Errorf("after a kill at step %d: %v", n, err)
		}
		if _, err := os.Lstat(filepath.Join(folder, lockName)); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("after a kill at step %d a lock is left: %v", n, err)
		}
	}
	if steps < 50/every || news < 1+1/every {
		t.Errorf("%d steps, %d of them with a new file: is the writer really killed?", steps, news)
	}
}

// putOld puts the old files there.
func putOld(folder string) error {
	return errors.Join(os.WriteFile(filepath.Join(folder, "a.txt"), old(), 0o644), os.WriteFile(filepath.Join(folder, "b.txt"), old(), 0o644))
}

func killed(err error) bool {
	var exit *exec.ExitError
	if !errors.As(err, &exit) {
		return false
	}
	status, ok := exit.Sys().(syscall.WaitStatus)
	return ok && status.Signaled() && status.Signal() == syscall.SIGKILL
}

// TestKilledAtAnyTime kills from outside, after more and more time.
func TestKilledAtAnyTime(t *testing.T) {
	folder := t.TempDir()
	if err := putOld(folder); err != nil {
		t.Fatal(err)
	}
	for i := range 40 {
		if testing.Short() && i%5 != 0 {
			continue
		}
		c := writer(folder)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(i) * time.Millisecond)
		_ = c.Process.Kill()
		_ = c.Wait()
		wholeFiles(t, folder, fmt.Sprintf("killed after %d ms", i))
	}
}

// TestFileLimit: where a limit stops the file, the old ones stay, nothing else is
// left, and the message says what to do.
func TestFileLimit(t *testing.T) {
	folder := t.TempDir()
	if err := putOld(folder); err != nil {
		t.Fatal(err)
	}
	// The shell's unit is 512 bytes in POSIX and 1024 in some; either is too little.
	c := exec.Command("sh", "-c", `trap "" XFSZ; ulimit -f 600; exec "$0"`, os.Args[0])
	c.Env = append(os.Environ(), asWriter+"="+folder)
	said, err := c.CombinedOutput()
	if err == nil || !namesTheFile(folder, said) {
		t.Errorf("%v: %s", err, said)
	}
	if wholeFiles(t, folder, "a limit on files") {
		t.Error("a file was replaced")
	}
	t.Chdir(folder)
	if names := left(t); len(names) != 2 {
		t.Errorf("left: %v", names)
	}
}

// namesTheFile reports whether a message says, once, what to do and which of the files has
// no room: by the name that was asked for and not by the temporary one.
func namesTheFile(folder string, said []byte) bool {
	text := string(said)
	names := strings.Count(text, filepath.Join(folder, "a.txt")) + strings.Count(text, filepath.Join(folder, "b.txt"))
	return names == 1 && !strings.Contains(text, ".tmp") && strings.Count(text, "make room and run the command again") == 1
}

// TestFullDisk fills a small disk of its own; only the system's manager may mount one.
func TestFullDisk(t *testing.T) {
	for _, room := range []int{2200, 2600, 3000, 3200} { // KiB; the old files take 2048
		folder := t.TempDir()
		if said, err := exec.Command("mount", "-t", "tmpfs", "-o", fmt.Sprintf("size=%dk", room), "tmpfs", folder).CombinedOutput(); err != nil {
			outside.Missing(t, fmt.Errorf("no small disk can be mounted here: %w: %s", err, said))
		}
		t.Cleanup(func() { _ = exec.Command("umount", folder).Run() })
		if err := putOld(folder); err != nil {
			t.Fatal(err)
		}
		said, err := writer(folder).CombinedOutput()
		if err == nil || !namesTheFile(folder, said) {
			t.Errorf("%d KiB: %v: %s", room, err, said)
		}
		if wholeFiles(t, folder, "a full disk") {
			t.Error("a file was replaced")
		}
		if names, _ := filepath.Glob(filepath.Join(folder, ".*")); len(names) > 0 {
			t.Errorf("%d KiB: left: %v", room, names)
		}
	}
}
