package gen

import (
	"io/fs"
	"path/filepath"

	"gridferry/gen/out"
)

// WriteNew copies the files of a folder; none of them if one exists already. It returns
// what to say about that, a line each.
func WriteNew(folder string, from fs.FS) ([]string, error) {
	batch := out.NewBatch()
	defer batch.Discard()
	names, err := fs.Glob(from, "*")
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		data, err := fs.ReadFile(from, name)
		if err != nil {
			return nil, err
		}
		if err := batch.AddNew(filepath.Join(folder, name), data); err != nil {
			return nil, err
		}
	}
	return each("wrote ", batch.Names()), batch.Commit()
}
