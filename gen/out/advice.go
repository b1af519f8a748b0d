package out

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
)

// about is an error on the way of a temporary file to its place, in words about the file
// that was asked for, since nobody knows the other one.
func about(name string, err error) error {
	if err == nil {
		return nil
	}
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		err = &fs.PathError{Op: path.Op, Path: name, Err: path.Err}
	case errors.As(err, &link):
		err = &fs.PathError{Op: "replace", Path: name, Err: link.Err}
	}
	return advised(err)
}

// unwritable is an error while a file is begun in a folder: it is mostly about the
// folder, but for a disk that has no room for the file.
func unwritable(folder, name string, err error) error {
	if isOneOf(err, full) {
		return about(name, err)
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return fmt.Errorf("the folder %q cannot be written: %w: name another folder, or have somebody open this one to you", folder, err)
}

// advised adds to an error what to do about it, where that is known.
func advised(err error) error {
	switch {
	case isOneOf(err, full):
		return fmt.Errorf("%w: there is no room for the new file; the old ones stand as they were: make room and run the command again", err)
	case isOneOf(err, held):
		return fmt.Errorf("%w: another program has the file open, or it may only be read: close it there, or allow that it is written, and run the command again", err)
	}
	return err
}

func isOneOf(err error, kinds []error) bool {
	return slices.ContainsFunc(kinds, func(kind error) bool { return errors.Is(err, kind) })
}
