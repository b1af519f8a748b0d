package render

import (
	"io"
	"runtime"

	"gridferry/gen/family/blocks"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// DefaultBytes is how long a program may get unless Options say otherwise: ten
// million moves of some four hundred bytes.
const DefaultBytes = 4 << 30

// Options bound a program and watch it grow. The zero value does neither.
type Options struct {
	MostBytes int64 // of the program, all its files together; 0 stands for DefaultBytes
	Cores     int   // that write it, each a chunk at a time; 0 stands for all

	// Trace is given which lines of which file each move made, counted from 1. A
	// move that wrote nothing has last = first-1. Lines that no move made (the
	// head, a transfer's heading, the end) come with a move that has no number,
	// only a place and, for a heading, its transfer. Program calls its one file "".
	Trace func(m move.Move, file string, first, last int)

	// Used is given every block that was written.
	Used func(block string)

	// Loops is what a family that writes loops is given instead of the moves; it
	// its lines are reported with the place of the plan that they come from.
	Loops *Loops
}

// Program writes the program of a job to w, as one text however long it gets.
// What cannot be written is added to list, at the plan's line or, where a
// template is to blame, at the template's; what w holds is then no program and
// must be thrown away. The error is w's own.
func Program(w io.Writer, f *blocks.Blocks, job move.Job, moves move.Batches, list *diag.List) error {
	return ProgramWith(w, f, job, moves, list, Options{})
}

// ProgramWith is Program with options.
func ProgramWith(w io.Writer, f *blocks.Blocks, job move.Job, moves move.Batches, list *diag.List, o Options) error {
	return oneText(newProgram(f, job, list, o), w, job, moves)
}

// oneText writes the whole program to w.
func oneText(p *program, w io.Writer, job move.Job, moves move.Batches) error {
	p.lines = newLines(w, p.family, p.budget)
	head := p.head(job, moves)
	p.around(blocks.Begin, head, move.Move{Place: job.Place})
	p.body(moves)
	p.lines.ends()
	if p.stopped {
		return p.lines.flush()
	}
	p.around(blocks.End, head, move.Move{Place: job.Place})
	return p.lines.flush()
}

// program is one program on its way out.
type program struct {
	family  *blocks.Blocks
	printer *blocks.Printer // of the blocks that are about no single move, and of loops
	lines   *lines          // of the file that is being written
	parts   *parts          // of a program in several files; nil for one text
	budget  *budget
	views   *viewer
	found   findings
	place   diag.Place // of the plan as a whole
	file    string
	stopped bool // a template ran away
	cores   int
	onLines func(m move.Move, file string, first, last int)
	onBlock func(block string)
	loops   *Loops
	names   identifiers
	points  *points // nil where no block asks for them

	rounding *rounding

	job      move.Job
	transfer int // the one whose lines are laid out
}

func newProgram(f *blocks.Blocks, job move.Job, list *diag.List, o Options) *program {
	p := &program{
		family:  f,
		budget:  &budget{most: o.MostBytes},
		cores:   o.Cores,
		found:   findings{list: list, seen: map[finding]bool{}},
		place:   job.Place,
		onLines: o.Trace,
		onBlock: o.Used,
		loops:   o.Loops,
		names:   identifiers{},
	}
	if p.budget.most == 0 {
		p.budget.most = DefaultBytes
	}
	if p.cores == 0 {
		p.cores = runtime.GOMAXPROCS(0)
	}
	if f.Units.InPercent() && job.Speed <= 0 {
		p.found.errorf(rulePercent, job.Place, "", "this family writes speeds in percent of the machine's own, which the cell does not give").
			WithHint("write machine: {speed: …} in the cell")
		job.Speed = 1 // said once, not for every move
	}
	p.job, p.printer, p.views, p.rounding = job, f.NewPrinter(), newViewer(f, job), newRounding(f, &job)
	p.names.know(p.views.frames, job.FrameNames())
	p.names.know(p.views.tools, job.ToolNames())
	p.printer.Named = func(name, text string) { p.called([]usedName{{name, text}}, p.place) }
	return p
}

func (p *program) head(job move.Job, moves move.Batches) blocks.Head {
	counts := job.Counts
	if counts.Moves == 0 {
		counts = move.Count(moves)
	}
	if usesPoints(p.family) {
		p.points = pointsOf(p.views, job, moves)
		p.views.points, p.printer.Items = p.points, len(p.points.all)
	}
	p.job.Counts = counts
	p.tooManyTables(counts.Moves)
	if p.loops != nil {
		job.Frames = mentioned(&p.loops.Tables, job.Frames)
	}
	head, err := p.views.head(job, counts)
	if err != nil {
		p.figureFailed(&move.Move{Place: job.Place}, err)
	}
	return head
}

// body is what stands between begin and end.
func (p *program) body(moves move.Batches) {
	if p.family.Rules.Loops {
		p.nested()
		return
	}
	p.all(moves)
}

// all writes the moves, until the program is longer than it may be.
func (p *program) all(moves move.Batches) {
	newPool(p).all(moves)
	p.tooCoarse()
}

// tooLong reports whether the program has used up what it may write or do.
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

// lay puts the lines of a chunk into the program and reports what was wrong with it;
// false when the program is not to go on.
func (p *program) lay(c *chunk) bool {
	if c.finished && !p.isWatched() {
		p.reportAll(c)
		p.lines.pass(c.text, c.lines)
		return p.lines.err == nil && !p.tooLong()
	}
	from := 0
	for i := range c.done {
		w := &c.done[i]
		p.layOut(w, c.text[from:w.end], c.finished)
		if from = w.end; p.tooLong() {
			return false
		}
	}
	return p.lines == nil || p.lines.err == nil
}

// isWatched reports whether somebody asks what became of every move.
func (p *program) isWatched() bool { return p.onLines != nil || p.onBlock != nil }

// reportAll reports what was wrong in a chunk, as far as the program may go on.
func (p *program) reportAll(c *chunk) {
	room := p.budget.most - p.budget.bytes
	for i := range c.done {
		if w := &c.done[i]; int64(w.end) <= room {
			p.report(w)
		}
	}
}

// layOut puts what one block wrote into the program; in one that comes in parts it
// waits until its transfer is complete.
func (p *program) layOut(w *written, text []byte, finished bool) {
	if p.parts != nil {
		if w.move.Transfer != p.transfer {
			p.parts.settle()
		}
		p.transfer = w.move.Transfer
		p.report(w)
		p.parts.begins(w.about())
		p.parts.hold(text, w.block, w.move.Place)
		return
	}
	p.report(w)
	first := p.lines.count + 1
	if finished {
		p.lines.pass(text, w.lines)
	} else {
		p.enter(text, w.block, w.move.Place)
	}
	if p.onLines != nil {
		p.traced(w.about(), first)
	}
}

// report reports what was wrong, and which block was run to whoever asked for that.
func (p *program) report(w *written) {
	if w.lean > upright {
		p.leaning(w.move, w.lean)
	}
	if p.onBlock != nil && w.block != "" {
		p.onBlock(w.block)
	}
	for _, report := range w.wrong {
		report(p)
	}
}

// around writes a block that is about no single move, and reports its lines: those of
// a part once they have their place in it.
func (p *program) around(block string, view any, m move.Move) {
	if p.parts != nil {
		p.parts.begins(m)
		p.print(block, view, m.Place)
		return
	}
	first := p.lines.count + 1
	p.print(block, view, m.Place)
	p.traced(m, first)
}

// traced reports the lines from first on.
func (p *program) traced(m move.Move, first int) {
	if p.onLines != nil {
		p.onLines(m, p.file, first, p.lines.count)
	}
}

// print runs a block and passes its lines on.
func (p *program) print(block string, view any, at diag.Place) {
	if p.onBlock != nil {
		p.onBlock(block)
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
	p.enter(text, block, at)
}

// enter puts the lines of a block into the file.
func (p *program) enter(text []byte, block string, at diag.Place) {
	p.faulty(p.lines.add(text), block, at)
}

// faulty reports what is wrong with the lines of a block.
func (p *program) faulty(faults []fault, block string, at diag.Place) {
	for _, f := range faults {
		finding := p.found.errorf(f.rule, at, block, "%s", f.message)
		if f.hint != "" {
			finding.WithHint("%s", f.hint)
		}
	}
}
