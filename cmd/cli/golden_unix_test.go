//go:build unix

package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// inTime runs the cases, and ends the test if that does not come to an end.
func inTime(t *testing.T, args ...string) (status int, text string) {
	t.Helper()
	done := make(chan string)
	go func() {
		r := gridferry("", append([]string{"golden"}, args...)...)
		status = r.status
		done <- r.out + r.err
	}()
	select {
	case text = <-done:
	case <-time.After(time.Minute):
		t.Fatal("golden waits for what never comes")
	}
	return status, text
}

// done fails the test at an error.
func done(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func fifo(name string) error { return syscall.Mkfifo(name, 0o600) }

func link(to string) func(string) error {
	return func(name string) error { return os.Symlink(to, name) }
}

// TestGoldenReadsNothingOutside its folder, and nothing that is no plain file. In
// "team" is a sound team, in "theirs" what belongs to others: sound, too.
func TestGoldenReadsNothingOutside(t *testing.T) {
	const (
		odd    = "team/odd" // in the place of what the case names
		plan   = "format: gridferry case 1\nplan: "
		family = "format: gridferry case 1\nplan: ../../first.plan.yaml\nfamily: "
		ours   = "\nfamily: ../../mine\n"
	)
	for _, c := range []struct {
		what, text string
		odd        func(name string) error
		want       string
	}{
		{"a way out", plan + "../../../theirs/first.plan.yaml" + ours, nil, "case.yaml:2:7: error: the plan \"../../../theirs/first.plan.yaml\" cannot be read: the path leads out of the folder \"team\" [plan-unreadable]"},
		{"a whole path", plan + "/etc/passwd" + ours, nil, "case.yaml:2:7: error: the plan \"/etc/passwd\" cannot be read: the path leads out"},
		{"a link out", plan + "../../odd" + ours, link("../theirs/first.plan.yaml"), "case.yaml:2:7: error: the plan \"../../odd\" cannot be read: path escapes"},
		{"a link to a folder outside", plan + "../../odd/first.plan.yaml" + ours, link("../theirs"), "case.yaml:2:7: error: the plan \"../../odd/first.plan.yaml\" cannot be read: path escapes"},
		{"a link to a device", plan + "../../odd" + ours, link("/dev/zero"), "case.yaml:2:7: error: the plan \"../../odd\" cannot be read: path escapes"},
		{"a pipe", plan + "../../odd" + ours, fifo, "case.yaml:2:7: error: the plan \"../../odd\" cannot be read: is no plain file"},
		{"a folder", plan + "../../mine" + ours, nil, "case.yaml:2:7: error: the plan \"../../mine\" cannot be read: is a folder"},
		{"a family outside", family + "../../../theirs/mine\n", nil, "case.yaml:3:9: error: the family \"../../../theirs/mine\" cannot be read: the path leads out of the folder \"team\" [family-unreadable]"},
		{"a family by a link", family + "../../odd\n", link("../theirs/mine"), "case.yaml:3:9: error: the family \"../../odd\" cannot be read: path escapes"},
	} {
		t.Run(c.what, func(t *testing.T) {
			teams(t)
			put(t, "team/cases/own/case.yaml", c.text)
			if c.odd != nil {
				done(t, c.odd(odd))
			}
			status, text := inTime(t, "team", "--accept")
			if status != 1 || !strings.Contains(text, "team/cases/own/"+c.want) || !strings.Contains(text, "1 of 2 cases passed") {
				t.Errorf("status %d, wanted 1 and %q:\n%s", status, c.want, text)
			}
			if _, err := os.Stat("team/cases/own/expected"); err == nil {
				t.Error("it is recorded")
			}
		})
	}
}

// teams makes two folders that are the same: "team" and "theirs".
func teams(t *testing.T) {
	t.Helper()
	team(t)
	folder := t.TempDir()
	for _, to := range []string{"theirs", "team"} {
		done(t, os.CopyFS(filepath.Join(folder, to), os.DirFS(".")))
	}
	t.Chdir(folder)
}

// TestGoldenCaseThatIsNoFile: a case's own file may be a way out, or never end.
func TestGoldenCaseThatIsNoFile(t *testing.T) {
	for what, odd := range map[string]func(string) error{"a link out": link("../../../theirs/cases/own/case.yaml"), "a pipe": fifo, "a device": link("/dev/zero")} {
		teams(t)
		done(t, os.Remove("team/cases/own/case.yaml"))
		done(t, odd("team/cases/own/case.yaml"))
		status, text := inTime(t, "team", "--accept")
		if want := "team/cases/own/case.yaml: error: the case cannot be read"; status != 1 || !strings.Contains(text, want) {
			t.Errorf("%s: status %d, wanted 1 and %q:\n%s", what, status, want, text)
		}
	}
}

// TestGoldenRefusesLinks in the place of the recorded programs and among them.
func TestGoldenRefusesLinks(t *testing.T) {
	for _, c := range []struct {
		what, name string
		odd        func(string) error
		want       string
	}{
		{"a folder of others", "cases/own/expected", link("../../theirs"), "\"cases/own/expected\" is no folder: a link is not followed"},
		{"a file of others", "cases/own/expected/first.prog", link("../../../theirs/notes.txt"), "\"first.prog\" in it is no plain file"},
		{"a pipe", "cases/own/expected/first.prog", fifo, "\"first.prog\" in it is no plain file"},
	} {
		team(t)
		put(t, "theirs/notes.txt", "ours\n")
		if strings.HasSuffix(c.name, ".prog") {
			done(t, os.Mkdir("cases/own/expected", 0o777))
		}
		done(t, c.odd(c.name))
		for _, accept := range []string{"--accept=false", "--accept"} {
			want := "cases/own/case.yaml: error: the folder of recorded programs cannot be read: " + c.want
			if status, text := inTime(t, ".", accept); status != 1 || !strings.Contains(text, want) {
				t.Errorf("%s, %s: status %d, wanted 1 and %q:\n%s", c.what, accept, status, want, text)
			}
		}
		if info, err := os.Lstat(c.name); err != nil || info.Mode().IsRegular() || info.IsDir() || read(t, "theirs/notes.txt") != "ours\n" {
			t.Errorf("%s: not as it was: %v", c.what, err)
		}
		if _, err := os.Lstat("theirs/first.prog"); err == nil {
			t.Errorf("%s: written through the link", c.what)
		}
	}
}
