//go:build !windows

package out

import "syscall"

// full is what systems say when nothing more fits.
var full = []error{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG}

// held is what systems say of a file that cannot be replaced as long as somebody has it open: none
// of these has such files.
var held []error
