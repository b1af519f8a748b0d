package out

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// farAway is where the locked byte lies, far behind the text: what is locked here cannot
// be read by others.
const farAway = 1 << 30

// lockFile locks a file without waiting: nil, errInUse, errNoLocks, or an error of the
// system.
func lockFile(f *os.File) error {
	at := &windows.Overlapped{OffsetHigh: farAway}
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, at)
	switch {
	case errors.Is(err, windows.ERROR_LOCK_VIOLATION), errors.Is(err, windows.ERROR_IO_PENDING):
		return errInUse
	case errors.Is(err, windows.ERROR_NOT_SUPPORTED), errors.Is(err, windows.ERROR_INVALID_FUNCTION):
		return errNoLocks
	}
	return err
}

// removeLock closes the file of a lock, which ends the lock, and takes the file away if
// that is due. An open file cannot be removed here; so nobody loses one that he has opened
// since, and takes it away himself.
func removeLock(f *os.File, name string, away bool) error {
	f.Close()
	if away {
		return os.Remove(name)
	}
	return nil
}
