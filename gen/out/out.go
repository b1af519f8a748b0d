// Package out is the only writer of files. A file is replaced whole or not at
// all; of several files that belong together, none is replaced before all of them
// are on the disk.
package out

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Batch is files that are written together. They wait as temporary files until
// Commit; Discard removes those that were not committed, and does nothing after.
type Batch struct {
	files   []staged
	kept    []string
	removed []string
	spared  Read
	copied  bool
	folders []string // in which it wrote, or will
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
	mode := fs.FileMode(0o600)
	if !b.copied {
		if err := b.mayStand(name); err != nil {
			return nil, err
		}
		mode = modeFor(name)
	}
	folder, err := standing(filepath.Dir(name))
	if err != nil {
		return nil, err
	}
	tmp, err := createTemp(folder)
	if err != nil {
		return nil, unwritable(folder, name, err)
	}
	b.folders = append(b.folders, folder, filepath.Dir(name))
	b.files = append(b.files, staged{name: name, tmp: tmp.Name()})
	return &stagedFile{name, tmp, bufio.NewWriterSize(tmp, 1<<16), mode}, nil
}

// OnlyCopied says that the files get no places, but go through CopyTo alone: whatever
// has their names is not looked at.
func (b *Batch) OnlyCopied() { b.copied = true }

// mayStand is an error for a name in whose place no file of the batch may come.
func (b *Batch) mayStand(name string) error {
	if err := b.Spares(name); err != nil {
		return err
	}
	if info, err := os.Lstat(name); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s is there already and is no plain file", name)
	}
	return nil
}

// stagedFile is a temporary file on its way to its place.
type stagedFile struct {
	name string // of that place
	file *os.File
	buf  *bufio.Writer
	mode fs.FileMode
}

func (s *stagedFile) Write(b []byte) (int, error) {
	reached("write")
	n, err := s.buf.Write(b)
	return n, about(s.name, err)
}

// Close brings the file to the disk, with the mode that it will have.
func (s *stagedFile) Close() error {
	err := s.buf.Flush()
	reached("flushed")
	if err == nil {
		err = cmp.Or(s.file.Sync(), s.file.Chmod(s.mode))
	}
	reached("on the disk")
	return about(s.name, cmp.Or(err, s.file.Close()))
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

// Remove has Commit remove a file, once all others are in their places.
func (b *Batch) Remove(name string) { b.removed = append(b.removed, name) }

// Commit puts every file in its place, making folders as needed. A signal waits
// until it is done.
func (b *Batch) Commit() error {
	turn.Lock()
	defer turn.Unlock()
	if err := b.prepare(); err != nil {
		return advised(err)
	}
	folders := map[string]bool{}
	for i, f := range b.files {
		reached("rename")
		if err := os.Rename(f.tmp, f.name); err != nil {
			return b.stoppedAt(i, about(f.name, err))
		}
		delete(temps, f.tmp)
		folders[filepath.Dir(f.name)] = true
	}
	for _, name := range b.removed {
		reached("remove")
		if err := os.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) { // gone is gone, whoever took it
			return err
		}
		folders[filepath.Dir(name)] = true
	}
	reached("in place")
	for folder := range folders {
		syncFolder(folder)
	}
	return nil
}

// prepare does all that can fail before the first file is replaced.
func (b *Batch) prepare() error {
	for _, name := range b.removed {
		if err := b.Spares(name); err != nil {
			return err
		}
	}
	for _, f := range b.files {
		reached("folder")
		if err := os.MkdirAll(filepath.Dir(f.name), 0o755); err != nil {
			return err
		}
	}
	for _, f := range b.files {
		if !f.keep {
			continue
		}
		reached("keep")
		kept, err := putAside(f.name)
		if err != nil {
			return err
		}
		b.kept = append(b.kept, kept)
	}
	return nil
}

// stoppedAt says how far Commit came where it matters: each file is whole, but not
// all are new.
func (b *Batch) stoppedAt(i int, err error) error {
	if i == 0 {
		return err
	}
	return fmt.Errorf("%w: %d of %d files are replaced, the others are as they were", err, i, len(b.files))
}

// syncFolder brings new names to the disk, where the system can do that; where it
// cannot, they follow a little later.
func syncFolder(name string) {
	if f, err := os.Open(name); err == nil {
		_ = f.Sync()
		f.Close()
	}
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
		drop(f.tmp) // after Commit there is nothing of that name
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
func standing(dir string) (string, error) {
	for {
		info, err := os.Stat(dir)
		if err == nil && info.IsDir() {
			return dir, nil
		}
		if err == nil {
			return "", fmt.Errorf("%q is a file, wanted a folder to write to: name another one", dir)
		}
		up := filepath.Dir(dir)
		if up == dir {
			return dir, nil
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
