package render

import (
	"runtime"
	"sync"

	"gridferry/gen/move"
)

// press writes a list on every core. Whoever makes the moves cuts them into chunks,
// hands these to the scribes, and takes them back in order to lay out their lines. So
// many chunks are on their way, and no more of the list is ever held.
type press struct {
	program *program
	cutter  cutter
	queue   []*chunk // on their way, the oldest first
	free    []*chunk
	most    int // chunks on their way
	cores   int
	orders  orders
	own     *scribe     // of the one who makes the moves
	work    chan *chunk // nil until a second chunk shows that the list is long
	scribes sync.WaitGroup
}

func newPress(p *program) *press {
	cores := runtime.GOMAXPROCS(0)
	o := orders{finish: p.parts == nil && !p.family.BlockNumbers.On(), tell: p.tells(), most: mostText}
	return &press{program: p, cores: cores, most: 2 * cores, orders: o}
}

// all writes the moves, until the program is longer than it may be.
func (p *press) all(moves move.Batches) {
	defer p.close()
	next := p.begin()
	for piece := range moves {
		for i := range piece {
			m := &piece[i]
			if p.cutter.ends(next, m) {
				if !p.hand(next) {
					return
				}
				next = p.begin()
			}
			p.cutter.put(next, m)
		}
	}
	p.last(next)
}

func (p *press) begin() *chunk {
	if n := len(p.free); n > 0 {
		c := p.free[n-1]
		p.free = p.free[:n-1]
		return p.cutter.begin(c)
	}
	return p.cutter.begin(newChunk())
}

// hand gives a chunk to the scribes and takes back the oldest if there are enough;
// false when the program is not to go on.
func (p *press) hand(c *chunk) bool {
	p.start()
	p.queue = append(p.queue, c)
	if p.work == nil {
		p.write(c)
		c.ready <- struct{}{}
	} else {
		p.work <- c
	}
	return len(p.queue) < p.most || p.take()
}

// last writes what is left. A list of one chunk needs no other scribe.
func (p *press) last(c *chunk) {
	if len(p.queue) == 0 {
		p.cores = 1
	}
	for going := p.hand(c); going && len(p.queue) > 0; {
		going = p.take()
	}
}

// take lays out the oldest chunk; false when the program is not to go on.
func (p *press) take() bool {
	c := p.queue[0]
	p.queue = append(p.queue[:0], p.queue[1:]...)
	<-c.ready
	p.free = append(p.free, c)
	for p.program.lay(c) {
		if c.next == len(c.moves) {
			return true
		}
		p.write(c) // the rest of one that wrote a great deal
	}
	return false
}

// write is for chunks that no other scribe is to write.
func (p *press) write(c *chunk) {
	if p.own == nil {
		p.own = p.scribe()
	}
	p.own.write(c)
}

func (p *press) scribe() *scribe { return newScribe(p.program.family, p.program.job, p.orders) }

// start calls the scribes. On one core the press's own does it all.
func (p *press) start() {
	if p.work != nil || p.cores == 1 {
		return
	}
	p.work = make(chan *chunk, p.most)
	for range p.cores {
		p.scribes.Go(func() {
			s := p.scribe()
			for c := range p.work {
				s.write(c)
				c.ready <- struct{}{}
			}
		})
	}
}

// close sends the scribes home.
func (p *press) close() {
	if p.work != nil {
		close(p.work)
		p.scribes.Wait()
	}
}
