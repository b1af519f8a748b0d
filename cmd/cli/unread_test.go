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
