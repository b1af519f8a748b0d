//go:build unix

package main

import (
	"bufio"
	"io"
	"net/http"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"testing"
)

// TestLiveStops: the address stands alone on standard output, the page is there as long as the command runs, and after a
// signal it ends as something that is done.
func TestLiveStops(t *testing.T) {
	t.Chdir(t.TempDir())
	if said, err := command("new").CombinedOutput(); err != nil {
		t.Fatal(string(said))
	}
	for _, s := range []os.Signal{syscall.SIGINT, syscall.SIGTERM} {
		if signal.Ignored(s) {
			t.Logf("%v is ignored here", s)
			continue
		}
		c := command("live", "first.plan.yaml", "--family", "st")
		out, err := c.StdoutPipe()
		var said strings.Builder
		c.Stderr = &said
		if err != nil || c.Start() != nil {
			t.Fatal(err)
		}
		lines := bufio.NewReader(out)
		address, err := lines.ReadString('\n')
		if err != nil {
			t.Fatal(err, said.String())
		}
		events, err := http.Get(strings.TrimSpace(address) + "events")
		if err != nil || events.StatusCode != http.StatusOK {
			t.Fatal(events, err)
		}
		if err := c.Process.Signal(s); err != nil {
			t.Fatal(err)
		}
		heard, err := io.ReadAll(events.Body)
		if err != nil || !strings.HasPrefix(string(heard), "event: change\n") {
			t.Errorf("%q, %v", heard, err)
		}
		rest, _ := io.ReadAll(lines)
		if err := c.Wait(); err != nil || len(rest) > 0 || strings.Contains(said.String(), "signal") {
			t.Errorf("%v: %v, %q, %q", s, err, rest, said.String())
		}
	}
}
