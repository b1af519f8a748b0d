package golden

import (
	"bytes"
	"strings"
	"testing"

	"gridferry/cmd/cli"
)

// result is what one command line gives.
type result struct {
	status         int
	stdout, stderr string
}

// run runs one command line in process, in the folder that the test is in.
func run(args ...string) result {
	var stdout, stderr bytes.Buffer
	status := cli.Main(args, strings.NewReader(""), &stdout, &stderr)
	return result{status, stdout.String(), stderr.String()}
}

// mustRun is run for a command that has to end with status 0.
func mustRun(t testing.TB, args ...string) string {
	t.Helper()
	r := run(args...)
	if r.status != 0 {
		t.Fatalf("gridferry %s: status %d, wanted 0\n%s", strings.Join(args, " "), r.status, r.stderr)
	}
	return r.stdout
}
