package golden

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"gridferry/golden/outside"
)

// actionlint checks workflows of GitHub Actions: their keys, expressions, the inputs of well-known
// actions, and shell scripts in them.
const actionlint = "github.com/rhysd/actionlint/cmd/actionlint@v1.7.12"

// TestWorkflow: what "init --ci" writes is a workflow by actionlint, which finds a slip in it.
func TestWorkflow(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, args := range [][]string{{"init", "--ci"}, {"init", "team", "--ci", "--repository", "acme/gridferry@v1.2.3"}} {
		if r := run(args...); r.status != 0 {
			t.Fatalf("%v: %+v", args, r)
		}
	}
	const name, pinned = ".github/workflows/gridferry.yml", "team/.github/workflows/gridferry.yml"
	if said, err := lint(t, name, pinned); err != nil {
		t.Errorf("%v\n%s", err, said)
	}
	text := contents(t, pinned)
	for _, want := range []string{"          repository: acme/gridferry\n          ref: v1.2.3\n", "permissions:\n  contents: read\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	for was, is := range map[string]string{"go-version-file": "go-version-fil", "contents: read": "contents: reed", "vars.GRIDFERRY": "var.GRIDFERRY"} {
		if err := os.WriteFile("slip.yml", []byte(strings.ReplaceAll(contents(t, name), was, is)), 0o666); err != nil {
			t.Fatal(err)
		}
		if said, err := lint(t, "slip.yml"); err == nil {
			t.Errorf("%s for %s passes: %s", is, was, said)
		}
	}
}

func lint(t *testing.T, files ...string) (string, error) {
	t.Helper()
	outside.Short(t)
	command := exec.Command("go", append([]string{"run", actionlint, "-shellcheck="}, files...)...)
	said, err := command.CombinedOutput()
	if err != nil && strings.Contains(string(said), "go: ") { // it could not be fetched
		outside.Missing(t, err)
	}
	return string(said), err
}

func contents(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestHooks: the hook that we offer to teams is one by pre-commit itself, which finds a slip in it.
func TestHooks(t *testing.T) {
	const name = "../.pre-commit-hooks.yaml"
	if !outside.Takes(t, "pre-commit", "pre-commit", "validate-manifest", name) {
		t.Error("pre-commit refuses our hooks")
	}
	slip := filepath.Join(t.TempDir(), "slip.yaml")
	if err := os.WriteFile(slip, []byte(strings.Replace(contents(t, name), "language: golang", "language: gollang", 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	if outside.Takes(t, "pre-commit", "pre-commit", "validate-manifest", slip) {
		t.Error("pre-commit takes a language that there is not")
	}
	var hooks []struct{ Entry string }
	if err := yaml.Unmarshal([]byte(contents(t, name)), &hooks); err != nil || len(hooks) != 1 {
		t.Fatalf("%v, %d hooks", err, len(hooks))
	}
	words := strings.Fields(hooks[0].Entry)
	t.Chdir(t.TempDir())
	mustRun(t, "new")
	if r := run(words[1:]...); words[0] != "gridferry" || r.status != 0 {
		t.Errorf("%q: %+v", hooks[0].Entry, r)
	}
}
