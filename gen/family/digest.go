package family

import (
	"fmt"
	"strings"

	"gridferry/plan/digest"
)

// fileDigest is the digest of a family's files.
type fileDigest struct{ parts strings.Builder }

func (d *fileDigest) add(name, text string) {
	text = digest.Lines(text)
	fmt.Fprintf(&d.parts, "%s\n%d\n%s", name, len(text), text)
}

func (d *fileDigest) String() string { return digest.Half(d.parts.String()) }
