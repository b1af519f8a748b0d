package out

import (
	"os"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// folded is the same for names that lead to one file on some disks: those of Windows and mostly
// those of macOS make no difference between capitals and small letters, and those of macOS none
// between a letter with its accent and the two apart.
func folded(name string) string { return strings.ToLower(norm.NFC.String(name)) }

// becomesNew reports whether what is to be removed is what a file of the batch replaces: on such
// disks the old name leads to the new file.
func (b *Batch) becomesNew(old staged) bool {
	for _, f := range b.files {
		if folded(f.name) == folded(old.name) && f.seen != nil && old.seen != nil && os.SameFile(f.seen, old.seen) {
			return true
		}
	}
	return false
}
