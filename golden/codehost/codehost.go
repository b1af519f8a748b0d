// Package codehost asks what code hosts publish about what they read.
package codehost

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/golden/outside"
)

// Properties are those of an annotation, as npm's @actions/core calls them.
type Properties struct {
	Title       string `json:"title,omitempty"`
	File        string `json:"file,omitempty"`
	StartLine   int    `json:"startLine,omitempty"`
	StartColumn int    `json:"startColumn,omitempty"`
}

var annotator = outside.Script{Folder: "codehost", File: "annotate.js", Packages: []string{"@actions/core"}}

// Annotation is the line by which @actions/core, GitHub's own library for actions, makes an annotation.
func Annotation(t testing.TB, severity, message string, p Properties) string {
	t.Helper()
	var line string
	annotator.Ask(t, map[string]any{"severity": severity, "message": message, "properties": p}, &line)
	return line
}

// multitool is the folder of the validator that the authors of the SARIF SDK publish, with the
// schema of the standard beside it.
const multitool = "node_modules/@microsoft/sarif-multitool-linux"

// Schema is the text of the schema of SARIF 2.1.0.
func Schema(t testing.TB, folder string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(folder, multitool, "sarif-2.1.0.json"))
	if err != nil {
		outside.Missing(t, err)
	}
	return text
}

// Faults is what the validator says against a log: by the standard, and by what GitHub asks for
// beyond it. The lines begin with the severity and the name of a rule.
func Faults(t testing.TB, folder, log string) []string {
	t.Helper()
	outside.Short(t)
	tool := filepath.Join(folder, multitool, "Sarif.Multitool")
	if _, err := exec.LookPath(tool); err != nil { // npm leaves it to a script to make it executable
		outside.Missing(t, err)
	}
	command := exec.Command(tool, "validate", log, "--rule-kind", "Sarif;Ghas")
	command.Env = append(os.Environ(), "DOTNET_SYSTEM_GLOBALIZATION_INVARIANT=1") // it comes without ICU
	said, err := command.CombinedOutput()
	if !strings.Contains(string(said), "Analysis completed successfully") {
		t.Fatalf("%v\n%s", err, said)
	}
	var faults []string
	for line := range strings.Lines(string(said)) {
		if _, fault, ok := strings.Cut(line, "): "); ok {
			faults = append(faults, strings.TrimSpace(fault))
		}
	}
	return faults
}
