//go:build unix && !aix

package out

import (
	"errors"
	"os"
	"slices"

	"golang.org/x/sys/unix"
)

// noLocks is what systems say about a file system that knows no locks.
var noLocks = []error{unix.ENOTSUP, unix.EOPNOTSUPP, unix.ENOSYS, unix.ENOLCK, unix.EINVAL}

// lockFile locks a file without waiting: nil, errInUse, errNoLocks, or an error of the
// system.
func lockFile(f *os.File) error {
	err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	switch {
	case errors.Is(err, unix.EWOULDBLOCK), errors.Is(err, unix.EINTR):
		return errInUse
	case slices.Contains(noLocks, err):
		return errNoLocks
	}
	return err
}

// removeLock closes the file of a lock, which ends the lock, and takes the file away if
// that is due. The name goes first, as long as the lock keeps others from using it.
func removeLock(f *os.File, name string, away bool) error {
	defer f.Close()
	if away {
		return os.Remove(name)
	}
	return nil
}
