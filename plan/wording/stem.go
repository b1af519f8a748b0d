package wording

import (
	"strings"

	"golang.org/x/text/unicode/norm"
)

// Stem is what a plan or a cell is called: the name of its file without the
// endings. Standard input is called "plan". Letters and their accents are put together, which
// some disks take apart: so the name is the same on every system.
func Stem(file string) string {
	if file == "<stdin>" {
		return "plan"
	}
	for _, end := range []string{".yaml", ".yml", ".json", ".plan", ".cell"} {
		file = strings.TrimSuffix(file, end)
	}
	return norm.NFC.String(file)
}
