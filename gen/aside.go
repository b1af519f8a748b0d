package gen

import (
	"bytes"

	"gridferry/gen/family/reads"
	"gridferry/gen/readback"
)

// aside reads a program back on other cores while the next lines are written. One
// goroutine calls the checker's Write, NextFile and Close in their order; with more cores,
// others parse the next lines for it.
type aside struct {
	checker *readback.Checker
	held    []byte // not handed on yet
	work    chan *piece
	ahead   chan *piece // the same pieces for the readers ahead; nil for none
	free    chan *piece
	done    chan struct{}
}

// piece is some text, or the beginning of a file.
type piece struct {
	reads.Piece
	file  bool
	ready chan struct{} // receives when it is read ahead
}

const (
	pieceSize   = 64 << 10
	mostWaiting = 4
	mostAhead   = 4 // with more, comparing is what takes longest
)

// readAside leaves one core for writing and one for comparing.
func readAside(c *readback.Checker, cores int) *aside {
	return readAsideBy(c, min(cores-2, mostAhead))
}

// readAsideBy is readAside with a number of readers ahead; none for 0 or less.
func readAsideBy(c *readback.Checker, many int) *aside {
	pieces := mostWaiting + 2*max(many, 0)
	a := &aside{checker: c, work: make(chan *piece, pieces), free: make(chan *piece, pieces), done: make(chan struct{})}
	for range pieces {
		a.free <- &piece{ready: make(chan struct{}, 1)}
	}
	if many > 0 {
		a.ahead = make(chan *piece, pieces)
	}
	for range many {
		go a.readAhead(c.NewAhead())
	}
	go a.run()
	return a
}

func (a *aside) readAhead(by *reads.Ahead) {
	for p := range a.ahead {
		by.Read(&p.Piece)
		p.ready <- struct{}{}
	}
}

func (a *aside) run() {
	defer close(a.done)
	for p := range a.work {
		a.take(p)
		a.free <- p
	}
	a.checker.Close()
}

func (a *aside) take(p *piece) {
	switch {
	case p.file:
		a.checker.NextFile()
	case a.ahead == nil:
		_, _ = a.checker.Write(p.Text) // it holds no error
	default:
		<-p.ready
		a.checker.Take(&p.Piece)
	}
}

// NextFile begins another of the program's files.
func (a *aside) NextFile() {
	a.send(len(a.held))
	p := <-a.free
	p.file = true
	a.work <- p
}

// Write takes a copy, since the caller will use its bytes again.
func (a *aside) Write(b []byte) (int, error) {
	for rest := b; len(rest) > 0; {
		n := min(len(rest), pieceSize-len(a.held))
		a.held, rest = append(a.held, rest[:n]...), rest[n:]
		if len(a.held) == pieceSize {
			a.send(wholeLines(a.held))
		}
	}
	return len(b), nil
}

// wholeLines is the length of the complete lines of a text; of all of it if there are none.
func wholeLines(text []byte) int {
	if end := bytes.LastIndexByte(text, '\n'); end >= 0 {
		return end + 1
	}
	return len(text)
}

// send hands on the first n bytes of those held.
func (a *aside) send(n int) {
	if n == 0 {
		return
	}
	p := <-a.free
	p.Text, p.file = append(p.Text[:0], a.held[:n]...), false
	a.held = append(a.held[:0], a.held[n:]...)
	if a.ahead != nil {
		a.ahead <- p
	}
	a.work <- p
}

// Close waits until all is read.
func (a *aside) Close() error {
	a.send(len(a.held))
	close(a.work)
	if a.ahead != nil {
		close(a.ahead)
	}
	<-a.done
	return nil
}
