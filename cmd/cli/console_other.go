//go:build !windows

package cli

import "io"

// showsColors: a terminal follows the escapes of colours.
func showsColors(io.Writer) bool { return true }
