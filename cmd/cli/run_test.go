package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func command(args ...string) (status int, stdout, stderr string) {
	var out, err bytes.Buffer
	status = Main(args, strings.NewReader(""), &out, &err)
	return status, out.String(), err.String()
}

// TestRunFlags holds every command that makes a run to what its flags mean.
func TestRunFlags(t *testing.T) {
	t.Chdir("../../testdata/demo")
	const plan = "tube-rack.plan.yaml"
	tests := []struct {
		args   []string
		status int
		want   string // in what is said
	}{
		{[]string{"moves", plan, "--prove-out"}, fine, ""},
		{[]string{"check", plan, "--prove-out", "--lift", "3 cm", "--speed", "0.1 m/s"}, fine, "no error"},
		{[]string{"check", plan, "--prove-out", "--lift", "2"}, fine, "lift-below-parts"},
		{[]string{"check", plan, "--prove-out", "--lift", "900"}, findings, "out-of-reach"},
		{[]string{"moves", plan, "--prove-out", "--speed", "251"}, misuse, "at most 250 mm/s"},
		{[]string{"moves", plan, "--prove-out", "--speed", "0"}, misuse, "more than 0"},
		{[]string{"moves", plan, "--prove-out", "--speed", "fast"}, misuse, "--speed"},
		{[]string{"moves", plan, "--prove-out", "--lift", "-1"}, misuse, "--lift"},
		{[]string{"moves", plan, "--prove-out", "--lift", "5 kg"}, misuse, "--lift"},
		{[]string{"moves", plan, "--prove-out", "--gripper", "closed"}, misuse, "--gripper"},
		{[]string{"moves", plan, "--prove-out", "--steps", "some"}, misuse, "--steps"},
		{[]string{"moves", plan, "--stops", "often"}, misuse, "--stops"},
		{[]string{"moves", plan, "--lift", "5"}, misuse, "--lift means nothing without --prove-out"},
		{[]string{"moves", plan, "--holding"}, misuse, "--holding means nothing without --from"},
		{[]string{"moves", plan, "--slots", "x.yaml"}, misuse, "--slots means nothing without --from"},
		{[]string{"moves", plan, "--from", "0"}, findings, "no-such-transfer"},
		{[]string{"moves", plan, "--from", "-3"}, findings, "no-such-transfer"},
		{[]string{"moves", plan, "--from", "48", "--holding"}, fine, "resume-state"},
		{[]string{"moves", plan, "--from", "49"}, findings, "no-such-transfer"},
		{[]string{"moves", plan, "--from", "4", "--slots", "missing.yaml"}, misuse, "missing.yaml"},
		{[]string{"moves", plan, "--from", "4", "--holding", "--prove-out"}, findings, "prove-out-holding"},
		{[]string{"moves", plan, "--from", "4", "--holding", "--prove-out", "--gripper", "work", "--lift", "0"}, fine, "resume-state"},
		{[]string{"moves", plan, "--stops", "after-transfer"}, fine, ""},
	}
	for _, tt := range tests {
		status, _, stderr := command(tt.args...)
		if status != tt.status || !strings.Contains(stderr, tt.want) {
			t.Errorf("%v: status %d, wanted %d with %q\n%s", tt.args, status, tt.status, tt.want, stderr)
		}
	}
}

// TestSlotsOfARest draws what stands where when transfer 14 is next, and takes over
// what somebody found.
func TestSlotsOfARest(t *testing.T) {
	found := filepath.Join(t.TempDir(), "found.yaml")
	text := "format: gridferry slots 1\nfilled:\n  open: A3, F2:H2, A4:H6, A3:H3\n"
	if err := os.WriteFile(found, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	t.Chdir("../../testdata/demo")
	status, drawn, stderr := command("check", "tube-rack.plan.yaml", "--from", "14", "--slots")
	if status != fine || !strings.Contains(drawn, "open, 8 × 12: 35 before, 0 after; transfers 14 to 48 change it") {
		t.Errorf("status %d\n%s%s", status, drawn, stderr)
	}
	status, drawn, stderr = command("check", "tube-rack.plan.yaml", "--from", "14", "--slots="+found)
	if status != findings || !strings.Contains(stderr, "slot-repeated") || !strings.Contains(stderr, "found.yaml:3:") {
		t.Errorf("a slot that is named twice: status %d\n%s%s", status, drawn, stderr)
	}
	if err := os.WriteFile(found, []byte(strings.Replace(text, "A3, F2:H2, A4:H6, A3:H3", "F2:H2, A3:H6", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	status, drawn, stderr = command("check", "tube-rack.plan.yaml", "--from", "14", "--slots="+found)
	if status != fine || strings.Contains(stderr, "slots-differ") {
		t.Errorf("what the plan leaves: status %d\n%s%s", status, drawn, stderr)
	}
	if err := os.WriteFile(found, []byte(strings.Replace(text, "A3, F2:H2, A4:H6, A3:H3", "G2:H2, A3:H6", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	status, _, stderr = command("write", "tube-rack.plan.yaml", "--family", "listing", "-o", "-", "--from", "14", "--slots="+found)
	if status != findings || !strings.Contains(stderr, "part-unaccounted") || !strings.Contains(stderr, "say --holding") {
		t.Errorf("a part that nobody accounts for: status %d\n%s", status, stderr)
	}
	status, _, stderr = command("write", "tube-rack.plan.yaml", "--family", "listing", "-o", "-", "--from", "14", "--holding", "--slots="+found)
	if status != fine {
		t.Errorf("in the jaw, and said: status %d\n%s", status, stderr)
	}
}
