package page

import "strings"

// Slim is a script without the lines that hold a comment alone, and without indents: nobody reads it in the
// page, and a third of it is neither.
func Slim(script string) string {
	var b strings.Builder
	for line := range strings.Lines(script) {
		if line = strings.TrimLeft(line, " \t"); line != "\n" && !strings.HasPrefix(line, "//") {
			b.WriteString(line)
		}
	}
	return b.String()
}
