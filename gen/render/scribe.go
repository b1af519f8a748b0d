package render

import (
	"gridferry/gen/family"
	"gridferry/gen/move"
)

// scribe writes chunks: it makes views of the moves and has the family's blocks make
// words of them. It shares nothing with others, so that there is one on every core;
// what it finds wrong it leaves with the chunk.
type scribe struct {
	family  *family.Family
	printer *family.Printer
	views   *viewer
	leans   leans
	chunk   *chunk
}

func newScribe(f *family.Family, job move.Job) *scribe {
	return &scribe{family: f, printer: f.NewPrinter(), views: newViewer(f, job)}
}

// write writes a chunk, unless a template runs away.
func (s *scribe) write(c *chunk) {
	s.chunk, s.views.before = c, c.before
	s.printer.Renew() // so that what a template may do does not depend on who wrote what before
	headings, transfer := s.family.Has(family.Header), c.transfer
	for i := range c.moves {
		m := &c.moves[i]
		if m.Transfer != transfer {
			if transfer = m.Transfer; headings && transfer > 0 {
				s.heading(c.moves[i:])
			}
		}
		if s.move(m); c.runsAway {
			return
		}
	}
}

// heading writes what stands before a transfer, whose moves come next.
func (s *scribe) heading(moves []move.Move) {
	var e ends
	first := &moves[0]
	for i := range moves[:min(len(moves), mostAhead)] {
		if moves[i].Transfer != first.Transfer || e.see(&moves[i]) {
			break
		}
	}
	s.print(written{move: first, heading: true}, family.Header, s.views.transfer(*first, e))
}

// move writes one move.
func (s *scribe) move(m *move.Move) {
	done := written{move: m}
	block := m.Kind.String()
	if m.Pause {
		block = family.Pause
	}
	if reason, ok := s.family.WritesBlock(block); !ok {
		s.put(done, func(p *program) { p.cannot(m.Place, block, reason) })
		return
	}
	if s.family.Rotation == family.Vertical && m.Kind.IsMotion() {
		done.lean = s.leans.of(m.Base.RPY)
	}
	view, err := s.views.of(m)
	if err != nil {
		s.put(done, func(p *program) { p.figureFailed(m.Place, err) })
		return
	}
	s.print(done, block, view)
}

// print runs a block.
func (s *scribe) print(done written, block string, view any) {
	done.block = block
	text, err := s.printer.Print(block, view)
	if err != nil {
		s.chunk.runsAway = runsAway(err)
		s.put(done, func(p *program) { p.templateFailed(err) })
		return
	}
	s.chunk.text = append(s.chunk.text, text...)
	s.put(done)
}

func (s *scribe) put(done written, wrong ...func(*program)) {
	done.end, done.wrong = len(s.chunk.text), wrong
	s.chunk.done = append(s.chunk.done, done)
}
