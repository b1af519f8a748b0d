//go:build unix

package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"gridferry/golden/outside"
)

// asProgram has this test program be the command itself.
const asProgram = "GRIDFERRY_TEST_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
	}
	os.Exit(m.Run())
}

func command(args ...string) *exec.Cmd {
	c := exec.Command(os.Args[0], args...)
	c.Env = append(os.Environ(), asProgram+"=1")
	return c
}

// writing is the command that writes a big program into a folder; settings make it
// as long as it has to be.
func writing(folder string, slots int) *exec.Cmd {
	return command("write", filepath.Join(folder, "big.plan.yaml"), "--family", "listing", "-o", folder, "--set", fmt.Sprintf("grids.a.rows=%d", slots/1000), "--set", fmt.Sprintf("grids.b.rows=%d", slots/1000))
}

const bigPlan = `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 0.3}, release: {output: 1, level: off, settle: 0.3}}}
  frames: {left: {at: [0, 0, 0]}, right: {at: [0, 90000, 0]}}
parts: {p: {mass: 0.1, size: [5, 5, 5]}}
grids:
  a: {frame: left, rows: 1, columns: 1000, pitch: [9, 9], first: [0, 0, 20], part: p, filled: all}
  b: {frame: right, rows: 1, columns: 1000, pitch: [9, 9], first: [0, 0, 20], part: p}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}}
transfers:
  - {from: a, to: b}
`

// TestSignals sends signals to a program that is writing over a file: the file stays
// as it was, or is the new one; nothing else is left, and a message says so.
func TestSignals(t *testing.T) {
	folder := t.TempDir()
	name := filepath.Join(folder, "big.txt")
	if err := os.WriteFile(filepath.Join(folder, "big.plan.yaml"), []byte(bigPlan), 0o644); err != nil {
		t.Fatal(err)
	}
	if said, err := writing(folder, 1000).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	before, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	signals := []syscall.Signal{syscall.SIGINT, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGTERM, syscall.SIGINT}
	if testing.Short() {
		signals = signals[:2]
	}
	for i, s := range signals {
		if signal.Ignored(s) {
			t.Logf("%v is ignored here, as in the background of a script, and so by the program, too", s)
			continue
		}
		c := writing(folder, 60_000)
		var said bytes.Buffer
		c.Stderr = &said
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		waitForTemporary(t, folder, time.Duration(i)*20*time.Millisecond)
		if err := c.Process.Signal(s); err != nil {
			t.Fatal(err)
		}
		if err := c.Wait(); !endedBy(err, s) {
			t.Errorf("%v: the program ended with %v: %s", s, err, said.String())
		}
		if !strings.Contains(said.String(), "every file is complete") {
			t.Errorf("%v: it said %q", s, said.String())
		}
		if after, err := os.ReadFile(name); err != nil || !bytes.Equal(after, before) {
			t.Errorf("%v: the file holds %d bytes, before %d (%v)", s, len(after), len(before), err)
		}
		if names, _ := filepath.Glob(filepath.Join(folder, ".*")); len(names) > 0 {
			t.Errorf("%v: left: %v", s, names)
		}
	}
}

// waitForTemporary waits until the program has begun to write, and a little longer.
func waitForTemporary(t *testing.T, folder string, longer time.Duration) {
	t.Helper()
	for range 24_000 { // two minutes, for a loaded machine
		if names, _ := filepath.Glob(filepath.Join(folder, ".*")); len(names) > 0 {
			time.Sleep(longer)
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Fatal("the program writes nothing")
}

func endedBy(err error, s syscall.Signal) bool {
	var exit *exec.ExitError
	if !errors.As(err, &exit) {
		return false
	}
	status, ok := exit.Sys().(syscall.WaitStatus)
	return ok && status.Signaled() && status.Signal() == s
}

// TestClosedPipe: a reader that goes away ends the program quietly and without
// leftovers, with the status that shells report for it: 128 and the number of SIGPIPE,
// which is 13 on every system that has one (<signal.h> of POSIX gives the name; the
// number is common practice).
func TestClosedPipe(t *testing.T) {
	folder := t.TempDir()
	plan := filepath.Join(folder, "big.plan.yaml")
	if err := os.WriteFile(plan, []byte(bigPlan), 0o644); err != nil {
		t.Fatal(err)
	}
	times := 3
	if testing.Short() {
		times = 1
	}
	for _, args := range [][]string{
		{"moves", plan},
		{"write", plan, "--family", "listing", "-o", "-"},
		{"sheet", plan, "-o", "-"},
		{"draw", plan, "-o", "-"},
		{"explain", plan},
		{"check", "--rules"},
		{"families", "show", "starter"},
		{"schema", "plan"},
	} {
		for range times { // whatever comes first, the error or the signal
			c := command(append(args, "--quiet")...)
			c.Env = append(c.Env, "TMPDIR="+folder)
			said := intoClosedPipe(t, c)
			if status := c.ProcessState.ExitCode(); status != 128+13 || said != "" {
				t.Errorf("%v: status %d, wanted 141 and silence: %s", args, status, said)
			}
		}
	}
	if names, _ := filepath.Glob(filepath.Join(folder, ".*")); len(names) > 0 {
		t.Errorf("left: %v", names)
	}
}

// intoClosedPipe runs a command whose standard output nobody reads; what it said.
func intoClosedPipe(t *testing.T, c *exec.Cmd) string {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	r.Close()
	defer w.Close()
	var said bytes.Buffer
	c.Stdout, c.Stderr = w, &said
	var exit *exec.ExitError
	if err := c.Run(); err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return said.String()
}

// TestReaderThatHasSeenEnough: the reader goes in the middle of a long program.
func TestReaderThatHasSeenEnough(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "big.plan.yaml"), []byte(bigPlan), 0o644); err != nil {
		t.Fatal(err)
	}
	c := command("write", filepath.Join(folder, "big.plan.yaml"), "--family", "listing", "-o", "-", "--set", "grids.a.rows=2", "--set", "grids.b.rows=2", "--quiet")
	c.Env = append(c.Env, "TMPDIR="+folder)
	var said bytes.Buffer
	c.Stderr = &said
	pipe, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := pipe.Read(make([]byte, 10)); err != nil {
		t.Fatal(err)
	}
	pipe.Close()
	if err := c.Wait(); err == nil || said.Len() > 0 {
		t.Errorf("wanted a status that is not 0 and silence: %v: %s", err, said.String())
	}
	if names, _ := filepath.Glob(filepath.Join(folder, ".*")); len(names) > 0 {
		t.Errorf("left: %v", names)
	}
}

// TestFullDisk: a full disk is reported, also behind standard output.
func TestFullDisk(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		outside.Missing(t, err)
	}
	defer full.Close()
	var said bytes.Buffer
	c := command("check", "--rules")
	c.Stdout, c.Stderr = full, &said
	if err := c.Run(); c.ProcessState.ExitCode() != 1 || !strings.Contains(said.String(), syscall.ENOSPC.Error()) {
		t.Errorf("%v: %s", err, said.String())
	}
}

// TestStoppedVary: a summary never stands beside programs that it does not list, and a
// message says that there is none.
func TestStoppedVary(t *testing.T) {
	if signal.Ignored(syscall.SIGINT) {
		outside.Missing(t, errors.New("signals are ignored here"))
	}
	folder := t.TempDir()
	summary := filepath.Join(folder, "out", "summary.txt")
	vary := func(variants string) *exec.Cmd {
		if err := os.WriteFile(filepath.Join(folder, "big.plan.yaml"), []byte(bigPlan+"variants:\n"+variants), 0o644); err != nil {
			t.Fatal(err)
		}
		return command("vary", filepath.Join(folder, "big.plan.yaml"), "--family", "listing", "-o", filepath.Join(folder, "out"), "--limit", "2000000")
	}
	if said, err := vary("  - {name: small}\n").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	if _, err := os.Stat(summary); err != nil {
		t.Fatal(err)
	}
	c := vary("  - {name: small, set: {motion.approach: 61}}\n  - {name: huge, set: {grids.a.rows: 400, grids.b.rows: 400}}\n")
	var said bytes.Buffer
	c.Stderr = &said
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	for range 24_000 { // two minutes, for a loaded machine
		if _, err := os.Stat(summary); err != nil {
			break
		}
		time.Sleep(5 * time.Millisecond)
	}
	if err := c.Process.Signal(syscall.SIGINT); err != nil {
		t.Fatal(err)
	}
	if err := c.Wait(); !endedBy(err, syscall.SIGINT) {
		t.Fatalf("it ended with %v: %s", err, said.String())
	}
	if want := fmt.Sprintf("until then there is no summary in the folder %q\n", filepath.Join(folder, "out")); !strings.Contains(said.String(), want) {
		t.Errorf("no %q in %q", want, said.String())
	}
	if names, _ := filepath.Glob(filepath.Join(folder, "out", "summary.*")); len(names) > 0 {
		t.Errorf("left: %v", names)
	}
}

// TestKilledRunsAreReported: what a killed run left is named by the next one, and stays.
func TestKilledRunsAreReported(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "big.plan.yaml"), []byte(bigPlan), 0o644); err != nil {
		t.Fatal(err)
	}
	c := writing(folder, 60_000)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	waitForTemporary(t, folder, 0)
	if err := c.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = c.Wait()
	strays, _ := filepath.Glob(filepath.Join(folder, ".*"))
	if len(strays) != 1 {
		t.Fatalf("left: %v", strays)
	}
	want := fmt.Sprintf("the folder %q holds temporary files of another run (%s): delete them if no other gridferry is running\n", folder, filepath.Base(strays[0]))
	plan := filepath.Join(folder, "big.plan.yaml")
	for _, args := range [][]string{
		{"write", plan, "--family", "listing,st", "-o", folder}, {"draw", plan, "-o", filepath.Join(folder, "a.svg")},
		{"sheet", plan, "-o", filepath.Join(folder, "a.html")}, {"write", plan, "--family", "listing", "-o", folder},
	} {
		args = append(args, "--set", "grids.a.columns=20", "--set", "grids.b.columns=20")
		said, err := command(args...).CombinedOutput()
		if err != nil || strings.Count(string(said), want) != 1 || strings.Count(string(said), ".gridferry-") != 1 {
			t.Errorf("%v: %v: %s, wanted %s", args, err, said, want)
		}
	}
	if _, err := os.Stat(strays[0]); err != nil {
		t.Error("it is removed:", err)
	}
}

// TestNobodyReadsWhatIsSaid: neither a standard error that nobody reads nor a closed standard
// output keeps a command from writing its files.
func TestNobodyReadsWhatIsSaid(t *testing.T) {
	folder := t.TempDir()
	plan := filepath.Join(folder, "big.plan.yaml")
	if err := os.WriteFile(plan, []byte(bigPlan+"variants:\n  - {name: small}\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args    []string
		status  int
		out     bool // standard output is what nobody reads, and not standard error
		written string
	}{
		{[]string{"write", plan, "--family", "listing", "-o", folder}, 0, false, "big.txt"},
		{[]string{"vary", plan, "--family", "listing", "-o", filepath.Join(folder, "deaf")}, 0, false, "deaf/summary.csv"},
		{[]string{"vary", plan, "--family", "listing", "-o", filepath.Join(folder, "out")}, 128 + 13, true, "out/summary.csv"},
	} {
		r, w, err := os.Pipe()
		if err != nil {
			t.Fatal(err)
		}
		r.Close()
		var said bytes.Buffer
		run := command(c.args...)
		run.Stdout, run.Stderr = &said, w
		if c.out {
			run.Stdout, run.Stderr = w, &said
		}
		_ = run.Run() // its status is looked at
		w.Close()
		if status := run.ProcessState.ExitCode(); status != c.status {
			t.Errorf("%v: status %d, wanted %d: %s", c.args, status, c.status, said.String())
		}
		if _, err := os.Stat(filepath.Join(folder, filepath.FromSlash(c.written))); err != nil {
			t.Errorf("%v: %v", c.args, err)
		}
	}
}

// TestFolderMode: a folder that is made has the mode that the process's mask leaves it.
func TestFolderMode(t *testing.T) {
	folder := t.TempDir()
	plan, made := filepath.Join(folder, "big.plan.yaml"), filepath.Join(folder, "made")
	if err := os.WriteFile(plan, []byte(bigPlan), 0o644); err != nil {
		t.Fatal(err)
	}
	c := exec.Command("sh", "-c", `umask 002; exec "$0" "$@"`, os.Args[0], "write", plan, "--family", "listing", "-o", made)
	c.Env = append(os.Environ(), asProgram+"=1")
	if said, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	if info, err := os.Stat(made); err != nil || info.Mode().Perm() != 0o775 {
		t.Errorf("the folder has the mode %v (%v)", info.Mode(), err)
	}
}
