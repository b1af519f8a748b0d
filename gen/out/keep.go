package out

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// Kept are the names under which Commit kept old files.
func (b *Batch) Kept() []string { return b.kept }

// putOldAside keeps the old files that are to be kept beside the new ones, each under a name
// that is free: NAME.kept-1, NAME.kept-2 and so on.
func (b *Batch) putOldAside() error {
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

// mostKept bounds the search for a free name.
const mostKept = 10_000

// putAside gives a file a second name, so that it outlives its replacement.
func putAside(name string) (string, error) {
	for n := 1; n <= mostKept; n++ {
		kept := fmt.Sprintf("%s.kept-%d", name, n)
		err := os.Link(name, kept)
		if err != nil && !errors.Is(err, fs.ErrExist) {
			err = copyNew(name, kept) // not every file system has second names
		}
		if !errors.Is(err, fs.ErrExist) {
			return kept, err
		}
	}
	return "", fmt.Errorf("%s has %d kept copies beside it: move them away", name, mostKept)
}

// copyNew copies a file to a name that must be free.
func copyNew(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	mode := modeFor(from)
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err = errors.Join(err, out.Chmod(mode), out.Sync(), out.Close()); err != nil {
		os.Remove(to) // half a copy is none
	}
	return err
}

// Same reports whether a file that is staged has the same bytes as the one in its
// place; false where there is none.
func (b *Batch) Same(name string) (bool, error) {
	for _, f := range b.files {
		if f.name == name {
			return sameFiles(f.tmp, name)
		}
	}
	return false, fmt.Errorf("%s is not staged", name)
}

func sameFiles(a, b string) (bool, error) {
	x, err := os.Open(a)
	if err != nil {
		return false, err
	}
	defer x.Close()
	y, err := os.Open(b)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	defer y.Close()
	return sameBytes(x, y)
}

func sameBytes(x, y io.Reader) (bool, error) {
	p, q := make([]byte, 1<<16), make([]byte, 1<<16)
	for {
		n, errX := io.ReadFull(x, p)
		m, errY := io.ReadFull(y, q)
		if !bytes.Equal(p[:n], q[:m]) {
			return false, nil
		}
		endX, endY := atEnd(errX), atEnd(errY)
		if endX && endY {
			return true, nil
		}
		for _, err := range []error{errX, errY} {
			if err != nil && !atEnd(err) {
				return false, err
			}
		}
	}
}

func atEnd(err error) bool { return err == io.EOF || err == io.ErrUnexpectedEOF }
