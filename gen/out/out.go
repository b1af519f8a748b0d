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
	"slices"
	"strings"
)

// Batch is files that are written together. They wait as temporary files until
// Commit; Discard removes those that were not committed, and does nothing after.
type Batch struct {
	files   []staged
	taken   map[string]string // the names of files, as disks that make no difference between letters see them
	kept    []string
	removed []staged
	spared  Read
	copied  bool
	within  string   // below it no link is followed; "" for anywhere
	folders []string // in which it wrote, or will
}

type staged struct {
	name, tmp string // no tmp for one that is removed
	look      func() (keep bool, err error)
	keep      bool
	seen      fs.FileInfo // what stands in its place, when Commit looked; nil for nothing
}

// NewBatch is an empty batch.
func NewBatch() *Batch { return &Batch{taken: map[string]string{}} }

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
	switch other, taken := b.taken[folded(name)]; {
	case other == name && taken:
		return nil, fmt.Errorf("%s would be written twice", name)
	case taken:
		return nil, fmt.Errorf("%s and %s would be one file on disks that make no difference between capitals and small letters: name one of them otherwise", other, name)
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
	b.taken[folded(name)] = name
	return &stagedFile{name, tmp, bufio.NewWriterSize(tmp, 1<<16), mode}, nil
}

// OnlyCopied says that the files get no places, but go through CopyTo alone: whatever
// has their names is not looked at.
func (b *Batch) OnlyCopied() { b.copied = true }

// mayStand is an error for a name in whose place no file of the batch may come.
func (b *Batch) mayStand(name string) error {
	if err := b.followsNoLink(name); err != nil {
		return err
	}
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
	isNew := func() (bool, error) {
		if _, err := os.Lstat(name); err == nil {
			return false, fmt.Errorf("%s is there already", name)
		}
		return false, nil
	}
	if _, err := isNew(); err != nil {
		return err
	}
	err := b.Add(name, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
	if err == nil {
		b.Guard(name, isNew)
	}
	return err
}

// AddText stages a text as the file name.
func (b *Batch) AddText(name, text string) error {
	return b.Add(name, func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	})
}

// Remove has Commit remove a file, once all others are in their places, if it is still the
// same.
func (b *Batch) Remove(name string) {
	seen, _ := standingFile(name) // what cannot be looked at is not removed either
	b.removed = append(b.removed, staged{name: name, seen: seen})
}

// Commit puts every file in its place, making folders as needed, while no other process
// writes to these folders. It looks once more at what stands there first. A signal waits
// until it is done.
func (b *Batch) Commit() error {
	if err := b.makeFolders(); err != nil {
		return advised(err)
	}
	unlock, err := lockAll(b.changing())
	if err != nil {
		return advised(err)
	}
	defer unlock()
	if err := b.lookAgain(); err != nil {
		return advised(err)
	}
	turn.Lock()
	defer turn.Unlock()
	if err := b.allAsSeen(); err != nil {
		return err
	}
	if err := b.putOldAside(); err != nil {
		return advised(err)
	}
	if err := b.replace(); err != nil {
		return err
	}
	for _, folder := range b.changing() {
		syncFolder(folder)
	}
	return nil
}

// makeFolders makes the folders that are not there yet.
func (b *Batch) makeFolders() error {
	for _, f := range b.files {
		if err := b.followsNoLink(f.name); err != nil {
			return err
		}
		if err := makeFolder(filepath.Dir(f.name)); err != nil {
			return err
		}
	}
	return nil
}

// changing is the folders in which files are put or removed.
func (b *Batch) changing() []string {
	var folders []string
	for _, f := range slices.Concat(b.files, b.removed) {
		folders = append(folders, filepath.Dir(f.name))
	}
	slices.Sort(folders)
	return slices.Compact(folders)
}

// replace puts the files in their places, and removes what is to be removed.
func (b *Batch) replace() error {
	for i, f := range b.files {
		reached("rename")
		err := f.stillAsSeen()
		if err == nil {
			err = about(f.name, rename(f.tmp, f.name))
		}
		if err != nil {
			return b.stoppedAt(i, err)
		}
		delete(temps, f.tmp)
	}
	for _, f := range b.removed {
		reached("remove")
		if err := f.stillAsSeen(); err != nil {
			return err
		}
		if err := os.Remove(f.name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	reached("in place")
	return nil
}

// stoppedAt says how far Commit came where it matters: each file is whole, but not
// all are new.
func (b *Batch) stoppedAt(i int, err error) error {
	if i == 0 {
		return fmt.Errorf("%w; nothing is replaced", err)
	}
	names := b.Names()
	return fmt.Errorf("%w; in place already: %s; not replaced: %s", err, strings.Join(names[:i], ", "), strings.Join(names[i:], ", "))
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

// modeFor is the mode of the file that is there, or that of a new one.
func modeFor(name string) fs.FileMode {
	if info, err := os.Stat(name); err == nil {
		return info.Mode().Perm()
	}
	return newMode
}
