package golden

import (
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/golden/corpus"
	"gridferry/templates"
)

var update = flag.Bool("update", false, "prove what comes out, then record it")

// updating tells whether what comes out is recorded: by the flag, or by an environment
// variable, which a run of all packages can be given.
func updating() bool { return *update || os.Getenv("GRIDFERRY_UPDATE") != "" }

const demoFolder = "../testdata/demo"

// TestDemo holds the moves, the findings and the programs of every demo plan
// to what was read and recorded.
func TestDemo(t *testing.T) {
	recorded := absolute(t, "demo")
	t.Chdir(demoFolder)
	held := append(corpus.Plans(t, ""), "worklist.plan.yaml") // whose programs are written in several chunks
	var names []string
	for _, plan := range corpus.All(t, "") {
		name := strings.TrimSuffix(plan, ".plan.yaml")
		names = append(names, name)
		t.Run(name, func(t *testing.T) {
			if testing.Short() && !updating() && !slices.Contains(held, plan) {
				t.Skip("skipped, as -short asks: others stand for it")
			}
			hold(t, filepath.Join(recorded, name), func() files { return demoFiles(plan) })
		})
	}
	holdNames(t, recorded, names)
}

// TestBadPlansAsPeopleReadThem keeps the whole text of every bad plan's
// findings, for reading.
func TestBadPlansAsPeopleReadThem(t *testing.T) {
	if testing.Short() && !updating() {
		t.Skip("skipped, as -short asks: TestBadPlans runs them all")
	}
	recorded := absolute(t, "bad")
	t.Chdir(badFolder)
	plans := badPlans(t)
	hold(t, recorded, func() files {
		var b strings.Builder
		for _, plan := range plans {
			command := readBad(t, plan).command("text")
			fmt.Fprintf(&b, "$ gridferry %s\n%s\n", strings.Join(command, " "), run(command...).stderr)
		}
		return files{"findings.txt": b.String()}
	})
}

// demoFiles makes all that is kept of one plan, at three depths.
func demoFiles(plan string) files {
	out := files{}
	add(out, "check", run("check", plan), "txt")
	add(out, "moves", run("moves", plan, "--format", "csv"), "csv")
	add(out, "manifest", run("manifest", plan), "csv")
	for _, name := range templates.All() {
		add(out, name, run("write", plan, "--family", name, "-o", "-"), "txt")
	}
	return out
}

// add keeps what a command wrote: its output where it has one, what it said
// where it failed or wrote nothing.
func add(f files, name string, r result, extension string) {
	if r.stdout != "" {
		f[name+"."+extension] = short(r.stdout)
	}
	if r.status != 0 {
		f[name+".failed.txt"] = fmt.Sprintf("%sstatus %d\n", r.stderr, r.status)
	} else if r.stdout == "" {
		f[name+"."+extension] = r.stderr
	}
}

// longest is how many bytes are kept as they are; of more, only the ends and a
// digest are.
const longest = 300_000

func short(text string) string {
	if len(text) <= longest {
		return text
	}
	const head, tail = 60, 15
	lines := strings.SplitAfter(text, "\n")
	return fmt.Sprintf("%s… %d lines, %d bytes, SHA-256 %x …\n%s",
		strings.Join(lines[:head], ""), len(lines), len(text), sha256.Sum256([]byte(text)), strings.Join(lines[len(lines)-tail:], ""))
}

// holdNames reports recorded cases that no plan stands behind any more.
func holdNames(t *testing.T, recorded string, names []string) {
	entries, err := os.ReadDir(recorded)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if slices.Contains(names, e.Name()) {
			continue
		}
		t.Errorf("%s is recorded, but there is no such plan", e.Name())
	}
}

func absolute(t *testing.T, path string) string {
	t.Helper()
	full, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	return full
}
