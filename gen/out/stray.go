package out

import (
	"os"
	"path/filepath"
	"slices"
)

// tempNames is what temporary files are called.
const tempNames = ".gridferry-*.tmp"

// Stray is temporary files in a folder that this process did not make: a run that was
// killed left them, or another one is at work. Which of the two is unknown here, so
// they are not removed.
type Stray struct {
	Folder string
	Names  []string
}

// Folders are those in which the batch wrote, or would have.
func (b *Batch) Folders() []string { return b.folders }

// Strays looks into folders, each once, in their order. What cannot be read holds none.
func Strays(folders ...string) []Stray {
	clean := make([]string, len(folders))
	for i, folder := range folders {
		clean[i] = filepath.Clean(folder)
	}
	slices.Sort(clean)
	var all []Stray
	for _, folder := range slices.Compact(clean) {
		if names := straysIn(folder); names != nil {
			all = append(all, Stray{folder, names})
		}
	}
	return all
}

func straysIn(folder string) []string {
	entries, _ := os.ReadDir(folder)
	ours := ownTemps()
	var names []string
	for _, e := range entries {
		if is, _ := filepath.Match(tempNames, e.Name()); is && !ours[e.Name()] {
			names = append(names, e.Name())
		}
	}
	return names
}

// ownTemps are the names, without folders, of the temporary files of this process.
func ownTemps() map[string]bool {
	turn.Lock()
	defer turn.Unlock()
	names := make(map[string]bool, len(temps))
	for name := range temps {
		names[filepath.Base(name)] = true
	}
	return names
}
