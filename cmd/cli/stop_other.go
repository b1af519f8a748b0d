//go:build !unix

package cli

import (
	"os"
	"syscall"
)

// endings are the signals that end a program. On Windows Go makes the second one of a console that is
// closed, a person who logs off and a system that is shut down (package os/signal).
var endings = []os.Signal{os.Interrupt, syscall.SIGTERM}

func haveWritesFail() {}

// noReader are the errors of a write to a closed pipe: the two numbers are
// ERROR_BROKEN_PIPE and ERROR_NO_DATA of Windows.
var noReader = []error{syscall.EPIPE, syscall.Errno(109), syscall.Errno(232)}

// endBy ends the program; 130 is what shells report for an interrupt.
func endBy(os.Signal) { os.Exit(130) }
