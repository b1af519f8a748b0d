package golden

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"gridferry/golden/codehost"
	"gridferry/golden/outside"
)

// The tests here hold what goes to code hosts and editors to what those publish: SARIF 2.1.0 to the
// schema of the standard and to the validator of its SDK, annotations to GitHub's own library.

// sarifLog is as much of a log as the tests look at.
type sarifLog struct {
	Runs []struct {
		Tool struct {
			Driver struct{ Rules []struct{ ID string } }
		}
		Results []sarifResult
	}
}

type sarifResult struct {
	RuleID       string
	RuleIndex    int
	Level        string
	Message      struct{ Text string }
	Locations    []sarifLocation
	Fixes        []struct{ ArtifactChanges []sarifChange }
	Suppressions []any
}

type sarifChange struct {
	ArtifactLocation struct{ URI string }
	Replacements     []struct {
		DeletedRegion   sarifRegion
		InsertedContent struct{ Text string }
	}
}

type sarifLocation struct {
	PhysicalLocation struct {
		ArtifactLocation struct{ URI, URIBaseID string }
		Region           sarifRegion
	}
	LogicalLocations []struct{ FullyQualifiedName string }
}

type sarifRegion struct{ StartLine, StartColumn, EndColumn int }

// TestSarifOfBadPlans: a log of everything that can be wrong is valid, and says what JSON says.
func TestSarifOfBadPlans(t *testing.T) {
	outside.Short(t)
	packages := absolute(t, "codehost")
	schema := codehost.Schema(t, packages)
	log := filepath.Join(t.TempDir(), "bad.sarif")
	t.Chdir(badFolder)
	r := checkedTogether("sarif")
	if r.status != 1 {
		t.Fatalf("status %d: %s", r.status, r.stderr)
	}
	holdToSarif(t, schema, r.stdout)
	if err := os.WriteFile(log, []byte(r.stdout), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, fault := range codehost.Faults(t, packages, log) {
		if !strings.HasPrefix(fault, "warning SARIF2005:") && !strings.HasPrefix(fault, "warning SARIF2017:") {
			t.Error(fault)
		}
		// 2005: we have no address to give. 2017: a file that cannot be read at all has no region.
	}
	checkSameFindings(t, readSarif(t, r.stdout), checkedTogether("json").stdout)
}

// holdToSarif holds a log to the schema of the standard.
func holdToSarif(t *testing.T, schema []byte, log string) {
	t.Helper()
	document, err := jsonschema.UnmarshalJSON(strings.NewReader(string(schema)))
	if err != nil {
		t.Fatal(err)
	}
	compiler := jsonschema.NewCompiler()
	compiler.AssertFormat()
	const at = "https://schemas.example/sarif.json"
	if err := compiler.AddResource(at, document); err != nil {
		t.Fatal(err)
	}
	compiled, err := compiler.Compile(at)
	if err != nil {
		t.Fatal(err)
	}
	value, err := jsonschema.UnmarshalJSON(strings.NewReader(log))
	if err != nil {
		t.Fatal(err)
	}
	if err := compiled.Validate(value); err != nil {
		t.Error(err)
	}
	spoilt := strings.Replace(log, `"level": "error"`, `"level": "grave"`, 1)
	if value, err = jsonschema.UnmarshalJSON(strings.NewReader(spoilt)); err != nil || compiled.Validate(value) == nil {
		t.Errorf("the schema takes a level that there is not: %v", err)
	}
}

func readSarif(t *testing.T, text string) *sarifLog {
	t.Helper()
	log := new(sarifLog)
	if err := json.Unmarshal([]byte(text), log); err != nil || len(log.Runs) != 1 {
		t.Fatalf("%v, %d runs", err, len(log.Runs))
	}
	return log
}

// checkSameFindings: each finding is in both, at the same place; columns are counted otherwise.
func checkSameFindings(t *testing.T, log *sarifLog, text string) {
	t.Helper()
	var all []finding
	if err := json.Unmarshal([]byte(text), &all); err != nil {
		t.Fatal(err)
	}
	run := log.Runs[0]
	if len(all) < 500 || len(run.Results) != len(all) {
		t.Fatalf("%d findings and %d results", len(all), len(run.Results))
	}
	for i, f := range all {
		r := run.Results[i]
		said := strings.TrimSuffix(f.Message+"\nhint: "+f.Hint, "\nhint: ")
		if r.RuleID != f.Rule || run.Tool.Driver.Rules[r.RuleIndex].ID != f.Rule || r.Level != f.Severity || r.Message.Text != said || r.Suppressions != nil {
			t.Errorf("result %d is %+v, wanted %+v", i, r, f)
		}
		checkRegion(t, f, r)
	}
}

func checkRegion(t *testing.T, f finding, r sarifResult) {
	t.Helper()
	at := r.Locations[0].PhysicalLocation
	if strings.HasPrefix(f.File, "--") {
		return // a flag is no file
	}
	if at.ArtifactLocation.URI != f.File || at.ArtifactLocation.URIBaseID != "%SRCROOT%" || at.Region.StartLine != f.Line {
		t.Errorf("%+v stands at %+v", f, at)
	}
	if f.Column > 0 {
		before, _ := split(t, f)
		if want := len(utf16.Encode([]rune(before))) + 1; at.Region.StartColumn != want || at.Region.EndColumn < want {
			t.Errorf("%+v stands at columns %+v, wanted %d", f, at.Region, want)
		}
	}
}

// split is the line of a finding before its column and behind. A byte order mark is no character of it.
func split(t *testing.T, f finding) (before, rest string) {
	t.Helper()
	line := []rune(linesOf(t, f.File)[f.Line-1])
	n := min(f.Column-1, len(line))
	return string(line[:n]), string(line[n:])
}

var anyLineEnd = regexp.MustCompile("\r\n|\r|\n")

func linesOf(t *testing.T, file string) []string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return anyLineEnd.Split(strings.TrimPrefix(string(text), "\ufeff"), -1)
}

// TestFixesMend: what a fix changes takes its finding away, and brings no other one to its line.
func TestFixesMend(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: every fix is tried")
	}
	copied := t.TempDir()
	if err := os.CopyFS(copied, os.DirFS("../testdata")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(filepath.Join(copied, "bad"))
	fixed := 0
	for _, plan := range badPlans(t) {
		c := readBad(t, plan)
		if c.family != "" {
			continue // those findings come of "write"
		}
		for _, r := range readSarif(t, run(c.command("sarif")...).stdout).Runs[0].Results {
			for _, fix := range r.Fixes {
				fixed++
				checkFix(t, c, r, fix.ArtifactChanges[0])
			}
		}
	}
	if fixed < 20 {
		t.Errorf("only %d fixes were tried", fixed)
	}
}

// checkFix makes the change, looks what is found then, and takes it back.
func checkFix(t *testing.T, c *badCase, r sarifResult, change sarifChange) {
	t.Helper()
	file, at := change.ArtifactLocation.URI, change.Replacements[0].DeletedRegion
	was, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	lines := linesOf(t, file)
	units := utf16.Encode([]rune(lines[at.StartLine-1]))
	text := change.Replacements[0].InsertedContent.Text
	lines[at.StartLine-1] = string(utf16.Decode(units[:at.StartColumn-1])) + text + string(utf16.Decode(units[at.EndColumn-1:]))
	if err := os.WriteFile(file, []byte(strings.Join(lines, "\n")), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, now := range readSarif(t, run(c.command("sarif")...).stdout).Runs[0].Results {
		if len(now.Locations) == 0 {
			continue
		}
		p := now.Locations[0].PhysicalLocation
		if p.ArtifactLocation.URI == file && p.Region.StartLine == at.StartLine && p.Region.StartColumn <= at.StartColumn && at.StartColumn < max(p.Region.EndColumn, p.Region.StartColumn+1) {
			t.Errorf("%s: %s, mended as %q: %s\n%s", c.plan, r.Message.Text, text, now.Message.Text, lines[at.StartLine-1])
		}
	}
	if err := os.WriteFile(file, was, 0o666); err != nil {
		t.Fatal(err)
	}
}

// notedFinding is a finding with its notes.
type notedFinding struct {
	finding
	Notes []struct {
		File         string
		Line, Column int
		Message      string
	}
}

// TestAnnotations: every finding is written as GitHub's library writes it, one to a line.
func TestAnnotations(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: every finding is looked at")
	}
	t.Chdir(badFolder)
	r := checkedTogether("github")
	var all []notedFinding
	if err := json.Unmarshal([]byte(checkedTogether("json").stdout), &all); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(r.stdout, "\n"), "\n")
	if r.status != 1 || len(lines) != len(all) || len(all) < 500 {
		t.Fatalf("status %d, %d lines for %d findings", r.status, len(lines), len(all))
	}
	for i, f := range all {
		p := codehost.Properties{Title: f.Rule, File: f.File, StartLine: f.Line, StartColumn: f.Column}
		message := f.Message + "\n"
		if f.Hint != "" {
			message += "hint: " + f.Hint + "\n"
		}
		for _, n := range f.Notes {
			if at := place(n.File, n.Line, n.Column); at != "" {
				message += at + ": "
			}
			message += n.Message + "\n"
		}
		if strings.HasPrefix(f.File, "--") {
			message, p = place(f.File, f.Line, f.Column)+": "+message, codehost.Properties{Title: f.Rule}
		}
		want := codehost.Annotation(t, f.Severity, message+"see: gridferry help rule "+f.Rule, p)
		if lines[i]+"\n" != want {
			t.Errorf("%q\nis not as @actions/core has it:\n%q", lines[i], want)
		}
	}
}

// place is a place as messages have it.
func place(file string, line, column int) string {
	if line == 0 {
		return file
	}
	if column == 0 {
		return fmt.Sprintf("%s:%d", file, line)
	}
	return fmt.Sprintf("%s:%d:%d", file, line, column)
}

// TestOddNamesInAnnotations: nothing in a name or a message ends a command or begins another one.
func TestOddNamesInAnnotations(t *testing.T) {
	if runtime.GOOS == "windows" {
		outside.Missing(t, errors.New("no file has such a name here"))
	}
	t.Chdir(t.TempDir())
	const odd = "a,b:c%d\r\n::add-mask::e.plan.yaml"
	if err := os.WriteFile(odd, []byte("format: gridferry plan 1\n\"t\\n::error::x%2C\": 1\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	r := run("check", odd, "--format", "github")
	if r.status != 1 || r.stdout == "" {
		t.Fatalf("%+v", r)
	}
	var all []finding
	if err := json.Unmarshal([]byte(run("check", odd, "--format", "json").stdout), &all); err != nil {
		t.Fatal(err)
	}
	for i, line := range strings.Split(strings.TrimSuffix(r.stdout, "\n"), "\n") {
		want := codehost.Annotation(t, all[i].Severity, "x", codehost.Properties{Title: all[i].Rule, File: odd, StartLine: all[i].Line, StartColumn: all[i].Column})
		if head, _ := strings.CutSuffix(want, "x\n"); !strings.HasPrefix(line, head) {
			t.Errorf("%q does not begin with %q", line, head)
		}
	}
}
