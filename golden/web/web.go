// Package web checks the pages that Gridferry writes with tools from outside:
// html-validate 10.17.0 (MIT) for the markup, axe-core 4.14.1 (MPL-2.0) for
// accessibility, and a real browser, driven through playwright-core (Apache-2.0).
// The packages are set up once with
//
//	npm ci --ignore-scripts
//
// in this folder. The browser is Debian's package chromium-headless-shell: Chromium without its
// windows, which are never seen and would take as long again as the pages. Package outside has
// what becomes of tests where one of them is missing.
package web

import (
	"encoding/json"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/golden/outside"
)

var (
	validator = outside.Script{Folder: "web", File: "validate.js", Packages: []string{"html-validate"}}
	browser   = outside.Script{Folder: "web", File: "look.js", Packages: []string{"axe-core", "playwright-core"},
		Tool: "/usr/bin/chromium-headless-shell", Debian: "chromium-headless-shell"}
)

// Fault is what the validator finds.
type Fault struct {
	Rule         string
	Line, Column int
	Message      string
}

// Job says how to look at a page, which is a file or an address http://…
type Job struct {
	Page     string `json:"page"`
	Width    int    `json:"width,omitempty"`  // 1280 if 0
	Height   int    `json:"height,omitempty"` // 900 if 0
	Dark     bool   `json:"dark,omitempty"`
	NoScript bool   `json:"no_script,omitempty"`
	Touch    bool   `json:"touch,omitempty"`  // fingers, no mouse
	Moving   bool   `json:"moving,omitempty"` // nobody asked for reduced motion
	Flat     bool   `json:"flat,omitempty"`   // the browser has no WebGL
	Steps    []Step `json:"steps,omitempty"`
}

// Step is one thing to do on a page. On is mostly a CSS selector:
//
//	open        an address
//	reload      opens it again; its value is what the page asked before that, "beforeunload" or ""
//	press type  a key such as Control+S; a text, letter by letter
//	hover focus click fill select
//	            an element; with the text, the option To
//	drag wheel  from the middle of an element, By pixels
//	download    by a click, into the file To; its value is the name of the file
//	wait        until the expression On holds
//	read        the value of the expression On
//	memory      the bytes that scripts hold after the collector has run
//	check       run the accessibility checker, which cannot without scripts: on an element, or on
//	            the whole page, which takes some four times as long
//	shoot       a picture, to the file On; Full takes the whole page
//	print paper as it would look on paper; a PDF of sheets of the format On, to the file To
//	scheme      light or dark, from now on
//	width       of the window, from now on
type Step struct {
	Do       string      `json:"do"`
	On       string      `json:"on,omitempty"`
	To       string      `json:"to,omitempty"`
	By       *[2]float64 `json:"by,omitempty"`
	Full     bool        `json:"full,omitempty"`
	Page     int         `json:"page,omitempty"`     // 0 is the one that a job opens; open opens others, in the same context
	Answered string      `json:"answered,omitempty"` // the step ends when an address that holds this was answered, too
}

// Sight is what was seen. Values has one entry for each step; those that have no value
// give null.
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
		jobs[i].Page = address(t, jobs[i].Page)
	}
	var sights []Sight
	browser.Ask(t, jobs, &sights)
	if len(sights) != len(jobs) {
		t.Fatalf("%d pages were seen of %d", len(sights), len(jobs))
	}
	return sights
}

// address is where a browser finds a page.
func address(t testing.TB, page string) string {
	t.Helper()
	if strings.HasPrefix(page, "http://") {
		return page
	}
	full, err := filepath.Abs(page)
	if err != nil {
		t.Fatal(err)
	}
	return (&url.URL{Scheme: "file", Path: full}).String()
}
