package cli

import (
	"errors"
	"io"
	"os"
)

// errUnread says that standard output was closed.
var errUnread = errors.New("standard output closed")

// standardOutput sets a closed standard output apart from other errors, such as a full
// disk or a pipe that breaks elsewhere.
type standardOutput struct{ io.Writer }

// Write gives errUnread if standard output was closed.
func (o standardOutput) Write(b []byte) (int, error) {
	n, err := o.Writer.Write(b)
	for _, gone := range noReader {
		if errors.Is(err, gone) {
			return n, errUnread
		}
	}
	return n, err
}

// fileOf is the file behind a writer, if there is one.
func fileOf(w io.Writer) (*os.File, bool) {
	if o, ok := w.(standardOutput); ok {
		w = o.Writer
	}
	f, ok := w.(*os.File)
	return f, ok
}
