package cli

import (
	"fmt"
	"io"
	"os"
	"os/signal"
	"sync/atomic"

	"gridferry/gen/out"
	"gridferry/plan/diag"
)

// missing is what is missing while a command runs, for the message of a stop.
var missing atomic.Pointer[string]

// setMissing changes that; "" for nothing.
func setMissing(what string) {
	if what == "" {
		missing.Store(nil)
		return
	}
	missing.Store(&what)
}

func untilThen() string {
	if what := missing.Load(); what != nil {
		return "; until then " + *what
	}
	return ""
}

// StopCleanly makes a signal end the program without half-written files: new ones are
// removed, old ones stay. A second signal ends the program at once. Signals that the
// program was started to ignore, as by nohup, stay ignored.
func StopCleanly(stderr io.Writer) {
	haveWritesFail()
	heard := notIgnored(endings)
	if len(heard) == 0 {
		return // Notify without a signal would mean every signal
	}
	caught := make(chan os.Signal, 1)
	signal.Notify(caught, heard...)
	go func() {
		s := <-caught
		signal.Reset(heard...)
		out.Interrupt()
		fmt.Fprintf(stderr, "\ngridferry: stopped by a signal (%v): every file is complete, old or new; run the command again to finish%s\n", s, diag.Visible(untilThen()))
		endBy(s)
	}()
}

func notIgnored(all []os.Signal) []os.Signal {
	var heard []os.Signal
	for _, s := range all {
		if !signal.Ignored(s) {
			heard = append(heard, s)
		}
	}
	return heard
}
