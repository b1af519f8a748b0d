// Package web checks the pages that Gridferry writes with tools from outside:
// html-validate 10.17.0 (MIT) for the markup, axe-core 4.14.1 (MPL-2.0) for
// accessibility, and a real browser, driven through playwright-core (Apache-2.0).
// The packages are set up once with
//
//	npm ci --ignore-scripts
//
// in this folder, the browser is Debian's package chromium. Tests are skipped
// where one of them is missing, unless the environment variable
// GRIDFERRY_REQUIRE_OUTSIDE is set: then they fail.
package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
)

// Require is the environment variable that turns a skip into a failure.
const Require = "GRIDFERRY_REQUIRE_OUTSIDE"

// ErrMissing says that one of the tools is not set up.
var ErrMissing = errors.New("node, the packages or the browser are missing")

// Browser is where Debian puts it.
const Browser = "/usr/bin/chromium"

// Fault is what the validator finds.
type Fault struct {
	Rule         string
	Line, Column int
	Message      string
}

// Job says how to look at a page, which is a file. Check runs the accessibility
// checker after the steps; it cannot without scripts.
type Job struct {
	Page     string `json:"page"`
	Width    int    `json:"width,omitempty"`  // 1280 if 0
	Height   int    `json:"height,omitempty"` // 900 if 0
	Dark     bool   `json:"dark,omitempty"`
	NoScript bool   `json:"no_script,omitempty"`
	Check    bool   `json:"check,omitempty"`
	Steps    []Step `json:"steps,omitempty"`
}

// Step is one thing to do on a page: press (a key), hover, focus or click (a CSS
// selector), type (a text), wait (until an expression holds), read (the value of
// an expression), shoot (a picture, to a file; Full takes the whole page), print
// (as it would look on paper).
type Step struct {
	Do   string `json:"do"`
	On   string `json:"on"`
	Full bool   `json:"full,omitempty"`
}

// Sight is what was seen. Values has one entry for each step; only read gives
// more than null.
type Sight struct {
	Requests   []string // addresses; a page that stands alone makes one
	Complaints []string // errors and warnings of the browser's console
	Violations []Violation
	Values     []json.RawMessage
}

// Violation is what the accessibility checker finds. Impact is minor, moderate,
// serious or critical.
type Violation struct {
	Rule, Impact, Help string
	Nodes              []string
}

// Serious are the violations that keep people out.
func (s Sight) Serious() []Violation {
	var out []Violation
	for _, v := range s.Violations {
		if v.Impact == "serious" || v.Impact == "critical" {
			out = append(out, v)
		}
	}
	return out
}

// Validate gives what the validator finds in a page.
func Validate(t testing.TB, page []byte) []Fault {
	t.Helper()
	var faults []Fault
	run(t, "validate.js", page, &faults)
	return faults
}

// Look opens a page in the browser.
func Look(t testing.TB, job Job) Sight {
	t.Helper()
	return LookAll(t, []Job{job})[0]
}

// LookAll is Look for several pages, one after the other in the same browser but
// with nothing else in common.
func LookAll(t testing.TB, jobs []Job) []Sight {
	t.Helper()
	if !exists(Browser) {
		missing(t, fmt.Errorf("%w: no %s (apt-get install chromium)", ErrMissing, Browser))
	}
	request := struct {
		Browser string `json:"browser"`
		Jobs    []Job  `json:"jobs"`
	}{Browser, slices.Clone(jobs)}
	for i := range request.Jobs {
		full, err := filepath.Abs(jobs[i].Page)
		if err != nil {
			t.Fatal(err)
		}
		request.Jobs[i].Page = full
	}
	data, err := json.Marshal(request)
	if err != nil {
		t.Fatal(err)
	}
	var sights []Sight
	run(t, "look.js", data, &sights)
	if len(sights) != len(jobs) {
		t.Fatalf("%d pages were seen of %d", len(sights), len(jobs))
	}
	return sights
}

// run hands input to one of the scripts and decodes what it prints.
func run(t testing.TB, script string, input []byte, result any) {
	t.Helper()
	out, err := runScript(script, input)
	if errors.Is(err, ErrMissing) {
		missing(t, err)
	}
	if err == nil {
		err = json.Unmarshal(out, result)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// missing skips a test, or fails it where nothing may be missing.
func missing(t testing.TB, err error) {
	t.Helper()
	if os.Getenv(Require) != "" {
		t.Fatal(err)
	}
	t.Skipf("skipped: %v", err)
}

func runScript(script string, input []byte) ([]byte, error) {
	node, err := exec.LookPath("node")
	if err != nil {
		return nil, fmt.Errorf("%w: no node on the path", ErrMissing)
	}
	folder := Folder()
	for _, name := range []string{"html-validate", "axe-core", "playwright-core"} {
		if !exists(filepath.Join(folder, "node_modules", name, "package.json")) {
			return nil, fmt.Errorf("%w: no package %s (npm ci --ignore-scripts in golden/web)", ErrMissing, name)
		}
	}
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(node, script)
	cmd.Dir, cmd.Stdin, cmd.Stdout, cmd.Stderr = folder, bytes.NewReader(input), &stdout, &stderr
	if err := cmd.Run(); err != nil {
		return nil, fmt.Errorf("%s: %w\n%s", script, err, stderr.Bytes())
	}
	return stdout.Bytes(), nil
}

// Folder is where this package's scripts are.
func Folder() string {
	_, file, _, _ := runtime.Caller(0)
	return filepath.Dir(file)
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}
