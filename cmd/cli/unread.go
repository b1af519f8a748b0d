package cli

import (
	"errors"
	"io"
	"os"
)

// errUnread says that whoever read standard output has gone.
var errUnread = errors.New("nobody reads standard output any more")

// data is standard output. A reader that has gone is told apart from all other
// trouble there, such as a full disk, and from a pipe that breaks elsewhere.
type data struct{ io.Writer }

// Write passes on what is written; errUnread where nobody takes it.
func (d data) Write(b []byte) (int, error) {
	n, err := d.Writer.Write(b)
	for _, gone := range noReader {
		if errors.Is(err, gone) {
			return n, errUnread
		}
	}
	return n, err
}

// fileOf is the file that is written to, also behind standard output.
func fileOf(w io.Writer) (*os.File, bool) {
	if d, ok := w.(data); ok {
		w = d.Writer
	}
	f, ok := w.(*os.File)
	return f, ok
}
