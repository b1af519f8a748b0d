package family

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
)

// digest tells two families apart by what is in their files. Line ends do not
// count, since an editor or a version control may change them.
type digest struct{ parts strings.Builder }

func (d *digest) add(name, text string) {
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	fmt.Fprintf(&d.parts, "%s\n%d\n%s", name, len(text), text)
}

func (d *digest) String() string {
	sum := sha256.Sum256([]byte(d.parts.String()))
	return hex.EncodeToString(sum[:16])
}
