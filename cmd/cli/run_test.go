package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/templates"
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
		{[]string{"check", "mortar-cubes.plan.yaml", "--prove-out", "--lift", "2"}, fine, "lift-below-parts"},
		{[]string{"check", plan, "--prove-out", "--lift", "900"}, findings, "out-of-reach"},
		{[]string{"moves", plan, "--prove-out", "--speed", "251"}, misuse, "at most 250 mm/s"},
		{[]string{"moves", plan, "--prove-out", "--speed", "0"}, misuse, "more than 0"},
		{[]string{"moves", plan, "--prove-out", "--speed", "fast"}, misuse, "--speed"},
		{[]string{"moves", plan, "--prove-out", "--lift", "-1"}, misuse, "--lift"},
		{[]string{"moves", plan, "--prove-out", "--lift", "5 kg"}, misuse, "--lift"},
		{[]string{"moves", plan, "--prove-out", "--gripper", "closed"}, misuse, "--gripper"},
		{[]string{"moves", plan, "--prove-out", "--steps", "some"}, misuse, "--steps"},
		{[]string{"moves", plan, "--stops", "often"}, misuse, "--stops"},
		{[]string{"moves", plan, "--lift", "5"}, misuse, "--lift works only with --prove-out"},
		{[]string{"moves", plan, "--holding"}, misuse, "--holding works only with --from"},
		{[]string{"moves", plan, "--slots", "x.yaml"}, misuse, "--slots works only with --from"},
		{[]string{"moves", plan, "--from", "0"}, misuse, "--from is 0, wanted 1 to 48, the transfers of the plan"},
		{[]string{"moves", plan, "--from", "-3"}, misuse, "--from is -3, wanted 1 to 48"},
		{[]string{"moves", plan, "--from", "48", "--holding"}, fine, "resume-state"},
		{[]string{"moves", plan, "--from", "49"}, misuse, "--from is 49, wanted 1 to 48"},
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

// TestRunsInOtherCommands draws and explains runs: the picture shows what stands where
// before them and what they are called, the explanation the lines of their programs.
func TestRunsInOtherCommands(t *testing.T) {
	t.Chdir("../../testdata/demo")
	const plan = "mortar-cubes-scale.plan.yaml"
	tests := []struct {
		args   []string
		status int
		want   []string // in what is written
		not    string
		said   string
	}{
		{[]string{"draw", plan, "-o", "-"}, fine, []string{"parts as they stand at the start, before 12 transfers", "tray in frame bath, 4 rows and 6 columns: cube in 6 of 24"}, ", from", ""},
		{[]string{"draw", plan, "-o", "-", "--from", "3"}, fine, []string{"weighed by hand-shake, from 3<", "parts as they stand before transfer 3 of 12", ": cube in 5 of 24"}, "at the start", "resume-state"},
		{[]string{"draw", plan, "-o", "-", "--from", "3", "--holding"}, fine, []string{", from 3 holding<", ": cube in 4 of 24"}, "at the start", ""},
		{[]string{"draw", plan, "-o", "-", "--from", "3", "--transfer", "6"}, fine, []string{"parts as they stand after 5 of 12"}, "at the start", ""},
		{[]string{"draw", plan, "-o", "-", "--from", "3", "--transfer", "2"}, misuse, nil, "<svg", "the resumed job begins with transfer 3"},
		{[]string{"draw", plan, "-o", "-", "--from", "3", "--after", "2"}, fine, []string{"before transfer 3 of 12"}, "at the start", ""},
		{[]string{"draw", plan, "-o", "-", "--from", "3", "--after", "1"}, misuse, nil, "<svg", "the resumed job begins after 2 transfers"},
		{[]string{"draw", plan, "-o", "-", "--prove-out"}, fine, []string{", prove-out<", "4 rows and 6 columns: 24 slots, no parts"}, "cube in", ""},
		{[]string{"draw", plan, "-o", "-", "--lift", "3"}, misuse, nil, "<svg", "--lift works only with --prove-out"},
		{[]string{"time", plan, "--from", "3"}, fine, []string{"5 parts in 10 transfers"}, "12 transfers", "resume-state"},
		{[]string{"time", plan, "--prove-out"}, fine, []string{"12 transfers, no part is carried"}, "grip", ""},
		{[]string{"time", plan, "--prove-out", "--from", "13"}, misuse, nil, "transfers", "--from is 13, wanted 1 to 12"},
		{[]string{"manifest", plan}, fine, []string{"id,part,from,to,via,transfer,placed_at\n,cube,tray A1,rack A1,balance A1,2,"}, "{", ""},
		{[]string{"manifest", plan, "--from", "2", "--holding"}, fine, []string{"\n,cube,balance A1,rack A1,,2,", "\n,cube,tray A2,rack A2,balance A1,4,"}, "tray A1,", "resume-state"},
		{[]string{"manifest", plan, "--prove-out"}, misuse, nil, "rack", "a prove-out carries no part anywhere"},
		{[]string{"manifest", plan, "--prove-out", "--gripper", "work", "--lift", "0"}, fine, []string{",rack A1,balance A1,2,"}, "{", ""},
		{[]string{"manifest", plan, "--set", "transfers.1.take=1", "--format", "json", "--family", "iso6983"}, fine, []string{`"via":["balance A1"],"transfer":2,`, `"estimate": true`}, "A2", ""},
		{[]string{"explain", plan}, fine, []string{"transfers 1 to 2, one part"}, "RESUMED", ""},
		{[]string{"explain", plan, "--from", "3"}, fine, []string{"RESUMED: begins with transfer 3 of 12", ", from 3\n", "transfers 3 to 4, one part"}, "transfers 1 to 2", "resume-state"},
		{[]string{"explain", plan, "--from", "3", "--program-line", "35"}, fine, []string{"belongs to transfer 3 of 12"}, "of 10", ""},
		{[]string{"explain", plan, "--from", "3", "--plan-line", "24", "--format", "html"}, fine, []string{"the beginning is over before transfer 3"}, "No move rests", ""},
		{[]string{"explain", "tube-rack.plan.yaml", "--from", "25", "--plan-line", "38"}, fine, []string{"entry 1 is over before transfer 25"}, "No move rests", ""},
		{[]string{"explain", plan, "--prove-out"}, fine, []string{"PROVE-OUT: a quarter of the speeds in the plan, at most 250 mm/s as written", "reasons given are those of the whole job", ", prove-out\n"}, "grip at tray", ""},
		{[]string{"explain", plan, "--prove-out", "--format", "html"}, fine, []string{"<p>PROVE-OUT: a quarter of the speeds in the plan, at most 250 mm/s as written", "<p>The reasons given are those of the whole job"}, "grip at tray", ""},
		{[]string{"explain", plan, "--from", "99"}, misuse, nil, "select", "--from is 99, wanted 1 to 12"},
	}
	for _, tt := range tests {
		status, out, stderr := command(tt.args...)
		if status != tt.status || !strings.Contains(stderr, tt.said) || strings.Contains(out, tt.not) {
			t.Errorf("%v: status %d, wanted %d with %q, and no %q in what is written\n%s", tt.args, status, tt.status, tt.said, tt.not, stderr)
		}
		for _, want := range tt.want {
			if !strings.Contains(out, want) {
				t.Errorf("%v: %q is missing", tt.args, want)
			}
		}
	}
}

// TestAllButLoops: a prove-out or a resumed job cannot be written as loops. "all" leaves the
// family out that writes them, and says so; who names it is refused.
func TestAllButLoops(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: many programs are written")
	}
	const left = "left out loops: it writes the loops of a whole job, and this is "
	plan, err := filepath.Abs("../../testdata/demo/mortar-cubes.plan.yaml")
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		args   []string
		status int
		said   string
		wrote  int
	}{
		{[]string{"--family", "all"}, fine, "", len(templates.All())},
		{[]string{"--family", "all", "--prove-out"}, fine, left + "a prove-out\n", len(templates.All()) - 1},
		{[]string{"--family", "all", "--from", "3"}, fine, left + "a resumed job\n", len(templates.All()) - 1},
		{[]string{"--family", "all", "--from", "3", "--prove-out"}, fine, left + "a prove-out of a resumed job\n", len(templates.All()) - 1},
		{[]string{"--family", "loops", "--prove-out"}, findings, "the family \"loops\" writes the loops of a whole job, and this is a prove-out [kind-not-possible]", 0},
		{[]string{"--family", "loops", "--from", "3"}, findings, "and this is a resumed job [kind-not-possible]", 0},
		{[]string{"--family", "st,loops", "--prove-out"}, findings, "the family \"loops\"", 0},
		{[]string{"--family", "all", "--prove-out", "--lift", "900"}, findings, "out-of-reach", 0},
	}
	for _, tt := range tests {
		folder := t.TempDir()
		status, _, said := command(append([]string{"write", plan, "-o", folder}, tt.args...)...)
		files, err := os.ReadDir(folder)
		if err != nil {
			t.Fatal(err)
		}
		if status != tt.status || !strings.Contains(said, tt.said) || len(files) != tt.wrote {
			t.Errorf("%v: status %d, %d files; wanted %d, %d and %q\n%s", tt.args, status, len(files), tt.status, tt.wrote, tt.said, said)
		}
		if strings.Contains(said, "left out") != strings.HasPrefix(tt.said, left) {
			t.Errorf("%v: left out, or not, against what is wanted\n%s", tt.args, said)
		}
	}
	if _, _, said := command("write", plan, "-o", t.TempDir(), "--family", "all", "--prove-out", "--quiet"); said != "" {
		t.Errorf("quietly: %q", said)
	}
}

// TestWhatStaysBehind: a destination that is too small for a whole grid is no mistake, and reported in
// a line of its own.
func TestWhatStaysBehind(t *testing.T) {
	t.Chdir("../../testdata/demo")
	const plan, small, told = "mortar-cubes.plan.yaml", "--set=grids.rack.rows=1", "mortar-cubes.plan.yaml:41: 17 parts stay in \"tray\", since \"rack\" is full\n"
	for _, tt := range []struct {
		args []string
		want int // how often it is reported
	}{
		{[]string{"check", plan, small}, 1},
		{[]string{"write", plan, small, "--family", "listing", "-o", "-"}, 1},
		{[]string{"check", plan}, 0},
		{[]string{"check", plan, small, "--quiet"}, 0},
		{[]string{"check", plan, small, "--format", "json"}, 0},
		{[]string{"write", plan, small, "--family", "listing", "-o", "-", "--format", "json"}, 0},
		{[]string{"check", plan, small, "--prove-out"}, 0},
		{[]string{"check", plan, small, "--from", "2"}, 0},
	} {
		status, stdout, stderr := command(tt.args...)
		silent := !strings.Contains(stdout+stderr, "stay in")
		if got := strings.Count(stderr, told); status != fine || got != tt.want || tt.want == 0 && !silent {
			t.Errorf("%v: status %d, reported %d times, wanted %d\n%s", tt.args, status, got, tt.want, stderr)
		}
	}
}
