package manual

import (
	"slices"

	"gridferry/plan/diag"
)

// Reading is the pages of what is found while files are read and names and places resolved. Where an
// example is the plan as it is, the good one is not written.
func Reading() []Page {
	return slices.Concat(textPages(), valuePages(), keyPages(), filePages(), namePages(), gridPages(), transferPages(), armPages(), touchedPages(), settingPages())
}

// found is the page of an error that a plan has.
func found(name, doc, do string, bad Example) Page {
	return Page{Name: name, Severity: diag.Error, Doc: doc, Do: do, Bad: bad}
}

// untold is the page of an error without an example.
func untold(name, doc, do, why string) Page {
	return Page{Name: name, Severity: diag.Error, Doc: doc, Do: do, Unshown: why}
}

// warning makes a page that of a warning.
func (p Page) warning() Page { p.Severity = diag.Warning; return p }

// good gives a page a good example other than the plan as it is.
func (p Page) good(e Example) Page { p.Good = e; return p }

// by says which command finds it.
func (p Page) by(command string) Page { p.Command = command; return p }
