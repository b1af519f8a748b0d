//go:build !unix

package cli

import "os"

// endings are the signals that end a program.
var endings = []os.Signal{os.Interrupt}

func isAsked(os.Signal) bool { return true }

func ignoreFileLimit() {}

// endBy ends the program; 130 is what shells report for an interrupt.
func endBy(os.Signal) { os.Exit(130) }
