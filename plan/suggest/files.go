package suggest

import (
	"path"

	"gridferry/plan"
	"gridferry/plan/diag"
)

// Files are the texts that have a say in what may be written: the plan's, and those of the cell and
// the measured values that it names, as far as the source has them. The plan may be half written.
func Files(source plan.Source) []File {
	files := []File{{Name: source.File, Text: string(source.Data)}}
	below := ""
	for _, key := range []string{"cell", "measured"} {
		name := valueOf(files[len(files)-1].Text, key)
		if name == "" {
			break
		}
		of, data, err := source.Beside(key, below, name)
		if err != nil {
			break
		}
		files = append(files, File{Name: of.File, Text: string(data)})
		below = path.Dir(name)
	}
	return files
}

// valueOf is the value of a key that stands in nothing else; "" for none.
func valueOf(text, key string) string {
	found := ""
	s := newScanner()
	s.onValue = func(levels []*level, value string, _ span) {
		if len(levels) == 1 && levels[0].key == key && found == "" {
			found = value
		}
	}
	for _, line := range diag.SplitLines(text) {
		if found != "" || !s.line(line) {
			break
		}
	}
	return found
}
