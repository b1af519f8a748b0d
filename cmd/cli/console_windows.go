package cli

import (
	"io"

	"golang.org/x/sys/windows"
)

// showsColors has a console follow the escapes of colours, which it prints as they are until it is told
// ("Console Virtual Terminal Sequences" in the Win32 documentation; from memory). False for one that cannot.
func showsColors(console io.Writer) bool {
	f, ok := fileOf(console)
	if !ok {
		return false
	}
	var mode uint32
	if windows.GetConsoleMode(windows.Handle(f.Fd()), &mode) != nil {
		return false
	}
	const wanted = windows.ENABLE_PROCESSED_OUTPUT | windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING
	return mode&wanted == wanted || windows.SetConsoleMode(windows.Handle(f.Fd()), mode|wanted) == nil
}
