package out

import (
	"os"
	"sync"
)

// turn is held while the names of files change, temps is the temporary files that
// this process has at present.
var (
	turn  sync.Mutex
	temps = map[string]bool{}
)

// Interrupt removes the temporary files and the locks, for a program that is about to end. A Commit
// that has begun comes to its end first; from then on nothing is created or replaced:
// such a call waits for the end of the program.
func Interrupt() {
	turn.Lock()
	for name := range temps {
		os.Remove(name)
	}
	for real := range locks {
		dropLock(real)
	}
}

func createTemp(folder string) (*os.File, error) {
	turn.Lock()
	defer turn.Unlock()
	reached("create")
	f, err := os.CreateTemp(folder, tempNames)
	if err == nil {
		temps[f.Name()] = true
	}
	return f, err
}

// drop removes a temporary file.
func drop(name string) {
	turn.Lock()
	defer turn.Unlock()
	os.Remove(name)
	delete(temps, name)
}

// reached hears of every step on the way to a file; tests stop there.
var reached = func(string) {}
