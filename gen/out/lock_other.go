//go:build (!unix && !windows) || aix

package out

import "os"

// lockFile finds no locks here.
func lockFile(*os.File) error { return errNoLocks }

// removeLock closes the file of a lock, and takes it away if that is due.
func removeLock(f *os.File, name string, away bool) error {
	f.Close()
	if away {
		return os.Remove(name)
	}
	return nil
}
