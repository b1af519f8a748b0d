//go:build unix

package cli

import (
	"os"
	"os/signal"
	"syscall"
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
	if number, ok := s.(syscall.Signal); ok {
		_ = syscall.Kill(os.Getpid(), number)
	}
	select {} // until it arrives
}
