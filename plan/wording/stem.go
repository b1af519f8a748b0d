package wording

import "strings"

// Stem is what a plan or a cell is called: the name of its file without the
// endings. Standard input is called "plan".
func Stem(file string) string {
	if file == "<stdin>" {
		return "plan"
	}
	for _, end := range []string{".yaml", ".yml", ".json", ".plan", ".cell"} {
		file = strings.TrimSuffix(file, end)
	}
	return file
}
