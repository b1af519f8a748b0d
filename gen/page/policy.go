// Package page is what the pages that Gridferry writes have in common.
package page

import (
	"crypto/sha256"
	"encoding/base64"
)

// Policy lets in a page's own script and styles, each by the digest of its text as
// it stands in the page, and nothing else, from nowhere (Content Security Policy
// Level 3). "" is no script.
func Policy(script string, styles ...string) string {
	policy := "default-src 'none'; style-src"
	for _, text := range styles {
		policy += " " + source(text)
	}
	if script != "" {
		policy += "; script-src " + source(script)
	}
	return policy + "; base-uri 'none'; form-action 'none'"
}

func source(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
