// Package digest works out digests of texts: SHA-256, in hexadecimal digits.
package digest

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
)

// Of is the digest of a text: 64 digits.
func Of(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// Half is the first half of Of: 32 digits, which no two files share by accident.
func Half(text string) string { return Of(text)[:32] }

// Lines is a text whose lines all end in a line feed. Of a file it is what a digest
// counts, since an editor or a version control may change how lines end.
func Lines(text string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
}
