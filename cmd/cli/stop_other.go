//go:build !unix

package cli

import (
	"os"
	"syscall"
)

// endings are the signals that end a program.
var endings = []os.Signal{os.Interrupt}

func haveWritesFail() {}

// noReader are the errors of a write to a closed pipe: the two numbers are
// ERROR_BROKEN_PIPE and ERROR_NO_DATA of Windows.
var noReader = []error{syscall.EPIPE, syscall.Errno(109), syscall.Errno(232)}

// endBy ends the program; 130 is what shells report for an interrupt.
func endBy(os.Signal) { os.Exit(130) }
