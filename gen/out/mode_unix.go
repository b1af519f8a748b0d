//go:build unix

package out

import (
	"io/fs"
	"syscall"
)

// newMode is that of a file which is new: what the process that started this one lets
// people have (umask, IEEE Std 1003.1). It can only be asked for by setting it, and is
// before anything runs that could make a file meanwhile.
var newMode = func() fs.FileMode {
	mask := syscall.Umask(0o077)
	syscall.Umask(mask)
	return 0o666 &^ fs.FileMode(mask)
}()
