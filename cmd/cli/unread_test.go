package cli

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"
)

// failing fails every write.
type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

// TestUnread: only on standard output a closed pipe is no error to report.
func TestUnread(t *testing.T) {
	gone := &os.PathError{Op: "write", Path: "/dev/stdout", Err: noReader[0]}
	for _, tt := range []struct {
		err    error
		status int
		said   string
	}{
		{gone, unread, ""},
		{fmt.Errorf("no room"), findings, "gridferry: no room\n"},
	} {
		for _, line := range []string{"version", "--version", "", "--help", "help", "help check", "check --help", "check --rules", "completion", "completion --help", "completion bash", "completion zsh", "completion fish", "completion powershell"} {
			var said bytes.Buffer
			status := Main(strings.Fields(line), strings.NewReader(""), failing{tt.err}, &said)
			if status != tt.status || said.String() != tt.said {
				t.Errorf("%q, %v: status %d and %q, wanted %d and %q", line, tt.err, status, said.String(), tt.status, tt.said)
			}
		}
	}
	var said bytes.Buffer
	s := &streams{err: &said}
	if status := s.status(nil, failure{gone}); status != findings || !strings.Contains(said.String(), "/dev/stdout") {
		t.Errorf("a pipe that breaks elsewhere: status %d and %q", status, said.String())
	}
}

// TestUnheard: a standard error that takes nothing stops no command. Where it is not that
// nobody reads it, the status shows that something was lost.
func TestUnheard(t *testing.T) {
	t.Chdir(t.TempDir())
	mustDo := func(status int, err error, args ...string) {
		t.Helper()
		if got := Main(args, strings.NewReader(""), new(bytes.Buffer), failing{err}); got != status {
			t.Errorf("%v, %v: status %d, wanted %d", args, err, got, status)
		}
	}
	mustDo(fine, noReader[0], "new")
	mustDo(fine, noReader[0], "write", "first.plan.yaml", "--family", "st", "-o", "a")
	mustDo(findings, fmt.Errorf("no room"), "write", "first.plan.yaml", "--family", "st", "-o", "b")
	for _, folder := range []string{"a", "b"} {
		if names, err := os.ReadDir(folder); err != nil || len(names) != 1 {
			t.Errorf("in %s: %v, %v", folder, names, err)
		}
	}
}
