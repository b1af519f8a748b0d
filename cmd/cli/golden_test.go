package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// team is a folder as a team keeps it: a plan, a family of its own, two cases.
func team(t *testing.T) {
	t.Helper()
	starter(t)
	if r := gridferry("", "families", "copy", "starter", "mine"); r.status != 0 {
		t.Fatal(r.err)
	}
	for name, text := range map[string]string{
		"cases/own/case.yaml":     "format: gridferry case 1\nplan: ../../first.plan.yaml\nfamily: ../../mine\n",
		"cases/shipped/case.yaml": "format: gridferry case 1\nplan: ../../first.plan.yaml\nfamily: iso6983\nset: [motion.speed.near=45]\n",
	} {
		put(t, name, text)
	}
}

// put writes a file, and makes its folder.
func put(t *testing.T, name, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

// golden runs the cases and asks for a status and words.
func golden(t *testing.T, status int, want string, args ...string) {
	t.Helper()
	r := gridferry("", append([]string{"golden", "."}, args...)...)
	if r.status != status || !strings.Contains(r.out+r.err, want) {
		t.Errorf("%v: status %d, wanted %d and %q:\n%s%s", args, r.status, status, want, r.out, r.err)
	}
}

func TestGoldenAcceptsWhatIsProved(t *testing.T) {
	team(t)
	golden(t, 1, "first.prog: comes out, but is not recorded")
	golden(t, 0, "2 of 2 cases passed", "--accept")
	golden(t, 0, "2 of 2 cases passed")
	if text := read(t, "cases/shipped/expected/first.nc"); !strings.Contains(text, "F2700") {
		t.Errorf("the settings of a case do not count:\n%s", text)
	}
	put(t, "cases/own/expected/stale.prog", read(t, "cases/own/expected/first.prog"))
	golden(t, 1, "stale.prog: recorded, but nothing gives it any more")
	golden(t, 0, "recorded", "--accept")
	if _, err := os.Stat("cases/own/expected/stale.prog"); err == nil {
		t.Error("a stale file is left")
	}
	put(t, "first.plan.yaml", strings.Replace(read(t, "first.plan.yaml"), "near: 50", "near: 40", 1))
	golden(t, 1, "speed=40.0")
	golden(t, 1, "1 of 2 cases passed") // the other one sets that speed itself, and that its seal tells of another plan does not count
}

func TestGoldenRecordsNothingUnproved(t *testing.T) {
	team(t)
	template, rules := read(t, "mine/program.tmpl"), read(t, "mine/family.yaml")
	for _, c := range []struct{ what, template, rules, want string }{
		{"nonsense", strings.Replace(template, "begin {{", "begin -0 {{", 1), strings.Replace(rules, "begin ", "begin -0 ", 1), `cannot be recorded: first.prog:10: " -0 " in "begin -0 `},
		{"what does not read back", strings.Replace(template, "y={{.Y}}", "y={{.Z}}", 1), rules, "[read-back-differs]"},
		{"a family that is not read back", template, rules[:strings.Index(rules, "reads:")], "cannot be recorded: the family does not say how its lines read"},
		{"a template that fails", strings.Replace(template, "{{.Seconds}}", "{{.Second}}", 1), rules, "[unknown-field]"},
	} {
		put(t, "mine/program.tmpl", c.template)
		put(t, "mine/family.yaml", c.rules)
		os.RemoveAll("cases/own/expected")
		golden(t, 1, c.want, "--accept")
		if _, err := os.Stat("cases/own/expected"); err == nil {
			t.Errorf("%s is recorded", c.what)
		}
	}
}

func TestGoldenMisuse(t *testing.T) {
	team(t)
	if r := gridferry("", "golden", "mine"); r.status != 2 || !strings.Contains(r.err, "holds no case") {
		t.Errorf("a folder without cases: %+v", r)
	}
	if r := gridferry("", "golden"); r.status != 2 {
		t.Errorf("no folder: %+v", r)
	}
	put(t, "cases/own/case.yaml", "format: gridferry case 1\nplan: p.yaml\n")
	golden(t, 1, "cases/own/case.yaml:1:1: error: a case needs \"family\" [missing-key]")
	put(t, "cases/own/case.yaml", "format: gridferry case 1\nplan: p.yaml\nfamily: st\n")
	golden(t, 1, "cases/own/case.yaml:2:7: error: the plan \"p.yaml\" cannot be read: no such file or directory [plan-unreadable]\n    plan: p.yaml\n")
	golden(t, 1, "1 of 2 cases passed", "--accept")
}

// TestGoldenLeavesForeignFiles: what golden did not record stays, and is named.
func TestGoldenLeavesForeignFiles(t *testing.T) {
	team(t)
	golden(t, 0, "2 of 2 cases passed", "--accept")
	put(t, "cases/own/expected/READ-BY.txt", "Ada, on the bench\n")
	put(t, "cases/own/expected/by-hand.prog", "begin\n")
	put(t, "first.plan.yaml", strings.Replace(read(t, "first.plan.yaml"), "near: 50", "near: 40", 1))
	golden(t, 0, "cases/own/expected: golden did not record \"READ-BY.txt\", and leaves it there\n", "--accept")
	golden(t, 0, "golden did not record \"by-hand.prog\"")
	if read(t, "cases/own/expected/READ-BY.txt") != "Ada, on the bench\n" || read(t, "cases/own/expected/by-hand.prog") != "begin\n" {
		t.Error("a foreign file is not as it was")
	}
}

// TestGoldenKeepsHandwork: a program that nothing gives any more, and that may have been
// changed by hand, is not removed, and nothing is recorded beside it.
func TestGoldenKeepsHandwork(t *testing.T) {
	team(t)
	golden(t, 0, "recorded", "--accept")
	program, rules := read(t, "cases/own/expected/first.prog"), read(t, "mine/family.yaml")
	mute := strings.Replace(rules, "comment: {open: \"# \"}", "comment: none", 1)
	for _, c := range []struct{ what, old, rules string }{
		{"changed by hand", strings.Replace(program, "begin ", "begin  ", 1), rules},
		{"of a family without seals", "x\n", mute},
	} {
		put(t, "mine/family.yaml", c.rules)
		put(t, "cases/own/expected/old.prog", c.old)
		golden(t, 1, "old.prog: recorded, but nothing gives it any more")
		golden(t, 1, "cannot be recorded: old.prog: nothing gives it any more, and nothing shows that it is as it was recorded: move it away", "--accept")
		if read(t, "cases/own/expected/old.prog") != c.old || read(t, "cases/own/expected/first.prog") != program {
			t.Errorf("%s: something is not as it was", c.what)
		}
	}
}
