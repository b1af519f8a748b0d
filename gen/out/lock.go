package out

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// lockName is the file on which the system's own lock of a folder lies. Such a lock ends
// with its process, however that ends; so the file of one that was killed stops nobody, and
// whoever comes next takes it away.
const lockName = ".gridferry-lock"

// A folder that another process writes to, or a file that one has open, is asked for so often, and
// so far apart: for a second together.
const (
	tries = 40
	pause = 25 * time.Millisecond
)

// lock is a folder's lock that this process has.
type lock struct {
	file  *os.File // nil where the file system knows no locks
	users int
}

// locks are those of this process, by the real names of their folders; turn is held while
// they change.
var locks = map[string]*lock{}

// command is how this process is called in its locks.
var command = "gridferry"

// WorkAs says which command this process runs, for others that want the same folder.
func WorkAs(name string) {
	turn.Lock()
	defer turn.Unlock()
	command = name
}

// What comes of trying to lock a file.
var (
	errInUse   = errors.New("in use")
	errNoLocks = errors.New("no locks")
)

// InUseError is the error of writing to a folder to which another process is writing.
type InUseError struct {
	Folder string
	Holder string // as it calls itself; "" where that cannot be read
}

func (e *InUseError) Error() string {
	return fmt.Sprintf("the folder %q is in use by %s, and nothing is written there: wait until that is done, or name another folder", e.Folder, cmp.Or(e.Holder, "another gridferry"))
}

// Lock makes a folder, if need be, and keeps other processes from writing to it until
// unlock is called. A Batch of this process may go on there.
func Lock(folder string) (unlock func(), err error) {
	if err := makeFolder(folder); err != nil {
		return nil, err
	}
	return lockAll([]string{folder})
}

// makeFolder makes a folder, if need be.
func makeFolder(folder string) error {
	above, err := standing(folder)
	if err != nil {
		return err
	}
	turn.Lock()
	defer turn.Unlock()
	reached("folder")
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return unwritable(above, folder, err)
	}
	return nil
}

// lockAll locks folders, all or none. Every process takes them in the order of their real
// names, so no two wait for each other.
func lockAll(folders []string) (unlock func(), err error) {
	named := map[string]string{} // folders by real name
	for _, folder := range folders {
		real, err := realName(folder)
		if errors.Is(err, fs.ErrNotExist) {
			continue // nothing is written there
		}
		if err != nil {
			return nil, err
		}
		named[real] = folder
	}
	var taken []string
	unlock = func() {
		for _, real := range taken {
			unlockOne(real)
		}
	}
	for _, real := range slices.Sorted(maps.Keys(named)) {
		if err := lockOne(real, named[real]); err != nil {
			unlock()
			return nil, err
		}
		taken = append(taken, real)
	}
	return unlock, nil
}

// realName is a folder's name from the root of the disk, without links.
func realName(folder string) (string, error) {
	abs, err := filepath.Abs(folder)
	if err != nil {
		return "", err
	}
	real, err := filepath.EvalSymlinks(abs)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return abs, nil // some disks of Windows cannot say it
	}
	return real, err
}

// lockOne waits a moment for a folder that is in use.
func lockOne(real, folder string) error {
	var err error
	for n := range tries {
		if n > 0 {
			time.Sleep(pause)
		}
		var inUse *InUseError
		if err = tryLock(real, folder); !errors.As(err, &inUse) {
			break
		}
	}
	return err
}

// tryLock locks a folder, or gives an InUseError if that has to be tried once more. Where the
// file system knows no locks there is none, and only the second look at what stands there is
// left.
func tryLock(real, folder string) error {
	turn.Lock()
	defer turn.Unlock()
	if l := locks[real]; l != nil {
		l.users++
		return nil
	}
	reached("lock")
	file, err := lockedFile(folder, filepath.Join(real, lockName))
	if err != nil && !errors.Is(err, errNoLocks) {
		return err
	}
	locks[real] = &lock{file, 1}
	return nil
}

// flock is lockFile; tests have it fail.
var flock = lockFile

// lockedFile makes and locks the file of a folder's lock. A process locks only a file that it
// made itself. On one that is there it tries whether somebody still has it: if so, that is
// the holder; if not, whoever has its lock at that moment takes it away.
func lockedFile(folder, name string) (*os.File, error) {
	file, made, err := openLock(folder, name)
	if err != nil {
		return nil, err
	}
	reached("lock opened")
	switch err := flock(file); {
	case errors.Is(err, errInUse):
		holder := holderIn(file)
		file.Close()
		return nil, &InUseError{folder, holder}
	case err != nil:
		_ = removeLock(file, name, made) // one that is left stops nobody
		return nil, unwritable(folder, name, err)
	}
	ours := isNamed(file, name) // and was not taken away before it was locked
	if !made || !ours {
		if err := removeLock(file, name, ours); errors.Is(err, fs.ErrPermission) {
			return nil, fmt.Errorf("%s is left of a run of somebody else that was killed, and the folder lets only its owner remove it: have that done", filepath.Join(folder, lockName))
		}
		return nil, &InUseError{Folder: folder}
	}
	reached("locked")
	_, _ = file.WriteString(holder()) // it helps people; the lock holds without
	return file, nil
}

// openLock opens the file of a lock, and reports whether it made it.
func openLock(folder, name string) (file *os.File, made bool, err error) {
	file, err = os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o644)
	if err == nil {
		return file, true, nil
	}
	if !errors.Is(err, fs.ErrExist) {
		return nil, false, unwritable(folder, name, err)
	}
	if info, err := os.Lstat(name); err == nil && !info.Mode().IsRegular() {
		return nil, false, fmt.Errorf("%s is no plain file: move it away", filepath.Join(folder, lockName))
	}
	file, err = os.OpenFile(name, os.O_RDWR, 0) // network file systems lock only what could be written
	if errors.Is(err, fs.ErrPermission) {
		file, err = os.Open(name) // somebody else's
	}
	if errors.Is(err, fs.ErrNotExist) { // it was taken away this moment
		err = &InUseError{Folder: folder}
	}
	return file, false, err
}

// isNamed reports whether an open file is the one that has a name now.
func isNamed(file *os.File, name string) bool {
	open, err := file.Stat()
	if err != nil {
		return false
	}
	named, err := os.Lstat(name)
	return err == nil && os.SameFile(open, named)
}

// holder is how this process names itself.
func holder() string {
	host, err := os.Hostname()
	if err != nil {
		host = "this computer"
	}
	return fmt.Sprintf("%q, process %d on %s\n", command, os.Getpid(), host)
}

// holderIn reads who has a lock.
func holderIn(file *os.File) string {
	text := make([]byte, 200)
	n, _ := file.ReadAt(text, 0) // mostly shorter
	line, _, whole := bytes.Cut(text[:n], []byte("\n"))
	if !whole {
		return ""
	}
	return string(line)
}

// unlockOne ends this process's lock of a folder, with its last user.
func unlockOne(real string) {
	turn.Lock()
	defer turn.Unlock()
	l := locks[real]
	if l.users--; l.users > 0 {
		return
	}
	dropLock(real)
}

// dropLock ends a lock; turn is held.
func dropLock(real string) {
	if file := locks[real].file; file != nil {
		reached("unlock")
		_ = removeLock(file, filepath.Join(real, lockName), true) // one that is left stops nobody
	}
	delete(locks, real)
}
