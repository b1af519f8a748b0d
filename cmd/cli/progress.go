package cli

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// progress shows on a terminal how far work over the list has come, after the first
// second. Nothing of it, its clock least of all, reaches any output.
type progress struct {
	w     io.Writer
	now   func() time.Time
	began time.Time
	what  string // whose moves

	mu     sync.Mutex
	active bool      // a pass is shown; passes within it are not
	total  int       // moves of a whole pass; 0 until one is complete
	pass   int       // from 1: findings, then the program are made of the moves
	start  time.Time // of this pass
	drawn  time.Time // time of the last line
	length int       // of that line
}

const (
	progressDelay = time.Second
	progressEvery = 100 * time.Millisecond
	progressLook  = 1024 // moves between two looks at the clock
)

// watch wraps passes over the list of a plan; nil without a terminal.
func (s *streams) watch(plan string) func(move.Batches) move.Batches {
	if s.quiet || !isTerminal(s.err) {
		return nil
	}
	p := &progress{w: s.err, now: time.Now, began: time.Now(), what: filepath.Base(plan)}
	return p.around
}

// around is the same list, counted.
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
	p.active, p.start = true, p.now()
	p.pass++
	return true
}

// leave clears the line for what is printed next.
func (p *progress) leave() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.active = false
	p.write("")
}

// look draws the line if it is time to.
func (p *progress) look(n int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.now()
	if now.Sub(p.began) < progressDelay || now.Sub(p.drawn) < progressEvery {
		return
	}
	p.drawn = now
	what := fmt.Sprintf("%s, pass %d over its moves: ", diag.Visible(wording.Brief(p.what)), p.pass)
	if p.total == 0 {
		p.write(fmt.Sprintf("%s%d so far", what, n))
		return
	}
	left := now.Sub(p.start).Seconds() / float64(n) * float64(max(p.total-n, 0))
	p.write(fmt.Sprintf("%s%3d %% of %d, about %s left", what, min(n*100/p.total, 100), p.total, wording.Clock(left)))
}

// write replaces the line.
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
