// Package npm lets parsers from outside the project read word-address
// programs: the npm packages gcode 0.4.0 and gcode-parser 2.2.0 (both MIT),
// through judge.js. They are set up once with
//
//	npm ci --ignore-scripts
//
// in this folder. Tests are skipped where that has not been done, unless the
// environment variable GRIDFERRY_REQUIRE_OUTSIDE is set: then they fail.
package npm

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Require is the environment variable that turns a skip into a failure.
const Require = "GRIDFERRY_REQUIRE_OUTSIDE"

// ErrMissing says that the outside parsers are not set up.
var ErrMissing = errors.New("node or the packages are missing")

// A Report is what the parsers make of a program; lines that are blank or hold
// only "%" are left out.
type Report struct{ Lines []Line }

// A Line is one line of the program, read twice.
type Line struct {
	Line    int // from 1
	Text    string
	Grammar Reading // by gcode
	Tokens  Reading // by gcode-parser
}

// A Reading is one parser's view of a line.
type Reading struct {
	Words []Word
	// Position maps each axis letter placed so far to its value after the
	// line, mm and degrees (G20, G21, G90, G91 followed).
	Position map[string]float64
	Error    string // "" when the parser accepts the line
}

// A Word is a letter and its number; N is left out.
type Word struct {
	Letter string
	Value  float64
}

// UnmarshalJSON reads ["X", 1.5].
func (w *Word) UnmarshalJSON(data []byte) error {
	return json.Unmarshal(data, &[]any{&w.Letter, &w.Value})
}

// Faults lists every refusal by line, a message each.
func (r Report) Faults() []string {
	var faults []string
	for _, l := range r.Lines {
		if l.Grammar.Error != "" {
			faults = append(faults, fmt.Sprintf("line %d %q: gcode: %s", l.Line, l.Text, l.Grammar.Error))
		}
		if l.Tokens.Error != "" {
			faults = append(faults, fmt.Sprintf("line %d %q: gcode-parser: %s", l.Line, l.Text, l.Tokens.Error))
		}
	}
	return faults
}

// Judge runs the parsers for a test. It skips the test where they are
// missing, or fails it when GRIDFERRY_REQUIRE_OUTSIDE is set.
func Judge(t testing.TB, program string) Report {
	t.Helper()
	report, err := Run(program)
	switch {
	case err == nil:
	case errors.Is(err, ErrMissing) && os.Getenv(Require) == "":
		t.Skipf("skipped: %v (run npm ci --ignore-scripts in golden/npm)", err)
	default:
		t.Fatal(err)
	}
	return report
}

// Run runs the parsers; the error wraps [ErrMissing] when they are not there.
func Run(program string) (Report, error) {
	folder, err := folder()
	if err != nil {
		return Report{}, err
	}
	node, err := exec.LookPath("node")
	if err != nil {
		return Report{}, fmt.Errorf("%w: no node on the path", ErrMissing)
	}
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(node, "judge.js")
	cmd.Dir, cmd.Stdin, cmd.Stdout, cmd.Stderr = folder, strings.NewReader(program), &stdout, &stderr
	if err := cmd.Run(); err != nil {
		return Report{}, fmt.Errorf("judge.js: %w\n%s", err, stderr.Bytes())
	}
	var report Report
	err = json.Unmarshal(stdout.Bytes(), &report)
	return report, err
}

// folder finds golden/npm above the working directory, with its packages.
func folder() (string, error) {
	at, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		here := filepath.Join(at, "golden", "npm")
		if exists(filepath.Join(here, "judge.js")) {
			return here, installed(here)
		}
		above := filepath.Dir(at)
		if above == at {
			return "", fmt.Errorf("%w: no golden/npm/judge.js above the working directory", ErrMissing)
		}
		at = above
	}
}

func installed(folder string) error {
	for _, name := range []string{"gcode", "gcode-parser"} {
		if !exists(filepath.Join(folder, "node_modules", name, "package.json")) {
			return fmt.Errorf("%w: no package %s in golden/npm/node_modules", ErrMissing, name)
		}
	}
	return nil
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}
