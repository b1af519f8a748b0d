package manual

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

const manualHead = `Every finding, with an example that has it and one like it that has not. An error is
what goes wrong for certain: nothing is written while there is one. A warning is what
is probably not meant, or what depends on the path that the controller chooses.

The examples are given as changes to the plan below, which has no finding: "-" takes a
line out, "+" puts one in its place. Behind "== NAME" they are to another file: that of
a family is the shipped family "starter", any other is new.
`

// Manual is the pages of all rules, in the order in which they are printed.
type Manual []Page

// Page is the page of a rule, nil where there is none.
func (m Manual) Page(name string) *Page {
	for i := range m {
		if m[i].Name == name {
			return &m[i]
		}
	}
	return nil
}

// Write writes all pages for people.
func (m Manual) Write(w io.Writer) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "%s\n%s", manualHead, indented(ExamplePlan))
	for i := range m {
		fmt.Fprintln(out)
		m[i].write(out)
	}
	return out.Flush()
}

// Write writes one page for people.
func (p *Page) Write(w io.Writer) error {
	out := bufio.NewWriter(w)
	p.write(out)
	if p.Unshown == "" {
		fmt.Fprint(out, "\nExamples are changes to the plan with which \"gridferry check --rules\" begins.\n")
	}
	return out.Flush()
}

func (p *Page) write(out io.Writer) {
	fmt.Fprintf(out, "%s (%s)\n%s\n", p.Name, p.Severity, indented(p.Doc))
	fmt.Fprintf(out, "  what to do:\n%s\n", indented(p.Do))
	if p.Unshown != "" {
		fmt.Fprintf(out, "  no example:\n%s\n", indented(p.Unshown))
		return
	}
	if p.Bad == "" {
		fmt.Fprintf(out, "  found in: the plan as it is%s\n", p.foundBy())
		return
	}
	fmt.Fprintf(out, "  found in:%s\n%s", p.foundBy(), indented(string(p.Bad)))
	if p.Good == "" {
		fmt.Fprint(out, "  not found in: the plan as it is\n")
		return
	}
	fmt.Fprintf(out, "  not found in:\n%s", indented(string(p.Good)))
}

// foundBy names a command other than the plain check.
func (p *Page) foundBy() string {
	if p.Command == "" {
		return ""
	}
	return " (gridferry " + p.Command + ")"
}

// Text is the page without its head, in plain text.
func (p *Page) Text() string {
	var b strings.Builder
	_ = p.Write(&b) // which takes everything
	_, text, _ := strings.Cut(b.String(), "\n")
	return text
}

func indented(text string) string {
	lines := strings.TrimSuffix(text, "\n")
	return "    " + strings.ReplaceAll(lines, "\n", "\n    ") + text[len(lines):]
}

// jsonPage is a page as programs read it: the examples are whole plans, with the files beside them.
type jsonPage struct {
	Rule     string            `json:"rule"`
	Severity string            `json:"severity"`
	Doc      string            `json:"doc"`
	Do       string            `json:"what_to_do"`
	Command  string            `json:"command,omitempty"`
	Bad      string            `json:"bad,omitempty"`
	BadFiles map[string]string `json:"bad_files,omitempty"`
	Good     string            `json:"good,omitempty"`
	GoodFile map[string]string `json:"good_files,omitempty"`
	Unshown  string            `json:"no_example,omitempty"`
}

// WriteJSON writes the pages as one JSON array.
func (m Manual) WriteJSON(w io.Writer) error {
	all := make([]jsonPage, len(m))
	for i := range m {
		all[i] = m[i].asJSON()
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(all)
}

func (p *Page) asJSON() jsonPage {
	page := jsonPage{Rule: p.Name, Severity: p.Severity.String(), Doc: oneLine(p.Doc), Do: oneLine(p.Do), Unshown: p.Unshown}
	if p.Unshown == "" {
		page.Command = "gridferry " + p.Finds()
		page.Bad, page.BadFiles = p.Bad.apart()
	}
	if p.Bad != "" {
		page.Good, page.GoodFile = p.Good.apart()
	}
	return page
}

// apart is the plan of an example that is part of this program, and its other files.
func (e Example) apart() (plan string, others map[string]string) {
	files, err := e.Files()
	if err != nil {
		panic(err) // a test makes every example
	}
	plan = files[PlanName]
	delete(files, PlanName)
	return plan, files
}

func oneLine(text string) string { return strings.ReplaceAll(text, "\n", " ") }

// Names is the names of all rules.
func (m Manual) Names() []string {
	names := make([]string, len(m))
	for i := range m {
		names[i] = m[i].Name
	}
	return names
}

// WriteList writes a line for each rule.
func (m Manual) WriteList(w io.Writer) error {
	out := bufio.NewWriter(w)
	for i := range m {
		fmt.Fprintf(out, "%-28s  %-7s  %s\n", m[i].Name, m[i].Severity, m[i].Brief())
	}
	return out.Flush()
}
