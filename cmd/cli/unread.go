package cli

import (
	"errors"
	"io"
	"os"
)

// errUnread says that whoever read standard output has gone.
var errUnread = errors.New("nobody reads standard output any more")

// standardOutput tells a reader that has gone apart from all other trouble there, such
// as a full disk, and from a pipe that breaks elsewhere.
type standardOutput struct{ io.Writer }

// Write passes on what is written; errUnread where nobody takes it.
func (o standardOutput) Write(b []byte) (int, error) {
	n, err := o.Writer.Write(b)
	for _, gone := range noReader {
		if errors.Is(err, gone) {
			return n, errUnread
		}
	}
	return n, err
}

// fileOf is the file that is written to, also behind standard output.
func fileOf(w io.Writer) (*os.File, bool) {
	if o, ok := w.(standardOutput); ok {
		w = o.Writer
	}
	f, ok := w.(*os.File)
	return f, ok
}
