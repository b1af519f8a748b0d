package out

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// ReadError is the error of overwriting or removing a file that the same command has
// read.
type ReadError struct {
	Name string // of the file that would be written
	Read string // what it was read as, often the same
}

func (e *ReadError) Error() string {
	if filepath.Clean(e.Name) == filepath.Clean(e.Read) {
		return fmt.Sprintf("%s would be written over, but this very command reads it: write to another place", e.Name)
	}
	return fmt.Sprintf("%s would be written over, but it is the same file as %s, which this very command reads: write to another place", e.Name, e.Read)
}

// Read is files that stay as they are, since they were read. They are looked up once
// and can be spared by many batches.
type Read []readFile

type readFile struct {
	name string
	info fs.FileInfo
}

// WasRead looks up files by their names. A name that stands for no file, such as that of
// standard input, says nothing.
func WasRead(names ...string) Read {
	var read Read
	for _, name := range slices.Compact(slices.Sorted(slices.Values(names))) {
		name = filepath.FromSlash(name)
		if info, err := os.Stat(name); err == nil {
			read = append(read, readFile{name, info})
		}
	}
	return read
}

// Spare has the batch refuse to overwrite these files, under whatever name.
func (b *Batch) Spare(read Read) { b.spared = append(b.spared, read...) }

// Spares is an error for a name that leads to a file that was read.
func (b *Batch) Spares(name string) error {
	info, err := os.Stat(name)
	if err != nil {
		return nil // nothing is there to be spared
	}
	for _, s := range b.spared {
		if os.SameFile(s.info, info) {
			return &ReadError{name, s.name}
		}
	}
	return nil
}
