package out

import (
	"os"
	"time"
)

// renameFile is os.Rename; tests have it fail.
var renameFile = os.Rename

// rename puts a file in the place of another. Where one that somebody has open cannot be replaced,
// it waits a moment: there are programs that look into every new file.
func rename(from, to string) error {
	err := renameFile(from, to)
	for n := 1; n < tries && isOneOf(err, held); n++ {
		time.Sleep(pause)
		err = renameFile(from, to)
	}
	return err
}
