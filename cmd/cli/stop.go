package cli

import (
	"fmt"
	"io"
	"os"
	"os/signal"
	"sync/atomic"

	"gridferry/gen/out"
)

// lacks is what is not there while a command is at work, for the message of a stop.
var lacks atomic.Pointer[string]

// lack keeps what is not there for that message; "" for nothing.
func lack(what string) {
	if what == "" {
		lacks.Store(nil)
		return
	}
	lacks.Store(&what)
}

func lacking() string {
	if what := lacks.Load(); what != nil {
		return "; until then " + *what
	}
	return ""
}

// StopCleanly has a signal that ends the program leave no half-written file: what was
// begun is taken away, what was there stays. The second signal ends the program at
// once. Signals that this program was started to ignore, by nohup or in the
// background of a script, stay ignored.
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
		fmt.Fprintf(stderr, "\ngridferry: stopped by a signal (%v): every file is whole, either old or new; run the command again to finish%s\n", s, lacking())
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
