package cli

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"time"

	"gridferry/gen/move"
)

// progress shows on a terminal how far long work over the move list has come. It
// stays silent for the first second, and everywhere but on a terminal. Nothing of
// it, its clock least of all, reaches any output.
type progress struct {
	w     io.Writer
	now   func() time.Time
	began time.Time

	mu     sync.Mutex
	active bool      // a pass is shown; one that begins within it is not
	total  int       // moves of a whole pass; 0 until one has come to its end
	drawn  time.Time // when the line was written last
	length int       // of the line that stands there
}

const (
	progressDelay = time.Second
	progressEvery = 100 * time.Millisecond
	progressLook  = 1024 // moves between two looks at the clock
)

// watch is what is put around every pass over a move list; nil where nobody looks.
func (s *streams) watch() func(move.Batches) move.Batches {
	if s.quiet || !isTerminal(s.err) {
		return nil
	}
	p := &progress{w: s.err, now: time.Now, began: time.Now()}
	return p.around
}

// around is the same list, counted as it goes by.
func (p *progress) around(moves move.Batches) move.Batches {
	return func(yield func([]move.Move) bool) {
		if !p.enter() {
			moves(yield)
			return
		}
		defer p.leave()
		n := 0
		for piece := range moves {
			looked := n / progressLook
			if n += len(piece); n/progressLook > looked {
				p.look(n)
			}
			if !yield(piece) {
				return
			}
		}
		p.mu.Lock()
		p.total = n
		p.mu.Unlock()
	}
}

func (p *progress) enter() bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.active {
		return false
	}
	p.active = true
	return true
}

// leave takes the line away, so that what is said next stands on a clean one.
func (p *progress) leave() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.active = false
	p.write("")
}

// look draws the line where it is time to.
func (p *progress) look(n int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.now()
	if now.Sub(p.began) < progressDelay || now.Sub(p.drawn) < progressEvery {
		return
	}
	p.drawn = now
	if p.total == 0 {
		p.write(fmt.Sprintf("%d moves", n))
		return
	}
	steps := min(n*barSteps/p.total, barSteps)
	p.write(fmt.Sprintf("[%s%s] %3d %% of %d moves",
		strings.Repeat("#", steps), strings.Repeat(".", barSteps-steps), min(n*100/p.total, 100), p.total))
}

// write puts a line in place of the one that stands there.
func (p *progress) write(line string) {
	if line == "" && p.length == 0 {
		return
	}
	fmt.Fprintf(p.w, "\r%s%s", line, strings.Repeat(" ", max(p.length-len(line), 0)))
	if line == "" {
		fmt.Fprint(p.w, "\r")
	}
	p.length = len(line)
}
