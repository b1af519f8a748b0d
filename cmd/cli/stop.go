package cli

import (
	"fmt"
	"io"
	"os"
	"os/signal"

	"gridferry/gen/out"
)

// StopCleanly has a signal that ends the program leave no half-written file: what was
// begun is taken away, what was there stays. The second signal ends the program at
// once.
func StopCleanly(stderr io.Writer) {
	ignoreFileLimit()
	caught := make(chan os.Signal, 1)
	signal.Notify(caught, endings...)
	go func() {
		s := <-caught
		signal.Reset(endings...)
		out.Interrupt()
		if isAsked(s) {
			fmt.Fprintf(stderr, "\ngridferry: stopped by a signal (%v): every file is whole, either old or new; run the command again to finish\n", s)
		}
		endBy(s)
	}()
}
