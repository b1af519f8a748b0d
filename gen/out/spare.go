package out

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// ReadError is for a file that would be written over, or taken away, and that the
// same command has read.
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

// spared is a file that stays as it is.
type spared struct {
	name string
	info fs.FileInfo
}

// Spare has the batch refuse to write over these files, under whatever name it would:
// they were read. A name that stands for no file, such as that of standard input, says
// nothing.
func (b *Batch) Spare(names ...string) {
	for _, name := range names {
		name = filepath.FromSlash(name)
		if info, err := os.Stat(name); err == nil {
			b.spared = append(b.spared, spared{name, info})
		}
	}
}

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
