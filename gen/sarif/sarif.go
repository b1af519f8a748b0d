// Package sarif writes findings in the Static Analysis Results Interchange Format, SARIF 2.1.0, an
// OASIS standard that code hosts and editors read. The sections named here are those of
// https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/sarif-v2.1.0-errata01-os-complete.html
package sarif

import (
	"encoding/json"
	"io"
	"net/url"
	"path"
	"strings"

	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// Tool is what found the findings.
type Tool struct {
	Name, Version string
	Manual        manual.Manual
}

const (
	schema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

	// here is the folder that relative names of files begin from, which is the one that the command
	// ran in: by this name code hosts know the top of what was checked out. Where it is on this
	// machine is not said, so that the same files give the same bytes (section 3.14.14).
	here = "%SRCROOT%"
)

// Write writes a log of one run. No finding is suppressed. The rules are those of the findings, with
// their pages as help texts: there is no "helpUri", since the pages are in the program and at no address.
func (t *Tool) Write(w io.Writer, found []diag.Finding, sources *diag.Sources) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(&log{Schema: schema, Version: "2.1.0", Runs: []run{*t.run(found, sources)}})
}

func (t *Tool) run(found []diag.Finding, sources *diag.Sources) *run {
	w := writer{tool: t, rules: map[string]int{}, results: columns{sources: sources}, notes: columns{sources: sources}}
	r := &run{ColumnKind: "utf16CodeUnits", Bases: map[string]base{here: {message{"the folder that gridferry ran in"}}}}
	r.Results = make([]result, len(found))
	for i := range found {
		r.Results[i] = w.result(&found[i])
	}
	r.Tool.Driver = driver{Name: t.Name, Version: t.Version, Semantic: t.Version, Rules: w.used}
	return r
}

// writer makes results of findings.
type writer struct {
	tool  *Tool
	used  []rule         // in the order in which they were met
	rules map[string]int // where a rule is in used

	results, notes columns // whose places come in order, each for itself
}

func (w *writer) result(f *diag.Finding) result {
	text := f.Message
	if f.Hint != "" {
		text += "\nhint: " + f.Hint
	}
	r := result{
		Rule: f.Rule, Index: w.rule(f), Level: f.Severity.String(), Message: message{text},
		Locations: []location{}, // none is known to be none (section 3.27.12)
	}
	if !f.Place.IsZero() {
		r.Locations = append(r.Locations, w.results.location(f.Place))
	}
	for i, n := range f.Notes {
		one := location{ID: i + 1}
		if !n.Place.IsZero() {
			one = w.notes.location(n.Place)
			one.ID = i + 1
		}
		one.Message = &message{n.Message}
		r.Related = append(r.Related, one)
	}
	if at, ok := w.results.sources.Fixed(f); ok && at.InFile() {
		r.Fixes = []fix{{message{f.Hint}, []change{{artifact(at.File), []replacement{{*w.results.region(at), content{f.Fix.Put}}}}}}}
	}
	return r
}

// rule is the number of a finding's rule among those that are used.
func (w *writer) rule(f *diag.Finding) int {
	if i, there := w.rules[f.Rule]; there {
		return i
	}
	one := rule{ID: f.Rule, Default: configuration{f.Severity.String()}}
	if page := w.tool.Manual.Page(f.Rule); page != nil {
		one.Default.Level = page.Severity.String()
		one.Short, one.Full = &message{page.Brief()}, &message{strings.Join(strings.Fields(page.Doc), " ")}
		one.Help = &message{page.Text() + "\nIn a shell: " + diag.HelpCommand(f.Rule) + "\n"}
	}
	w.rules[f.Rule] = len(w.used)
	w.used = append(w.used, one)
	return len(w.used) - 1
}

// location is a place: in a file, or in what is none, which has a name only (section 3.33).
func (c *columns) location(at diag.Place) location {
	if !at.InFile() {
		return location{Logical: []logical{{Name: at.String()}}}
	}
	return location{Physical: &physical{artifact(at.File), c.region(at)}}
}

// artifact is a file by its name as it was given (section 3.4). An absolute one is where it is; any
// other begins from the folder that the command ran in.
func artifact(file string) artifactLocation {
	if absolute, is := diag.FileURI(file); is {
		return artifactLocation{URI: absolute}
	}
	return artifactLocation{URI: (&url.URL{Path: path.Clean(file)}).String(), Base: here}
}
