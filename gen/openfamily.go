package gen

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gridferry/gen/family"
	"gridferry/plan/diag"
	"gridferry/templates"
)

// OpenFamily loads a shipped family by name, or any family by its folder. Errors inside
// it are among the job's findings.
func (j *Job) OpenFamily(name string) (*family.Family, error) {
	if !IsFolder(name) {
		files, err := ShippedFamily(name)
		if err != nil {
			return nil, err
		}
		f, _ := j.LoadFamily(files, name)
		return f, nil
	}
	root, err := os.OpenRoot(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("there is no family folder %q: \"gridferry families copy\" makes one from a shipped family", name)
	}
	if err != nil {
		return nil, fmt.Errorf("the family's folder cannot be opened: %w", err)
	}
	defer root.Close()
	f, _ := j.LoadFamily(root.FS(), filepath.ToSlash(name))
	return f, nil
}

// ShippedFamily is the files of a shipped family.
func ShippedFamily(name string) (fs.FS, error) {
	if !slices.Contains(templates.All(), name) {
		return nil, fmt.Errorf("there is no shipped family %q: %s (for a folder of your own write ./%s)", name, diag.Meant(name, templates.All()), filepath.Base(name))
	}
	return fs.Sub(templates.FS, name)
}

// IsFolder reports whether a family is named by its folder.
func IsFolder(family string) bool { return strings.ContainsAny(family, `/\.`) }
