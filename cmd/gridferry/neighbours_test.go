//go:build unix

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// ran is one of several commands that run at the same time.
type ran struct {
	*exec.Cmd
	said bytes.Buffer
}

// atOnce runs commands at the same time.
func atOnce(t *testing.T, commands ...*exec.Cmd) []*ran {
	t.Helper()
	all := make([]*ran, len(commands))
	for i, c := range commands {
		all[i] = &ran{Cmd: c}
		c.Stderr = &all[i].said
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
	}
	for _, r := range all {
		_ = r.Wait() // its status tells
	}
	return all
}

// filesBelow is the text of every file below a folder.
func filesBelow(t *testing.T, folder string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := fs.WalkDir(os.DirFS(folder), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(folder, name))
		files[name] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// TestNewAtOnce: of several in one folder one writes all files, and the others none.
func TestNewAtOnce(t *testing.T) {
	folder := t.TempDir()
	if said, err := command("new", filepath.Join(folder, "alone")).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	var commands []*exec.Cmd
	for range 6 {
		commands = append(commands, command("new", filepath.Join(folder, "trial")))
	}
	wrote := 0
	for _, r := range atOnce(t, commands...) {
		switch said := r.said.String(); {
		case r.ProcessState.Success():
			wrote++
		case r.ProcessState.ExitCode() != 1 || !strings.Contains(said, "is there already") && !strings.Contains(said, "is in use by"):
			t.Errorf("status %d: %s", r.ProcessState.ExitCode(), said)
		}
	}
	if wrote != 1 || !maps.Equal(filesBelow(t, filepath.Join(folder, "trial")), filesBelow(t, filepath.Join(folder, "alone"))) {
		t.Errorf("%d wrote %v", wrote, filesBelow(t, filepath.Join(folder, "trial")))
	}
}

// varying is the command that writes variants of the big plan into a folder.
func varying(t *testing.T, from, to, variants string, settings ...string) *exec.Cmd {
	t.Helper()
	for name, text := range map[string]string{"big.plan.yaml": bigPlan, "v.yaml": "format: gridferry variants 1\nvariants:\n" + variants} {
		if err := os.WriteFile(filepath.Join(from, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	args := []string{"vary", filepath.Join(from, "big.plan.yaml"), "--variants", filepath.Join(from, "v.yaml"), "--family", "listing,st", "-o", to}
	for _, s := range settings {
		args = append(args, "--set", s)
	}
	return command(args...)
}

// TestVaryAtOnce: what several with different settings leave in one folder is all by one
// of them.
func TestVaryAtOnce(t *testing.T) {
	from, together := t.TempDir(), t.TempDir()
	const variants = "  - {each: {grids.a.columns: [4, 5, 6, 7], motion.approach: [40, 50, 60]}}\n"
	var commands []*exec.Cmd
	var alone []map[string]string
	for _, near := range []int{10, 20, 30, 40} {
		setting := fmt.Sprintf("motion.speed.near=%d", near)
		folder := t.TempDir()
		if said, err := varying(t, from, folder, variants, setting).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		alone = append(alone, filesBelow(t, folder))
		commands = append(commands, varying(t, from, together, variants, setting))
	}
	wrote := 0
	for _, r := range atOnce(t, commands...) {
		switch said := r.said.String(); {
		case r.ProcessState.Success():
			wrote++
		case r.ProcessState.ExitCode() != 1 || !strings.Contains(said, "is in use by"):
			t.Errorf("status %d: %s", r.ProcessState.ExitCode(), said)
		}
	}
	got := filesBelow(t, together)
	for _, want := range alone {
		if wrote > 0 && maps.Equal(got, want) {
			return
		}
	}
	t.Errorf("%d wrote, and the folder is by none of them alone: %d files", wrote, len(got))
}

// TestWaitsForAHolderInVain: who comes while another command holds the folder hears which
// one, and changes nothing; once that is killed, it goes on.
func TestWaitsForAHolderInVain(t *testing.T) {
	from, folder := t.TempDir(), t.TempDir()
	const small, long = "  - {name: one}\n", "  - {each: {grids.a.rows: [60, 61, 62, 63], motion.approach: [40, 50, 60]}}\n"
	first := varying(t, from, folder, long, "grids.b.rows=63")
	if err := first.Start(); err != nil {
		t.Fatal(err)
	}
	waitForLock(t, filepath.Join(folder, ".gridferry-lock"))
	if err := first.Process.Signal(syscall.SIGSTOP); err != nil {
		t.Fatal(err)
	}
	said, err := varying(t, from, folder, small).CombinedOutput()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != 1 {
		t.Errorf("status of the second: %v", err)
	}
	want := fmt.Sprintf("the folder %q is in use by \"gridferry vary\", process %d on ", folder, first.Process.Pid)
	if !strings.Contains(string(said), want) || strings.Count(string(said), "gridferry: ") != 1 {
		t.Errorf("it said %s", said)
	}
	if err := first.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = first.Wait() // it was killed
	if _, err := os.Lstat(filepath.Join(folder, "one")); err == nil {
		t.Error("the second has written")
	}
	if said, err := varying(t, from, folder, small).CombinedOutput(); err != nil {
		t.Errorf("the third: %v: %s", err, said)
	}
	if _, err := os.Lstat(filepath.Join(folder, ".gridferry-lock")); !errors.Is(err, fs.ErrNotExist) {
		t.Error("a lock is left:", err)
	}
}

// waitForLock waits until a lock names its holder.
func waitForLock(t *testing.T, name string) {
	t.Helper()
	for range 24_000 { // two minutes, for a loaded machine
		if info, err := os.Stat(name); err == nil && info.Size() > 0 {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Fatal("there is no lock")
}
