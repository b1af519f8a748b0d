//go:build unix

package cli

import (
	"os"
	"os/signal"
	"syscall"
	"time"
)

// endings are the signals that end a program. A pipe that nobody reads any more ends
// it, too, without a word.
var endings = []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT, syscall.SIGPIPE}

func isAsked(s os.Signal) bool { return s != syscall.SIGPIPE }

// ignoreFileLimit makes a limit on the size of files an error of the write, like a
// full disk.
func ignoreFileLimit() { signal.Ignore(syscall.SIGXFSZ) }

// endBy ends the program as the signal would have, so that a shell sees which one.
func endBy(s os.Signal) {
	number, ok := s.(syscall.Signal)
	if ok {
		_ = syscall.Kill(os.Getpid(), number)
		time.Sleep(time.Second) // until it arrives
	}
	os.Exit(128 + int(number)) // what shells report for it
}
