package gen

import (
	"strings"
	"testing"
)

// A program by standard input is read to its end, as long as it may be; an endless one is
// left after one byte more.
func TestMostPiped(t *testing.T) {
	if data, err := readPiped(strings.NewReader("12345"), 5); err != nil || string(data) != "12345" {
		t.Errorf("got %q, %v", data, err)
	}
	in := &endless{}
	if _, err := readPiped(in, 5); err == nil || err.Error() != "<stdin> has more than 5 bytes: write the program into a file, and name that" || in.given != 6 {
		t.Errorf("after %d bytes: %v", in.given, err)
	}
}

type endless struct{ given int }

func (e *endless) Read(p []byte) (int, error) {
	e.given += len(p)
	return len(p), nil
}
