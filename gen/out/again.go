package out

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
)

// Guard has Commit ask whether a staged file may replace what stands in its place then,
// and whether that is to be kept beside it. Whoever asked before the file was complete has
// to ask again: somebody may have changed the old one since. An error stops Commit before
// anything is replaced.
func (b *Batch) Guard(name string, look func() (keep bool, err error)) {
	for i := range b.files {
		if b.files[i].name == name {
			b.files[i].look = look
		}
	}
}

// lookAgain looks at what is in the places of all files, while nobody else writes there
// but people.
func (b *Batch) lookAgain() error {
	for _, f := range b.removed {
		if err := b.Spares(f.name); err != nil {
			return err
		}
	}
	for i := range b.files {
		f := &b.files[i]
		if err := b.mayStand(f.name); err != nil {
			return err
		}
		var err error
		if f.seen, err = standingFile(f.name); err != nil {
			return err
		}
		if f.look == nil {
			continue
		}
		reached("look")
		if f.keep, err = f.look(); err != nil {
			return err
		}
	}
	b.removed = slices.DeleteFunc(b.removed, b.becomesNew)
	return nil
}

// stillAsSeen is an error if what stands in the place of a file is not what it was when
// Commit looked: another file, of another size, or written since.
func (f *staged) stillAsSeen() error {
	now, err := standingFile(f.name)
	if err != nil {
		return err
	}
	switch was := f.seen; {
	case now == nil && (was == nil || f.tmp == ""):
		return nil // what was to be removed may be gone, whoever took it
	case was != nil && now != nil && os.SameFile(was, now) && was.Size() == now.Size() && was.ModTime().Equal(now.ModTime()):
		return nil
	}
	return fmt.Errorf("%s was changed by somebody at this very moment: look at it, and run the command again", f.name)
}

// allAsSeen is an error if one of the files that go is not what it was.
func (b *Batch) allAsSeen() error {
	for _, f := range slices.Concat(b.files, b.removed) {
		if err := f.stillAsSeen(); err != nil {
			return fmt.Errorf("%w; nothing is replaced", err)
		}
	}
	return nil
}

// standingFile is what stands at a name; nil for nothing.
func standingFile(name string) (fs.FileInfo, error) {
	info, err := os.Lstat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return info, err
}
