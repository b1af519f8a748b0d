package render

import (
	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
)

// worker writes chunks: it makes views of the moves and has the family's blocks make
// words of them. It shares nothing with others, so that there is one on every core;
// what it finds wrong it leaves with the chunk.
type worker struct {
	printer *blocks.Printer
	views   *viewer
	finisher
	options options
	leans   leans
	kin     kin
	names   usedNames // that the chunk's blocks made
	chunk   *chunk
	moves   int // of the whole list
}

// options is what the program wants of its workers.
type options struct {
	finish bool // finish the lines: nothing about them depends on the lines before
	report bool // report what became of every move, not only where something was wrong
	most   int  // bytes of text that a chunk may hold at once; 0 for any number
	points *points
}

func newWorker(f *blocks.Blocks, job move.Job, o options) *worker {
	s := &worker{printer: f.NewPrinter(), views: newViewer(f, job), finisher: newFinisher(f), options: o, moves: job.Counts.Moves}
	s.printer.Named = s.names.add
	s.views.points = o.points
	return s
}

// write writes a chunk from where it stands, as far as it may hold the text, unless a
// template runs away.
func (s *worker) write(c *chunk) {
	c.text, c.done, c.lines, c.finished = c.text[:0], c.done[:0], 0, s.options.finish
	s.chunk, s.views.before = c, c.before
	if c.next == 0 {
		s.printer.Renew() // so that what a template may do does not depend on who wrote what before
	} else {
		s.printer.GoOn(c.left)
	}
	s.names.renew()
	headings := s.family.Has(blocks.Header)
	for c.next < len(c.moves) && !c.runsAway && (s.options.most == 0 || len(c.text) < s.options.most) {
		m := &c.moves[c.next]
		s.table(m)
		if headings && m.Transfer > 0 && m.Transfer != c.transfer {
			s.heading(c)
		}
		c.transfer = m.Transfer
		s.move(m)
		c.next++
	}
	c.before, c.left = s.views.before, s.printer.Left()
}

// heading writes what stands before a transfer, whose moves come next.
func (s *worker) heading(c *chunk) {
	first := &c.moves[c.next]
	if first.Unit() != c.unit {
		c.unit, c.begun, c.ends = first.Unit(), c.next, endsOf(c.ends[:0], c.moves[c.next:])
	}
	var known []ends
	if c.next-c.begun < mostAhead { // or a chunk that begins here could not know them
		known = c.ends
	}
	view := s.views.transfer(*first, known)
	_ = s.views.figures.take() // a figure that is wrong is reported with the move that has it
	s.print(written{move: first, heading: true}, blocks.Header, view)
}

// move writes one move.
func (s *worker) move(m *move.Move) {
	done := written{move: m}
	if s.family.Rotation == rules.Vertical && m.Kind.IsMotion() {
		done.lean = s.leans.of(m.Base.RPY)
	}
	if s.again(done) {
		return
	}
	block := rules.BlockOf(m)
	if reason, ok := s.family.WritesBlock(block); !ok {
		s.put(done, func(p *program) { p.cannot(m, block, reason) })
		return
	}
	before := s.views.before
	view, err := s.views.of(m)
	lost := s.views.figures.takeLost()
	if err != nil {
		s.put(done, func(p *program) { p.figureFailed(m, err) })
		return
	}
	if lost != nil {
		done.wrong = []func(*program){func(p *program) { p.speedCut(lost) }}
	}
	if s.print(done, block, view) && block == m.Kind.String() && s.kin.learns() {
		s.settle(m, before)
	}
}

// settle remembers how a move was written, which came behind a select.
func (s *worker) settle(m *move.Move, before chosen) {
	sort := known{like: *m, before: before, settled: s.printer.Settle(m.Kind.String())}
	if sort.settled == nil {
		return
	}
	if text, same := sort.settled.Constant(); same && s.options.finish {
		if lines, count, faults := s.finish([]byte{}, []byte(text)); len(faults) == 0 {
			sort.lines, sort.count = lines, count
		}
	}
	s.kin.keep(sort)
}

// again writes a move like one that was written before, but for what is its own: without it a "write" is 1.1 to 1.2 times the work. False when
// it is not written yet.
func (s *worker) again(done written) bool {
	m := done.move
	sort := s.kin.find(s.views, m)
	if sort == nil {
		return false
	}
	done.block = m.Kind.String()
	if !s.sameLines(sort, done) && !s.sameBlock(sort, done) {
		return false
	}
	if m.Kind == move.Select {
		s.views.before = chosenBy(m)
	}
	return true
}

// sameLines writes a move of which all lines are as they were before.
func (s *worker) sameLines(sort *known, done written) bool {
	if sort.lines == nil || !s.printer.Spend(sort.settled) {
		return false
	}
	s.chunk.text = append(s.chunk.text, sort.lines...)
	done.lines = sort.count
	s.chunk.lines += done.lines
	s.put(done)
	return true
}

// sameBlock runs the block that was settled.
func (s *worker) sameBlock(sort *known, done written) bool {
	if s.views.own(done.move) != nil {
		return false
	}
	text, ok := s.printer.PrintSettled(sort.settled)
	if ok {
		s.lay(done, text)
	}
	return ok
}

// print runs a block; false when nothing came of it.
func (s *worker) print(done written, block string, view any) bool {
	done.block = block
	place := done.move.Place // for what is reported later: done itself is not to leave the stack
	text, err := s.printer.Print(block, view)
	if names := s.names.take(); names != nil {
		done.wrong = append(done.wrong, func(p *program) { p.called(names, place) })
	}
	if err != nil {
		s.chunk.runsAway = s.chunk.runsAway || runsAway(err)
		s.put(done, func(p *program) { p.templateFailed(err) })
		return false
	}
	s.lay(done, text)
	return true
}

// lay puts the text of a block into the chunk.
func (s *worker) lay(done written, text []byte) {
	if !s.options.finish {
		s.chunk.text = append(s.chunk.text, text...)
		s.put(done)
		return
	}
	var faults []fault
	s.chunk.text, done.lines, faults = s.finish(s.chunk.text, text)
	s.chunk.lines += done.lines
	if len(faults) == 0 {
		s.put(done)
		return
	}
	block, place := done.block, done.move.Place
	s.put(done, func(p *program) { p.faulty(faults, block, place) })
}

// put leaves with the chunk what became of a move.
func (s *worker) put(done written, wrong ...func(*program)) {
	done.wrong = append(done.wrong, wrong...)
	if s.options.finish && !s.options.report && len(done.wrong) == 0 && done.lean <= upright {
		return
	}
	done.end = len(s.chunk.text)
	s.chunk.done = append(s.chunk.done, done)
}
