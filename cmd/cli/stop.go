package cli

import (
	"context"
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

// ending ends the command that runs, where that is one which goes on until it is stopped.
var ending atomic.Pointer[func()]

// untilStopped runs a command that goes on until a signal comes; ctx is done then.
func untilStopped(run func(ctx context.Context) error) error {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	end := func() { cancel() }
	ending.Store(&end)
	defer ending.Store(nil)
	return run(ctx)
}

// StopCleanly makes a signal end the program without half-written files: new ones are
// removed, old ones stay. A command that goes on until it is stopped is only told. A second signal ends the
// program at once. Signals that the program was started to ignore, as by nohup, stay ignored.
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
		if end := ending.Load(); end != nil {
			(*end)()
			return
		}
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
