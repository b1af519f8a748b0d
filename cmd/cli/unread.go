package cli

import (
	"errors"
	"io"
	"os"
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
	for _, gone := range noReader {
		if errors.Is(err, gone) {
			err = errUnread
			break
		}
	}
	if o.lost == nil {
		o.lost = err
	}
	return n, err
}

// fileOf is the file behind a writer, if there is one.
func fileOf(w io.Writer) (*os.File, bool) {
	if o, ok := w.(*standardOutput); ok {
		w = o.Writer
	}
	f, ok := w.(*os.File)
	return f, ok
}
