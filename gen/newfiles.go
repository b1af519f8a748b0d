package gen

import (
	"io/fs"
	"path/filepath"

	"gridferry/gen/out"
)

// WriteNew copies the files of a folder to where none of them is yet; then nothing is
// written. It gives what is to be said about that, a line each.
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
