// Package out is the only writer of files: a file is replaced whole or not at
// all, and of several files that belong together none is replaced before all
// of them are on the disk.
package out

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Batch is files that are written together. They wait as temporary files until
// Commit; Discard takes away what was not committed, and does no harm after.
type Batch struct {
	files   []staged
	kept    []string
	removed []string
}

type staged struct {
	name, tmp string
	keep      bool
}

// NewBatch is an empty batch.
func NewBatch() *Batch { return &Batch{} }

// Names are the files of the batch in the order in which they were added.
func (b *Batch) Names() []string {
	names := make([]string, len(b.files))
	for i, f := range b.files {
		names[i] = f.name
	}
	return names
}

// Add stages what content writes as the file name. Two files of one batch may
// not have the same name.
func (b *Batch) Add(name string, content func(io.Writer) error) error {
	w, err := b.Create(name)
	if err != nil {
		return err
	}
	if err := content(w); err != nil {
		w.Close()
		return err
	}
	return w.Close()
}

// Create stages a file that is written piece by piece; it counts as written
// when Close gave no error.
func (b *Batch) Create(name string) (io.WriteCloser, error) {
	for _, f := range b.files {
		if f.name == name {
			return nil, fmt.Errorf("%s would be written twice", name)
		}
	}
	if info, err := os.Lstat(name); err == nil && !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is there already and is no plain file", name)
	}
	tmp, err := os.CreateTemp(standing(filepath.Dir(name)), ".gridferry-*.tmp")
	if err != nil {
		return nil, err
	}
	b.files = append(b.files, staged{name: name, tmp: tmp.Name()})
	return &stagedFile{tmp, bufio.NewWriterSize(tmp, 1<<16), modeFor(name)}, nil
}

// stagedFile is a temporary file on its way to its place.
type stagedFile struct {
	file *os.File
	buf  *bufio.Writer
	mode fs.FileMode
}

func (s *stagedFile) Write(b []byte) (int, error) { return s.buf.Write(b) }

// Close brings the file to the disk, with the mode that it will have.
func (s *stagedFile) Close() error {
	err := errors.Join(s.buf.Flush(), s.file.Sync(), s.file.Chmod(s.mode))
	return errors.Join(err, s.file.Close())
}

// AddNew stages a file that must not be there yet.
func (b *Batch) AddNew(name string, data []byte) error {
	if _, err := os.Lstat(name); err == nil {
		return fmt.Errorf("%s is there already", name)
	}
	return b.Add(name, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// AddText stages a text as the file name.
func (b *Batch) AddText(name, text string) error {
	return b.Add(name, func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	})
}

// Remove has Commit take a file away, once all others are in their places.
func (b *Batch) Remove(name string) { b.removed = append(b.removed, name) }

// Commit puts every file in its place, making folders as needed.
func (b *Batch) Commit() error {
	for _, f := range b.files {
		if err := os.MkdirAll(filepath.Dir(f.name), 0o755); err != nil {
			return err
		}
	}
	for _, f := range b.files {
		if f.keep {
			kept, err := putAside(f.name)
			if err != nil {
				return err
			}
			b.kept = append(b.kept, kept)
		}
	}
	for _, f := range b.files {
		if err := os.Rename(f.tmp, f.name); err != nil {
			return err
		}
	}
	for _, name := range b.removed {
		if err := os.Remove(name); err != nil {
			return err
		}
	}
	return nil
}

// CopyTo writes the files, one after the other, to a stream instead.
func (b *Batch) CopyTo(w io.Writer) error {
	for _, f := range b.files {
		if err := copyFile(w, f.tmp); err != nil {
			return err
		}
	}
	return nil
}

// Discard removes the temporary files that are left.
func (b *Batch) Discard() {
	for _, f := range b.files {
		os.Remove(f.tmp) // after Commit there is nothing of that name
	}
}

func copyFile(w io.Writer, name string) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = io.Copy(w, f)
	return err
}

// standing is the nearest folder above that is there: a temporary file has to
// lie on the same disk as the file it becomes, and nothing is made before it
// is certain that something will be written.
func standing(dir string) string {
	for {
		if info, err := os.Stat(dir); err == nil && info.IsDir() {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			return dir
		}
		dir = up
	}
}

func modeFor(name string) fs.FileMode {
	if info, err := os.Stat(name); err == nil {
		return info.Mode().Perm()
	}
	return 0o644
}
