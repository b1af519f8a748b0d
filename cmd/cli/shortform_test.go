package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"gridferry/plan"
)

// TestShortFormsEverywhere: every command that takes "--set" takes its short forms.
func TestShortFormsEverywhere(t *testing.T) {
	count := 0
	var look func(c *cobra.Command)
	look = func(c *cobra.Command) {
		for _, f := range plan.ShortForms {
			if set, short := c.Flags().Lookup("set"), c.Flags().Lookup(f.Name); (set == nil) != (short == nil) {
				t.Errorf("%s has one of --set and --%s", c.CommandPath(), f.Name)
			} else if set != nil {
				count++
			}
		}
		for _, sub := range c.Commands() {
			look(sub)
		}
	}
	look(newRoot(new(streams)))
	if count < 11*len(plan.ShortForms) {
		t.Errorf("only %d flags of commands", count)
	}
}

// TestShortForms: the moves are those of the plan that says the same, in every command alike;
// a slot of the plan that a flag takes away is an error there.
func TestShortForms(t *testing.T) {
	dir := t.TempDir()
	t.Chdir("../../testdata/demo")
	short := []string{"--missing", "tray B3", "--filled", "tray A1:B6", "--missing", "rack A2", "--missing", "rack A4", "--filled", "tray D1"}
	long := []string{"--set", "grids.tray.missing=[B3]", "--set", "grids.tray.filled=[A1:B6, D1]", "--set", "grids.rack.missing=[A2, A4]"}
	moves := func(set []string) string {
		status, out, said := command(append([]string{"moves", "mortar-cubes.plan.yaml", "--format", "csv"}, set...)...)
		if status != fine || strings.Contains(out, "tray B3") {
			t.Fatalf("status %d\n%s", status, said)
		}
		return out
	}
	if one, other := moves(short), moves(long); one != other {
		t.Errorf("the short forms give\n%s\ninstead of\n%s", one, other)
	}
	program := func(set ...string) string {
		status, out, said := command(append([]string{"write", "mortar-cubes.plan.yaml", "--family", "iso6983", "-o", "-"}, set...)...)
		if status != fine {
			t.Fatal(said)
		}
		return out
	}
	file := filepath.Join(dir, "job.nc")
	if err := os.WriteFile(file, []byte(program(short...)), 0o666); err != nil {
		t.Fatal(err)
	}
	status, out, said := command(append([]string{"verify", file, "--plan", "mortar-cubes.plan.yaml", "--family", "iso6983"}, short...)...)
	if status != fine {
		t.Errorf("verify: status %d\n%s%s", status, out, said)
	}
	if status, out, _ = command("verify", file, "--plan", "mortar-cubes.plan.yaml", "--family", "iso6983"); status != findings || out == "" {
		t.Errorf("verify without the flags: status %d\n%s", status, out)
	}
	one, other := program("--missing", "tray C3"), program("--filled", "tray C3")
	if seal(one) == seal(other) || seal(one) == seal(program()) {
		t.Error("a seal does not know which flag was given")
	}
	status, _, said = command("check", "mortar-cubes.plan.yaml", "--set", "transfers.1.chain.1=tray A1, B3", "--missing", "tray B3")
	if status != findings || !strings.Contains(said, `--set[1]:1:30: error: the slot "B3" is one that the grid "tray" does not have`) || !strings.Contains(said, "--missing") {
		t.Errorf("a missing slot that an entry names: %s", said)
	}
}

// seal is the line of a program that has the digest of what was read for it.
func seal(program string) string {
	for line := range strings.Lines(program) {
		if strings.Contains(line, "seal 2 plan") {
			return line
		}
	}
	return ""
}

// TestShortFormsOfVariants: what is broken on the bench is so in every variant, whatever it sets.
func TestShortFormsOfVariants(t *testing.T) {
	dir := varyFolder(t, "  - {name: a, set: {grids.tray.missing: [A1]}}\n  - {name: b, set: {grids.tray.rows: 3}}\n  - {name: c, set: {grids.tray.rows: 1}}\n")
	status, table, said := vary(t, dir, "--missing", "tray B3")
	if status != findings || !strings.Contains(said, `--missing[1]:1:6: error: the slot "B3" is outside the grid "tray"`) || !strings.Contains(said, `in the variant "c"`) {
		t.Errorf("status %d\n%s%s", status, table, said)
	}
	for name, set := range map[string]string{"a": "grids.tray.missing=[A1]", "b": "grids.tray.rows=3"} {
		written, _ := os.ReadFile(filepath.Join(dir, "out", name, "mortar-cubes.txt"))
		_, program, said := command("write", filepath.Join(dir, "mortar-cubes.plan.yaml"), "--family", "listing", "-o", "-", "--missing", "tray B3", "--set", set)
		if program == "" || program != string(written) || strings.Contains(program, "tray B3") {
			t.Errorf("%s is not what \"write\" gives: %s", name, said)
		}
	}
}
