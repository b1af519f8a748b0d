package gen

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"

	"gridferry/plan/diag"
)

// digestOf tells two plans apart by all that was read for them: the plan, the
// cell, files of measured values and what "--set" changed, wherever the files
// lie. It is the first half of a SHA-256, in hexadecimal.
func digestOf(sources *diag.Sources) string {
	var parts []string
	for file, text := range sources.All() {
		text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
		if strings.HasPrefix(file, "--set[") {
			text = file + text // the order of settings matters, that of files does not
		}
		sum := sha256.Sum256([]byte(text))
		parts = append(parts, hex.EncodeToString(sum[:]))
	}
	slices.Sort(parts)
	sum := sha256.Sum256([]byte(strings.Join(parts, "\n")))
	return hex.EncodeToString(sum[:16])
}
