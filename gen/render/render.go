package render

import (
	"errors"
	"io"

	"gridferry/gen/family"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Program writes the program of a job to w. What cannot be written is added to
// list, at the plan's line or, where a template is to blame, at the template's;
// what w holds is then no program and must be thrown away. The error is w's own.
func Program(w io.Writer, f *family.Family, job move.Job, moves move.Seq, list *diag.List) error {
	return Traced(w, f, job, moves, list, nil)
}

// Traced is Program that also tells which lines of the program each move made,
// counted from 1. A move that wrote nothing has last = first-1. Lines that no
// move made (the head, a transfer's heading, the end) come with a move that has
// no number, only a place and, for a heading, its transfer.
func Traced(w io.Writer, f *family.Family, job move.Job, moves move.Seq, list *diag.List, trace func(m move.Move, first, last int)) error {
	p := &program{
		family:  f,
		printer: f.NewPrinter(),
		lines:   newLines(w, f),
		views:   newViewer(f, job),
		found:   findings{list: list, seen: map[finding]bool{}},
		trace:   trace,
	}
	head := p.head(job, moves)
	p.around(family.Begin, head, move.Move{Place: job.Place})
	for m := range moves {
		p.take(m)
	}
	p.letGo()
	p.around(family.EndBlock, head, move.Move{Place: job.Place})
	return p.lines.flush()
}

// program is one program on its way out.
type program struct {
	family  *family.Family
	printer *family.Printer
	lines   *lines
	views   *viewer
	found   findings
	trace   func(m move.Move, first, last int)

	transfer int         // the one that moves are written for
	held     []move.Move // moves that wait for their transfer's heading
	holding  bool
	ends     ends
}

func (p *program) head(job move.Job, moves move.Seq) family.Head {
	head, err := p.views.head(job, surveyOf(job, moves))
	if err != nil {
		p.figureFailed(job.Place, err)
	}
	return head
}

// take writes a move, or holds it back until the heading of its transfer can
// say where the part goes from and to.
func (p *program) take(m move.Move) {
	if m.Transfer != p.transfer {
		p.letGo()
		p.transfer = m.Transfer
		p.holding = m.Transfer > 0 && p.family.Has(family.Header)
		p.ends = ends{}
	}
	if !p.holding {
		p.move(m)
		return
	}
	p.held = append(p.held, m)
	if p.ends.see(m) || len(p.held) == mostHeld {
		p.letGo()
	}
}

// mostHeld bounds the look-ahead; a transfer is a dozen moves.
const mostHeld = 64

// letGo writes the heading and the moves that waited for it.
func (p *program) letGo() {
	if p.holding && len(p.held) > 0 {
		first := p.held[0]
		p.around(family.Header, p.views.transfer(first, p.ends), move.Move{Transfer: first.Transfer, Leg: first.Leg, Place: first.Place})
	}
	for _, m := range p.held {
		p.move(m)
	}
	p.held, p.holding = p.held[:0], false
}

// move writes one move.
func (p *program) move(m move.Move) { p.tell(m, func() { p.write(m) }) }

// around writes a block that is about no single move.
func (p *program) around(block string, view any, m move.Move) {
	p.tell(m, func() { p.print(block, view, m.Place) })
}

// tell writes something and tells its lines.
func (p *program) tell(m move.Move, write func()) {
	first := p.lines.count + 1
	write()
	if p.trace != nil {
		p.trace(m, first, p.lines.count)
	}
}

func (p *program) write(m move.Move) {
	if reason, ok := p.family.Writes(m.Kind); !ok {
		p.found.errorf(ruleKind, m.Place, m.Kind.String(), "this family does not write %q: %s", m.Kind, reason)
		return
	}
	if p.family.Rotation == family.Vertical && m.Kind.IsMotion() {
		p.checkUpright(m)
	}
	view, err := p.views.of(m)
	if err != nil {
		p.figureFailed(m.Place, err)
		return
	}
	p.print(m.Kind.String(), view, m.Place)
}

// print runs a block and passes its lines on.
func (p *program) print(block string, view any, at diag.Place) {
	text, err := p.printer.Print(block, view)
	if err != nil {
		p.templateFailed(err)
		return
	}
	for _, fault := range p.lines.add(text) {
		p.found.errorf(fault.rule, at, block, "%s", fault.message)
	}
}

func (p *program) figureFailed(at diag.Place, err error) {
	switch {
	case errors.Is(err, family.ErrTooWide):
		p.found.errorf(ruleWide, at, "", "%v", err).WithHint("widen the field in family.yaml, or write fewer decimals")
	case errors.Is(err, errNothing):
		p.found.errorf(ruleNothing, at, "", "a figure %v", err).WithHint("give that quantity more decimals in family.yaml")
	default:
		p.found.errorf(ruleNumber, at, "", "%v", err)
	}
}

func (p *program) templateFailed(err error) {
	var e *family.BlockError
	if errors.As(err, &e) {
		p.found.errorf(ruleTemplate, e.Place, "", "%s", e.Message)
		return
	}
	p.found.errorf(ruleTemplate, diag.Place{File: p.family.Label}, "", "%v", err)
}
