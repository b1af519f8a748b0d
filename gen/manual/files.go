package manual

import (
	"fmt"
	"io/fs"
	"strings"

	"gridferry/templates"
)

// familyFolder is where the files of an example's family are.
const familyFolder = "family/"

// Files is the example as whole files, by name: its plan, and what else it has.
func (e Example) Files() (map[string]string, error) {
	files, name := map[string]string{PlanName: ExamplePlan}, PlanName
	changes := map[string]string{}
	for line := range strings.Lines(string(e)) {
		if other, ok := strings.CutPrefix(line, "== "); ok {
			name = strings.TrimSpace(other)
			begin(files, name)
			continue
		}
		changes[name] += line
	}
	for name, text := range changes {
		changed, err := change(files[name], text)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		files[name] = changed
	}
	return files, nil
}

// begin adds a file: with the other files of its family, where it is one of those; otherwise empty.
func begin(files map[string]string, name string) {
	if !strings.HasPrefix(name, familyFolder) {
		files[name] = ""
		return
	}
	for _, file := range []string{"family.yaml", "program.tmpl"} {
		if _, there := files[familyFolder+file]; there {
			continue
		}
		files[familyFolder+file] = starterFile(file)
	}
	files[name] += ""
}

// starterFile is a file of the family that examples of families begin with.
func starterFile(file string) string {
	text, err := fs.ReadFile(templates.FS, "starter/"+file)
	if err != nil {
		panic(err) // the files are inside this program
	}
	return string(text)
}

// Plan is the plan of the example.
func (e Example) Plan() (string, error) {
	files, err := e.Files()
	return files[PlanName], err
}

// change makes changes to a text. One that is empty gets the lines that are put in.
func change(text, changes string) (string, error) {
	lines := strings.SplitAfter(text, "\n")
	at := -1 // where the next line that is put in goes
	if text == "" {
		lines, at = nil, 0
	}
	for change := range strings.Lines(changes) {
		line := strings.TrimSuffix(change[1:], "\n") + "\n"
		switch {
		case change[0] == '-':
			if at = find(lines, line); at < 0 {
				return "", fmt.Errorf("there is not exactly one line %q to take out", line)
			}
			lines = append(lines[:at], lines[at+1:]...)
		case change[0] == '+' && at >= 0:
			lines = append(lines[:at], append([]string{line}, lines[at:]...)...)
			at++
		default:
			return "", fmt.Errorf("%q stands behind neither \"-\" nor a line that was taken out", change)
		}
	}
	return strings.Join(lines, ""), nil
}

// find gives the index of the only line with a text, or -1.
func find(lines []string, text string) int {
	at := -1
	for i, line := range lines {
		if line == text {
			if at >= 0 {
				return -1
			}
			at = i
		}
	}
	return at
}
