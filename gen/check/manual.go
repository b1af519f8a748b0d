package check

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

const manualHead = `Every finding of "gridferry check", with a plan that has it and one like it that
has not. An error is what goes wrong for certain: nothing is written while there is
one. A warning is what is probably not meant, or what depends on the path that the
controller chooses. What cannot be read or resolved is found before all of these.

The examples are given as changes to this plan, which has no finding: "-" takes a
line out, "+" puts one in its place.
`

// WriteManual writes the manual page of every finding.
func WriteManual(w io.Writer) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "%s\n%s", manualHead, indented(ExamplePlan))
	for _, r := range Rules {
		for _, f := range r.Finds {
			f.write(out)
		}
	}
	return out.Flush()
}

func (f *Find) write(out io.Writer) {
	fmt.Fprintf(out, "\n%s (%s)\n%s\n", f.Name, f.Severity, indented(f.Doc))
	if f.Guard {
		fmt.Fprintf(out, "%s\n", indented("No plan can cause this: it guards the move list itself."))
		return
	}
	fmt.Fprintf(out, "  found in:\n%s", indented(string(f.Bad)))
	if f.Good == "" {
		fmt.Fprint(out, "  not found in: the plan above\n")
		return
	}
	fmt.Fprintf(out, "  not found in:\n%s", indented(string(f.Good)))
}

func indented(text string) string {
	return "    " + strings.ReplaceAll(strings.TrimSuffix(text, "\n"), "\n", "\n    ") + text[len(strings.TrimSuffix(text, "\n")):]
}

// jsonFind is a manual page as programs read it: the examples are whole plans.
type jsonFind struct {
	Rule     string `json:"rule"`
	Severity string `json:"severity"`
	Doc      string `json:"doc"`
	Bad      string `json:"bad,omitempty"`
	Good     string `json:"good,omitempty"`
}

// WriteManualJSON writes the manual as one JSON array.
func WriteManualJSON(w io.Writer) error {
	var all []jsonFind
	for _, r := range Rules {
		for _, f := range r.Finds {
			page := jsonFind{Rule: f.Name, Severity: f.Severity.String(), Doc: strings.ReplaceAll(f.Doc, "\n", " ")}
			if !f.Guard {
				page.Bad, page.Good = f.Bad.must(), f.Good.must()
			}
			all = append(all, page)
		}
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(all)
}

// must is the whole plan of an example that is part of this program.
func (e Example) must() string {
	text, err := e.Plan()
	if err != nil {
		panic(err) // a test makes every example
	}
	return text
}
