package gen

import (
	"gridferry/gen/check"
	"gridferry/gen/manual"
	"gridferry/gen/sarif"
)

// Manual is the pages of all rules of findings: first what cannot be read or resolved, then what is
// checked of a plan that can, then what is found on the way to a program.
func Manual() manual.Manual {
	return append(append(manual.Reading(), check.Pages()...), manual.Writing()...)
}

// Tool is this program, as it signs findings.
func Tool() *sarif.Tool {
	return &sarif.Tool{Name: "Gridferry", Version: Version, Manual: Manual()}
}
