//go:build unix

package cli

import (
	"os"
	"os/signal"
	"syscall"
	"time"
)

// endings are the signals that end a program.
var endings = []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT}

// haveWritesFail turns two signals into errors of the write, like a full disk: a limit on
// the size of files, and a closed pipe, whose signal would race with the error.
func haveWritesFail() { signal.Ignore(syscall.SIGXFSZ, syscall.SIGPIPE) }

// noReader is the error of a write to a closed pipe.
var noReader = []error{syscall.EPIPE}

// endBy ends the program as the signal would have, so that a shell sees which one.
func endBy(s os.Signal) {
	number, ok := s.(syscall.Signal)
	if ok {
		_ = syscall.Kill(os.Getpid(), number)
		time.Sleep(time.Second) // until it arrives
	}
	os.Exit(128 + int(number)) // what shells report for it
}
