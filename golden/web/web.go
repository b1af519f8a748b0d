// Package web checks the pages that Gridferry writes with tools from outside:
// html-validate 10.17.0 (MIT) for the markup, axe-core 4.14.1 (MPL-2.0) for
// accessibility, and a real browser, driven through playwright-core (Apache-2.0).
// The packages are set up once with
//
//	npm ci --ignore-scripts
//
// in this folder, the browser is Debian's package chromium. Package outside has what
// becomes of tests where one of them is missing.
package web

import (
	"encoding/json"
	"path/filepath"
	"slices"
	"testing"

	"gridferry/golden/outside"
)

var (
	validator = outside.Script{Folder: "web", File: "validate.js", Packages: []string{"html-validate"}}
	browser   = outside.Script{Folder: "web", File: "look.js", Packages: []string{"axe-core", "playwright-core"},
		Tool: "/usr/bin/chromium", Debian: "chromium"}
)

// Fault is what the validator finds.
type Fault struct {
	Rule         string
	Line, Column int
	Message      string
}

// Job says how to look at a page, which is a file.
type Job struct {
	Page     string `json:"page"`
	Width    int    `json:"width,omitempty"`  // 1280 if 0
	Height   int    `json:"height,omitempty"` // 900 if 0
	Dark     bool   `json:"dark,omitempty"`
	NoScript bool   `json:"no_script,omitempty"`
	Touch    bool   `json:"touch,omitempty"` // fingers, no mouse
	Steps    []Step `json:"steps,omitempty"`
}

// Step is one thing to do on a page: press (a key), hover, focus or click (a CSS
// selector), type (a text), wait (until an expression holds), read (the value of
// an expression), check (run the accessibility checker, which cannot without scripts),
// width (of the window, from now on), shoot (a picture, to a file; Full takes the whole
// page), print (as it would look on paper), paper (a PDF of sheets of a format, to the
// file To).
type Step struct {
	Do   string `json:"do"`
	On   string `json:"on"`
	To   string `json:"to,omitempty"`
	Full bool   `json:"full,omitempty"`
}

// Sight is what was seen. Values has one entry for each step: what read reads, what
// reload was asked by the page before, the name that save is offered, else null.
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
	validator.Ask(t, string(page), &faults)
	return faults
}

// Look opens a page in the browser.
func Look(t testing.TB, job Job) Sight {
	t.Helper()
	return LookAll(t, []Job{job})[0]
}

// LookAll is Look for several pages, two at a time in the same browser but with nothing
// else in common.
func LookAll(t testing.TB, jobs []Job) []Sight {
	t.Helper()
	jobs = slices.Clone(jobs)
	for i := range jobs {
		full, err := filepath.Abs(jobs[i].Page)
		if err != nil {
			t.Fatal(err)
		}
		jobs[i].Page = full
	}
	var sights []Sight
	browser.Ask(t, jobs, &sights)
	if len(sights) != len(jobs) {
		t.Fatalf("%d pages were seen of %d", len(sights), len(jobs))
	}
	return sights
}
