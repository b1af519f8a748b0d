//go:build !unix

package cli

import (
	"os"
	"syscall"
)

// endings are the signals that end a program.
var endings = []os.Signal{os.Interrupt}

func haveWritesFail() {}

// noReader is what a write to a pipe gives that nobody reads any more: the two
// numbers are ERROR_BROKEN_PIPE and ERROR_NO_DATA of Windows.
var noReader = []error{syscall.EPIPE, syscall.Errno(109), syscall.Errno(232)}

// endBy ends the program; 130 is what shells report for an interrupt.
func endBy(os.Signal) { os.Exit(130) }
