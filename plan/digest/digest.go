// Package digest works out digests of texts: SHA-256, in hexadecimal digits.
package digest

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"strings"
)

// Of is the digest of a text: 64 digits.
func Of(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// OfAll is the digest of all that is left to read; the error is r's own.
func OfAll(r io.Reader) (string, error) {
	sum := sha256.New()
	_, err := io.Copy(sum, r)
	return hex.EncodeToString(sum.Sum(nil)), err
}

// Half is the first half of Of: 32 digits, which no two files share by accident.
func Half(text string) string { return Of(text)[:32] }

// Lines is a text whose lines all end in a line feed. Of a file it is what a digest
// counts, since an editor or a version control may change how lines end.
func Lines(text string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
}
