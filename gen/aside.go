package gen

import "gridferry/gen/readback"

// aside reads a program back on a core of its own, while the next lines are being
// written. It is a checker's Write, NextFile and Close, done in the same order.
type aside struct {
	checker *readback.Checker
	work    chan piece
	done    chan struct{}
}

// piece is some text, or the beginning of another file.
type piece struct {
	text string
	file bool
}

const (
	pieceSize   = 64 << 10
	mostWaiting = 4
)

func readAside(c *readback.Checker) *aside {
	a := &aside{c, make(chan piece, mostWaiting), make(chan struct{})}
	go a.run()
	return a
}

func (a *aside) run() {
	defer close(a.done)
	for p := range a.work {
		if p.file {
			a.checker.NextFile()
			continue
		}
		_, _ = a.checker.WriteString(p.text) // it holds no error
	}
	a.checker.Close()
}

// NextFile tells that what follows is another of the program's files.
func (a *aside) NextFile() { a.work <- piece{file: true} }

// Write takes a copy: the writer will use its bytes again.
func (a *aside) Write(b []byte) (int, error) {
	for rest := b; len(rest) > 0; {
		n := min(len(rest), pieceSize)
		a.work <- piece{text: string(rest[:n])}
		rest = rest[n:]
	}
	return len(b), nil
}

// Close waits until all is read.
func (a *aside) Close() {
	close(a.work)
	<-a.done
}
