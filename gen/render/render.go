package render

import (
	"errors"
	"io"

	"gridferry/gen/family"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// DefaultBytes is how long a program may get unless Options say otherwise: ten
// million moves of some four hundred bytes.
const DefaultBytes = 4 << 30

// Options bound a program and watch it grow. The zero value does neither.
type Options struct {
	MostBytes int64 // of the program, all its files together; 0 stands for DefaultBytes

	// Trace is told which lines of which file each move made, counted from 1. A
	// move that wrote nothing has last = first-1. Lines that no move made (the
	// head, a transfer's heading, the end) come with a move that has no number,
	// only a place and, for a heading, its transfer. Program calls its one file "".
	Trace func(m move.Move, file string, first, last int)

	// Used is told of every block that was written.
	Used func(block string)

	// Loops is what a family that writes loops is given instead of the moves; it
	// tells its lines with the place of the plan that they come from.
	Loops *Loops
}

// Program writes the program of a job to w, as one text however long it gets.
// What cannot be written is added to list, at the plan's line or, where a
// template is to blame, at the template's; what w holds is then no program and
// must be thrown away. The error is w's own.
func Program(w io.Writer, f *family.Family, job move.Job, moves move.Seq, list *diag.List) error {
	return ProgramWith(w, f, job, moves, list, Options{})
}

// ProgramWith is Program with options.
func ProgramWith(w io.Writer, f *family.Family, job move.Job, moves move.Seq, list *diag.List, o Options) error {
	return oneText(newProgram(f, job, list, o), w, job, moves)
}

// oneText writes the whole program to w.
func oneText(p *program, w io.Writer, job move.Job, moves move.Seq) error {
	p.lines = newLines(w, p.family, p.budget)
	head := p.head(job, moves)
	p.around(family.Begin, head, move.Move{Place: job.Place})
	p.body(moves)
	p.lines.ends()
	if p.stopped {
		return p.lines.flush()
	}
	p.around(family.EndBlock, head, move.Move{Place: job.Place})
	return p.lines.flush()
}

// program is one program on its way out.
type program struct {
	family  *family.Family
	printer *family.Printer
	lines   *lines // of the file that is being written
	parts   *parts // of a program in several files; nil for one text
	budget  *budget
	views   *viewer
	found   findings
	place   diag.Place // of the plan as a whole
	file    string
	stopped bool // a template ran away
	trace   func(m move.Move, file string, first, last int)
	used    func(block string)
	loops   *Loops

	transfer int         // the one that moves are written for
	held     []move.Move // moves that wait for their transfer's heading
	holding  bool
	ends     ends
}

func newProgram(f *family.Family, job move.Job, list *diag.List, o Options) *program {
	p := &program{
		family:  f,
		printer: f.NewPrinter(),
		budget:  &budget{most: o.MostBytes},
		found:   findings{list: list, seen: map[finding]bool{}},
		place:   job.Place,
		trace:   o.Trace,
		used:    o.Used,
		loops:   o.Loops,
	}
	if p.budget.most == 0 {
		p.budget.most = DefaultBytes
	}
	if f.Units.InPercent() && job.Speed <= 0 {
		p.found.errorf(rulePercent, job.Place, "", "this family writes speeds in percent of the machine's own, which the cell does not give").
			WithHint("write machine: {speed: …} in the cell")
		job.Speed = 1 // said once, not for every move
	}
	p.views = newViewer(f, job)
	return p
}

func (p *program) head(job move.Job, moves move.Seq) family.Head {
	head, err := p.views.head(job, surveyOf(job, moves))
	if err != nil {
		p.figureFailed(job.Place, err)
	}
	return head
}

// body is what stands between begin and end.
func (p *program) body(moves move.Seq) {
	if p.family.Rules.Loops {
		p.nested()
		return
	}
	p.all(moves)
}

// all writes the moves, until the program is longer than it may be.
func (p *program) all(moves move.Seq) {
	for m := range moves {
		if p.take(m); p.tooLong() {
			return
		}
	}
	p.letGo()
}

// tooLong tells whether the program has used up what it may write or do.
func (p *program) tooLong() bool {
	if p.stopped || !p.budget.spent() {
		return p.stopped
	}
	if p.budget.lines == 0 || p.budget.bytes > p.budget.most {
		p.found.errorf(ruleOutput, p.place, "", "the program is longer than %d bytes", p.budget.most).
			WithHint("if the family is sound, allow more with --max-output")
	}
	return true
}

// take writes a move, or holds it back until the heading of its transfer can
// say where the part goes from and to.
func (p *program) take(m move.Move) {
	if m.Transfer != p.transfer {
		p.letGo()
		if p.parts != nil {
			p.parts.settle()
		}
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

// tell writes something and tells its lines, those of a part once they have
// their place in it.
func (p *program) tell(m move.Move, write func()) {
	if p.parts != nil {
		p.parts.begins(m)
		write()
		return
	}
	first := p.lines.count + 1
	write()
	p.traced(m, first)
}

// traced tells of the lines from first on.
func (p *program) traced(m move.Move, first int) {
	if p.trace != nil {
		p.trace(m, p.file, first, p.lines.count)
	}
}

func (p *program) write(m move.Move) {
	block := m.Kind.String()
	if m.Pause {
		block = family.Pause
	}
	if reason, ok := p.family.WritesBlock(block); !ok {
		p.found.errorf(ruleKind, m.Place, block, "the family %q does not write %q: %s", p.family.Label, block, reason)
		return
	}
	if p.family.Rotation == family.Vertical && m.Kind.IsMotion() {
		p.checkUpright(m)
	}
	view, err := p.views.of(&m)
	if err != nil {
		p.figureFailed(m.Place, err)
		return
	}
	p.print(block, view, m.Place)
}

// print runs a block and passes its lines on.
func (p *program) print(block string, view any, at diag.Place) {
	if p.used != nil {
		p.used(block)
	}
	text, err := p.printer.Print(block, view)
	if err != nil {
		p.templateFailed(err)
		return
	}
	if p.parts != nil {
		p.parts.hold(text, block, at)
		return
	}
	p.lay(text, block, at)
}

// lay puts the lines of a block into the file.
func (p *program) lay(text []byte, block string, at diag.Place) {
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
		p.stopped = p.stopped || e.Bounds
		p.found.errorf(ruleTemplate, e.Place, "", "%s", e.Message)
		return
	}
	p.found.errorf(ruleTemplate, diag.Place{File: p.family.Label}, "", "%v", err)
}
