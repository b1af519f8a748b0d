package gen

import (
	"slices"
	"strings"

	"gridferry/plan/diag"
	"gridferry/plan/digest"
)

// digestOf is the digest of all that was read for a plan: the plan itself, the
// cell, files of measured values and what "--set" changed, wherever the files
// lie.
func digestOf(sources *diag.Sources) string {
	var parts []string
	for file, text := range sources.All() {
		text = digest.Lines(text)
		if strings.HasPrefix(file, "--set[") {
			text = file + text // the order of settings matters, that of files does not
		}
		parts = append(parts, digest.Of(text))
	}
	slices.Sort(parts)
	return digest.Half(strings.Join(parts, "\n"))
}
