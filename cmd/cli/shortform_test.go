package cli

import (
	"os"
	"path/filepath"
	"slices"
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
	look(newRoot(new(streams), nil))
	if count < 12*len(plan.ShortForms) {
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

// TestMissingToday: a slot that is broken today may have an offset in the plan, and be one of those that it
// calls filled. Then it is not there; but what is said today is not said by mistake.
func TestMissingToday(t *testing.T) {
	t.Chdir("../../testdata/demo")
	const plan = "mortar-cubes.plan.yaml"
	set := []string{"--set", "grids.tray.offsets={C3: [0, 0, 1], C4: [0, 0, 2]}", "--set", "grids.tray.filled=[C3, C4, D1]"}
	for _, tt := range []struct {
		flags  []string
		status int
		want   string
	}{
		{[]string{"--missing", "tray C3"}, fine, "tray, 4 × 6: 2 before"},
		{[]string{"--missing", "tray C3", "--missing", "tray C4"}, fine, "tray, 4 × 6: 1 before"},
		{[]string{"--missing", "tray C3", "--filled", "tray C3, C4"}, findings, "--filled[1]:1:6: error: the slot \"C3\" is one that the grid \"tray\" does not have"},
		{[]string{"--missing", "tray C3", "--filled", "tray C3:C5"}, fine, "tray, 4 × 6: 2 before"},
		{[]string{"--missing", "tray B3"}, fine, "tray, 4 × 6: 3 before"}, // the plan says that, too
	} {
		status, out, said := command(slices.Concat([]string{"check", plan, "--slots"}, set, tt.flags)...)
		if status != tt.status || !strings.Contains(out+said, tt.want) {
			t.Errorf("%v: status %d, wanted %q\n%s%s", tt.flags, status, tt.want, out, said)
		}
	}
	status, _, said := command("check", plan, "--set", "grids.tray.offsets={B3: [0, 0, 1]}")
	if status != findings || !strings.Contains(said, "slot-missing") {
		t.Errorf("an offset of a slot that the plan calls missing: status %d\n%s", status, said)
	}
}

// TestContentsToday: a flag names its file as who types it sees it, takes the place of what the plan says, and
// a slot that is not there holds no part.
func TestContentsToday(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(filepath.Join(dir, "job"), os.DirFS("../../testdata/demo")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	const plan = "job/mortar-cubes.plan.yaml"
	put(t, "today's tray.csv", []byte("\ufeffslot;id\r\nA1;M7\r\nC4;=9\r\n"))
	status, out, said := command("manifest", plan, "--contents", "tray today's tray.csv")
	if status != fine || !strings.Contains(out, "\nM7,cube,tray A1,rack A1,balance A1,2,") || !strings.Contains(out, "\n'=9,cube,tray C4,rack A2,balance A1,4,") || strings.Count(out, "\n") != 3 {
		t.Errorf("status %d\n%s%s", status, out, said)
	}
	for _, tt := range []struct {
		flags []string
		want  string
	}{
		{[]string{"--contents", "tray today's tray.csv", "--missing", "tray C4"}, `today's tray.csv:3:1: error: the slot "C4" is one that the grid "tray" does not have`},
		{[]string{"--contents", "tray today's tray.csv", "--filled", "tray A1"}, "contents-differ"},
		{[]string{"--contents", "tray tomorrow.csv"}, `--contents[1]:1:6: error: the table of contents "tomorrow.csv" cannot be read: no such file or directory`},
		{[]string{"--contents", "tray job"}, `cannot be read: is a folder`},
		{[]string{"--contents", "tray -"}, `cannot be read: a table is not read from standard input`},
		{[]string{"--contents", "tray today's tray.csv", "--contents", "tray other.csv"}, `--contents[2]:1:1: error: the contents of "tray" are given already [said-twice]`},
		{[]string{"--set", "grids.tray.filled=null", "--set", "grids.tray.contents=../today's tray.csv"}, `the path leads out of the plan's folder`},
	} {
		status, _, said := command(append([]string{"check", plan}, tt.flags...)...)
		if status != findings || !strings.Contains(said, tt.want) {
			t.Errorf("%v: status %d, wanted %q\n%s", tt.flags, status, tt.want, said)
		}
	}
	if status, _, _ := command("write", plan, "--contents", "tray today's tray.csv", "--family", "iso6983", "-o", "today's tray.csv"); status == fine {
		t.Errorf("wrote into the folder %q", "today's tray.csv")
	}
	put(t, "job/planned.csv", []byte("slot;id\nA1;M7\nC4;M8\n"))
	status, out, said = command("manifest", plan, "--set", "grids.tray.filled=[A1, C4]", "--set", "grids.tray.contents=planned.csv", "--missing", "tray C4")
	if status != fine || !strings.Contains(out, "\nM7,cube,tray A1,") || strings.Contains(out, "M8") || strings.Count(out, "\n") != 2 {
		t.Errorf("a slot that the plan's own table lists is missing today: status %d\n%s%s", status, out, said)
	}
	one := mustWrite(t, plan, "--contents", "tray today's tray.csv")
	if err := os.Rename("today's tray.csv", "tray.csv"); err != nil {
		t.Fatal(err)
	}
	if other := mustWrite(t, plan, "--contents", "tray tray.csv"); one != other {
		t.Error("the name of a table shows in the program")
	}
	put(t, "tray.csv", []byte("slot;id\nA1;M7\nC4;8\n"))
	if other := mustWrite(t, plan, "--contents", "tray tray.csv"); seal(one) == seal(other) {
		t.Error("what a table says does not show in the seal")
	}
}

func mustWrite(t *testing.T, plan string, flags ...string) string {
	t.Helper()
	status, out, said := command(append([]string{"write", plan, "--family", "iso6983", "-o", "-"}, flags...)...)
	if status != fine {
		t.Fatal(said)
	}
	return out
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
