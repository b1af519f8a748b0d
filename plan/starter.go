package plan

import "embed"

//go:embed starter/*.yaml
var starterFiles embed.FS

// StarterFile is one file to begin with.
type StarterFile struct {
	Name string
	Data []byte
}

// Starter is a cell and a plan that work as they are: the cell first.
func Starter() []StarterFile {
	var files []StarterFile
	for _, name := range []string{"bench.cell.yaml", "first.plan.yaml"} {
		data, err := starterFiles.ReadFile("starter/" + name)
		if err != nil {
			panic(err) // the files are inside this program
		}
		files = append(files, StarterFile{name, data})
	}
	return files
}
