package render

import (
	"sync"

	"gridferry/gen/family/rules"
	"gridferry/gen/move"
)

// pool writes a list on every core. Whoever makes the moves cuts them into chunks,
// hands these to the workers, and takes them back in order to lay out their lines. So
// many chunks are on their way, and no more of the list is ever held.
type pool struct {
	program *program
	cutter  cutter
	queue   []*chunk // on their way, the oldest first
	free    []*chunk
	most    int // chunks on their way
	cores   int
	options options
	own     *worker     // of the one who makes the moves
	work    chan *chunk // nil until a second chunk shows that the list is long
	workers sync.WaitGroup
}

func newPool(p *program) *pool {
	o := options{finish: p.parts == nil && !p.family.BlockNumbers.On(), report: p.isWatched(), most: mostText, points: p.points}
	return &pool{program: p, cutter: cutter{winding: p.family.NewWinding(p.job.Turns)}, cores: p.cores, most: 2 * p.cores, options: o}
}

// all writes the moves, until the program is longer than it may be.
func (p *pool) all(moves move.Batches) {
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
			how := p.cutter.put(next, m)
			last := &next.moves[len(next.moves)-1]
			p.program.rounding.see(last)
			if how != rules.Shortest {
				p.program.wound(last, how, &p.cutter.winding)
			}
		}
	}
	p.last(next)
}

func (p *pool) begin() *chunk {
	if n := len(p.free); n > 0 {
		c := p.free[n-1]
		p.free = p.free[:n-1]
		return p.cutter.begin(c)
	}
	return p.cutter.begin(newChunk())
}

// hand gives a chunk to the workers and takes back the oldest if there are enough;
// false when the program is not to go on.
func (p *pool) hand(c *chunk) bool {
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

// last writes what is left. A list of one chunk needs no other worker.
func (p *pool) last(c *chunk) {
	if len(p.queue) == 0 {
		p.cores = 1
	}
	for going := p.hand(c); going && len(p.queue) > 0; {
		going = p.take()
	}
}

// take lays out the oldest chunk; false when the program is not to go on.
func (p *pool) take() bool {
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

// write is for chunks that no other worker is to write.
func (p *pool) write(c *chunk) {
	if p.own == nil {
		p.own = p.worker()
	}
	p.own.write(c)
}

func (p *pool) worker() *worker { return newWorker(p.program.family, p.program.job, p.options) }

// start starts the workers. On one core the pool's own does it all.
func (p *pool) start() {
	if p.work != nil || p.cores == 1 {
		return
	}
	p.work = make(chan *chunk, p.most)
	for range p.cores {
		p.workers.Go(func() {
			s := p.worker()
			for c := range p.work {
				s.write(c)
				c.ready <- struct{}{}
			}
		})
	}
}

// close lets the workers end.
func (p *pool) close() {
	if p.work != nil {
		close(p.work)
		p.workers.Wait()
	}
}
