package explain

import (
	"strings"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/outline"
	"gridferry/plan/wording"
)

// Query says what is asked about; at most one field is more than 0. The zero
// Query asks about everything.
type Query struct {
	PlanLine, CellLine, ProgramLine int
	Move                            int // of the list
}

// Job is what an explanation is made of.
type Job struct {
	Layout  *layout.Layout
	Title   string   // of the program
	Notices []string // what kind of run it is; none for a whole job
	From    int      // of a resumed job, the transfer that comes first; 0 for a whole job
	Begin   bool     // the resumed job does the steps of "begin" again
	Counts  move.Counts
	Sources *diag.Sources
	Family  string // its name
	Loops   bool   // the program has loops instead of single moves
	Program Tracer
}

// Report is what people are shown. Its size does not grow with the job: repeats
// are folded, and what is too much is counted.
type Report struct {
	Title   string
	Notices []string
	Family  string
	Loops   bool    // the program has loops instead of single moves
	Files   []*File // the plan, then the cell where that is a file of its own
	Counts  move.Counts
	Of      int // transfers of the whole job
	Lines   int // of the program
	Subject *Subject
	Asked   diag.Place // the line that was asked about, in the plan or cell
	Focus   *Focus     // the program line or the move that was asked about
	Rests   int        // moves that depend on the subject
	Head    Excerpt    // lines before the first move
	Tail    Excerpt    // lines after the last one

	Sections []*Section
}

// File is the plan or the cell.
type File struct {
	Name    string
	Word    string // "plan" or "cell"
	Outline *outline.Outline
}

// Excerpt is the beginning of some lines.
type Excerpt struct {
	Lines       []Line
	First, Last int // of all, also of those that are not kept; 0 for none
}

func (e *Excerpt) add(lines []Line) {
	const most = 60
	for _, l := range lines {
		if e.First == 0 {
			e.First = l.N
		}
		e.Last = l.N
		if len(e.Lines) < most {
			e.Lines = append(e.Lines, l)
		}
	}
}

// Section is what one entry of the transfers makes, or the steps outside of all.
type Section struct {
	Place  diag.Place // of the entry, or of the first step
	Title  string
	Moves  Range
	Lines  Range
	Count  int // moves that depend on the subject
	Pieces []*Piece
	Text   Excerpt // the lines of a family that writes no single moves
}

// Range is from the first to the last of something; zero for none.
type Range struct{ First, Last int }

func (r *Range) include(first, last int) {
	if first == 0 || last < first {
		return
	}
	if r.First == 0 {
		r.First = first
	}
	r.Last = max(r.Last, last)
}

// Piece is a unit that is shown, or several that are folded away.
type Piece struct {
	Name      string
	Rows      []Row // shown
	Before    int   // moves of it that are left out before the rows
	More      int   // and behind them
	Folded    int   // units that are folded; 0 where one is shown
	Alike     bool  // the folded ones repeat those shown before
	Transfers Range
	Moves     Range
	Lines     Range
}

// Row is one move, the heading over it if it is a transfer's first, and its lines.
type Row struct {
	Move     move.Move
	Heading  []Line
	Lines    []Line
	Why      string // what it is for
	FirstWhy bool   // the report says that for the first time
	Shapers  []Shaper
	InFocus  bool
}

// Focus is what made the program line that was asked about, or the move that was.
type Focus struct {
	Line    Line // zero for a move
	Found   bool
	Part    string     // "head", "end", "heading", "loops" or, where a move made it, ""
	Move    *move.Move // of a heading, the transfer's first
	Own     []Line     // the lines that were made with it
	Why     string     // of the move
	Place   diag.Place // what asked for it; zero for head and end
	Listed  string     // the line of a worklist that this is; "" elsewhere
	Thing   string     // of a line of loops: what it stands for
	Shapers []Shaper
	Entry   *layout.Entry
	Number  int // of the entry, from 1
}

func newReport(j Job) *Report {
	return &Report{
		Title: j.Title, Notices: j.Notices, Family: j.Family, Loops: j.Loops, Counts: j.Counts, Files: files(j), Of: j.Layout.Transfers(),
	}
}

// Explain answers a query.
func Explain(j Job, q Query) (*Report, error) {
	c, r := newCast(j.Layout), newReport(j)
	if err := r.ask(c, q); err != nil {
		return nil, err
	}
	r.past(c, &j)
	f := newFolder(r, c, q)
	if err := Join(j.Program, f.take); err != nil {
		return nil, err
	}
	f.finish()
	switch {
	case q.ProgramLine > 0 && !r.Focus.Found:
		return nil, &OutsideError{"program", q.ProgramLine, r.Lines}
	case q.Move > 0 && !r.Focus.Found:
		return nil, &NoMoveError{q.Move, r.Counts.Moves}
	}
	if f := r.Focus; f != nil && f.Entry != nil && f.Entry.Listed != nil && f.Place.File == f.Entry.Listed.File {
		f.Listed, _ = j.Sources.Line(f.Place.File, f.Place.Line)
	}
	return r, nil
}

// past looks up why a resumed job may hold no move for what was asked about.
func (r *Report) past(c *cast, j *Job) {
	if r.Subject != nil {
		r.Subject.Past = c.past(r.Subject.path, j)
	}
}

// files are the plan's and the cell's text with what stands on each line.
func files(j Job) []*File {
	plan := j.Layout.File
	var all []*File
	add := func(name, word string) {
		if text, ok := j.Sources.Text(name); ok {
			all = append(all, &File{name, word, outline.Of(name, text)})
		}
	}
	add(plan, "plan")
	if cell := j.Layout.Cell.Place.File; cell != "" && cell != plan {
		add(cell, "cell")
	}
	return all
}

// ask settles what a query is about.
func (r *Report) ask(c *cast, q Query) error {
	switch {
	case q.ProgramLine > 0:
		r.Focus = &Focus{Line: Line{N: q.ProgramLine}}
	case q.Move > 0:
		r.Focus = new(Focus)
	case q.PlanLine > 0:
		return r.about(c, "plan", planTopics(), q.PlanLine)
	case q.CellLine > 0:
		return r.about(c, "cell", cellTopics(), q.CellLine)
	}
	return nil
}

func (r *Report) about(c *cast, word string, topics []topic, line int) error {
	for _, f := range r.Files {
		if f.Word != word {
			continue
		}
		if line > f.Outline.Lines() {
			return &OutsideError{word, line, f.Outline.Lines()}
		}
		r.Asked = diag.Place{File: f.Name, Line: line}
		s, ok := c.subjectAt(f.Outline, topics, line)
		if !ok {
			s = Subject{Rests: none(c, nil)}
		}
		s = c.withAliases(f.Outline, topics, line, s)
		r.Subject = &s
		return nil
	}
	return &OutsideError{word, line, 0}
}

// titleOf names what stands at a place, with a capital letter.
func (r *Report) titleOf(c *cast, at diag.Place) string {
	topics := planTopics()
	for _, by := range c.l.AllFigures() {
		if at == by.Place {
			return "The motion settings"
		}
	}
	if f := r.file(at.File); f != nil {
		if f.Word == "cell" {
			topics = cellTopics()
		}
		if s, ok := c.subjectAt(f.Outline, topics, at.Line); ok && s.What != "" {
			return strings.ToUpper(s.What[:1]) + s.What[1:]
		}
	}
	return location(at.File, at.Line)
}

// OutsideError says that there is no such line.
type OutsideError struct {
	Word        string // plan, cell or program
	Line, Lines int
}

func (e *OutsideError) Error() string {
	if e.Lines == 0 {
		return "there is no file of the " + e.Word + ": it stands in the plan itself, see --plan-line"
	}
	return "there is no line " + number(e.Line) + " in the " + e.Word + ", which has " + wording.Count(e.Lines, "line")
}

// NoMoveError says that the list has no such move.
type NoMoveError struct{ Move, Moves int }

func (e *NoMoveError) Error() string {
	return "there is no move " + number(e.Move) + " in the list, which has " + wording.Count(e.Moves, "move")
}
