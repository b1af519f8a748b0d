package cli

import (
	"errors"
	"io"
	"os"
	"slices"
)

// errUnread says that standard output was closed.
var errUnread = errors.New("standard output closed")

// standardOutput sets a closed standard output apart from other errors, such as a full
// disk or a pipe that breaks elsewhere. It keeps its first error for those who write help
// or completions and never look.
type standardOutput struct {
	io.Writer
	lost error
}

// Write gives errUnread if standard output was closed.
func (o *standardOutput) Write(b []byte) (int, error) {
	n, err := o.Writer.Write(b)
	if hasNoReader(err) {
		err = errUnread
	}
	if o.lost == nil {
		o.lost = err
	}
	return n, err
}

func hasNoReader(err error) bool {
	return slices.ContainsFunc(noReader, func(gone error) bool { return errors.Is(err, gone) })
}

// standardError takes all that is said, so that nothing which is to be written waits for
// somebody to read it. It keeps the first error but that of a reader that has gone, for the
// status of the command.
type standardError struct {
	io.Writer
	lost error
}

// Write never gives an error.
func (e *standardError) Write(b []byte) (int, error) {
	if _, err := e.Writer.Write(b); err != nil && e.lost == nil && !hasNoReader(err) {
		e.lost = err
	}
	return len(b), nil
}

// fileOf is the file behind a writer, if there is one.
func fileOf(w io.Writer) (*os.File, bool) {
	switch std := w.(type) {
	case *standardOutput:
		w = std.Writer
	case *standardError:
		w = std.Writer
	}
	f, ok := w.(*os.File)
	return f, ok
}
