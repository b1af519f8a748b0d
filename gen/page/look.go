package page

import (
	_ "embed"

	"gridferry/gen/colour"
)

//go:embed look.css
var look string

// Style is a page's style: the look that all pages share, and what is the page's own.
func Style(own string) string { return colour.Properties() + look + own }
