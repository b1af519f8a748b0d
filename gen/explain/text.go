package explain

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"gridferry/plan/wording"
)

// Text prints the report for a terminal of so many columns, 60 at least.
func (r *Report) Text(w io.Writer, width int) error {
	p := &printer{w: bufio.NewWriter(w), r: r, width: max(width, 60)}
	p.setColumns()
	for _, n := range r.Notices {
		p.prose("", n)
	}
	switch {
	case r.Focus != nil:
		p.focus()
	case r.Subject != nil:
		p.subject()
	default:
		p.whole()
	}
	return p.w.Flush()
}

type printer struct {
	w     *bufio.Writer
	r     *Report
	width int
	plan  int // columns for the plan; 0 where it stands above
	moves int // for the moves; the program has the rest
}

// gap stands between columns.
const gap = "  "

func (p *printer) setColumns() {
	p.moves = 28
	if p.width >= 110 {
		p.plan, p.moves = 28, 32
	}
}

func (p *printer) line(format string, args ...any) {
	fmt.Fprintln(p.w, strings.TrimRight(visible(fmt.Sprintf(format, args...)), " "))
}

// prose prints a paragraph with blanks before each line.
func (p *printer) prose(indent, text string) {
	for _, l := range wrap(text, p.width-len(indent)) {
		p.line("%s%s", indent, l)
	}
}

// whole is everything, from the first line of the program to the last.
func (p *printer) whole() {
	r := p.r
	p.line("%s", r.Title)
	p.prose("", fmt.Sprintf("%s made by the plan, %s of the program (family %s). What repeats is folded; a reason is given where it first applies.",
		wording.Count(r.Counts.Moves, "move"), wording.Count(r.Lines, "line"), r.Family))
	p.line("")
	p.excerpt("The program begins with its title, the cautions and what the moves refer to", r.Head)
	p.sections()
	p.excerpt("The program ends", r.Tail)
}

func (p *printer) excerpt(title string, e Excerpt) {
	if e.First == 0 {
		return
	}
	p.prose("", fmt.Sprintf("%s: program %s.", title, spans("line", e.First, e.Last)))
	p.line("")
}

// subject is one thing of the plan or cell and what depends on it.
func (p *printer) subject() {
	r := p.r
	file := r.file(r.Asked.File)
	p.line("%s", location(r.Asked.File, r.Asked.Line))
	p.line("%s", wording.Shorten("  "+visible(file.Outline.Line(r.Asked.Line)), p.width))
	p.line("")
	p.prose("", r.subjectSentence(file.Outline.Remark(r.Asked.Line)))
	p.prose("", r.restSentence())
	p.line("")
	p.sections()
}

// restSentence says how many moves depend on the subject.
func (r *Report) restSentence() string {
	switch {
	case r.Loops:
		return fmt.Sprintf("What depends on it is not listed: the family %s writes loops, and no single moves.", r.Family)
	case r.Rests == 0 && r.Subject.Past != "":
		return "No move of this run depends on it: " + r.Subject.Past + "."
	case r.Rests == 0 && len(r.Notices) > 0:
		return "No move of this run depends on it."
	case r.Rests == 0:
		return "No move depends on it."
	}
	all := number(r.Counts.Moves)
	return wording.Number(r.Rests, "move of "+all+" depends on it.", "moves of "+all+" depend on it.")
}

// focus is one line of the program and how it came to be there.
func (p *printer) focus() {
	f := p.r.Focus
	if f.Line.N > 0 {
		p.line("program line %d (family %s)", f.Line.N, p.r.Family)
		p.prose("  ", f.Line.Text)
		p.line("")
	}
	for _, paragraph := range p.r.focusStory() {
		p.prose("", paragraph)
		p.line("")
	}
	if f.Listed != "" {
		p.line("It is there because of %s", location(f.Place.File, f.Place.Line))
		p.line("%s", wording.Shorten("  "+visible(strings.TrimSpace(f.Listed)), p.width))
		p.source("a line of the worklist of", f.Entry.Place.File, f.Entry.Place.Line)
	} else if f.Entry != nil {
		p.source("It is there because of", f.Entry.Place.File, f.Entry.Place.Line)
	} else if !f.Place.IsZero() {
		p.source("It is there because of", f.Place.File, f.Place.Line)
	}
	if f.Part == "" && len(f.Shapers) > 0 {
		p.line("Its figures depend on")
		for _, s := range f.Shapers {
			p.shaper(s)
		}
		p.line("")
	}
	if len(p.r.Sections) > 0 && len(p.r.Sections[0].Pieces) > 0 {
		p.line("Where it stands (the line in question is marked with >)")
		p.line("")
		p.sections()
	}
}

func (p *printer) source(title, file string, line int) {
	p.line("%s %s", title, location(file, line))
	if f := p.r.file(file); f != nil && line <= f.Outline.Lines() {
		p.line("%s", wording.Shorten("  "+visible(strings.TrimSpace(f.Outline.Line(line))), p.width))
	}
	p.line("")
}

func (p *printer) shaper(s Shaper) {
	text := ""
	if f := p.r.file(s.Place.File); f != nil && s.Place.Line <= f.Outline.Lines() {
		text = visible(strings.TrimSpace(f.Outline.Line(s.Place.Line)))
	}
	p.prose("  ", s.What)
	p.line("%s", wording.Shorten("    "+location(s.Place.File, s.Place.Line)+"  "+text, p.width))
}

// sections prints the columns.
func (p *printer) sections() {
	if len(p.r.Sections) == 0 {
		return
	}
	if p.plan > 0 {
		p.line("%s", p.columns("PLAN", "MOVES", "PROGRAM"))
		p.line("%s", strings.Repeat("-", p.width))
	}
	for _, s := range p.r.Sections {
		if s.Count > 0 || s.Text.First > 0 {
			p.section(s)
		}
	}
}

func (p *printer) section(s *Section) {
	plan := p.planLines(s)
	if p.plan == 0 {
		p.prose("", s.heading())
		for _, l := range plan {
			p.line("%s", wording.Shorten("  "+l, p.width))
		}
		p.line("")
		p.line("%s", p.columns("", "MOVES", "PROGRAM"))
		plan = nil
	} else {
		p.prose("", s.heading())
	}
	for i, piece := range s.Pieces {
		plan = p.piece(piece, plan, i)
	}
	for _, l := range s.Text.Lines {
		plan = p.row(plan, nil, p.asItStands(l))
	}
	if n := s.Text.Last - s.Text.First + 1 - len(s.Text.Lines); s.Text.First > 0 && n > 0 {
		plan = p.row(plan, nil, []string{"… " + wording.Count(n, "line") + " more"})
	}
	for len(plan) > 0 {
		plan = p.row(plan, nil, nil)
	}
	p.line("")
}

// asItStands is a program line with the blanks at its start, which show how deep
// in loops it is.
func (p *printer) asItStands(l Line) []string {
	return setIn(fmt.Sprintf("%s%4d| ", p.mark(l), l.N), visible(l.Text), p.programWidth())
}

// heading is the section's title with all that it makes.
func (s *Section) heading() string {
	text := s.Title
	if s.Moves.First > 0 {
		text += ": " + spans("move", s.Moves.First, s.Moves.Last)
	}
	if s.Lines.First > 0 {
		text += ", program " + spans("line", s.Lines.First, s.Lines.Last)
	}
	return text
}

// planWidth is the room for a line of the plan, beside the moves or above them.
func (p *printer) planWidth() int {
	if p.plan > 0 {
		return p.plan
	}
	return p.width - 2
}

// planLines are the lines of the plan that a section comes from.
func (p *printer) planLines(s *Section) []string {
	f := p.r.file(s.Place.File)
	if f == nil {
		return nil
	}
	var lines []string
	for _, n := range f.thing(s.Place.Line) {
		lines = append(lines, setIn(fmt.Sprintf("%4d| ", n), visible(f.Outline.Line(n)), p.planWidth())...)
	}
	return lines
}

// thing is the lines of what begins on a line, as far as people want to see.
func (f *File) thing(line int) []int {
	const most = 12
	var lines []int
	for _, n := range f.Outline.Extent(line) {
		if len(lines) < most {
			lines = append(lines, n)
		}
	}
	return lines
}

func (r *Report) file(name string) *File {
	for _, f := range r.Files {
		if f.Name == name {
			return f
		}
	}
	return nil
}

// piece prints a unit, or what is folded, and gives the plan lines that are left.
func (p *printer) piece(u *Piece, plan []string, i int) []string {
	if u.Folded > 0 {
		return p.row(plan, wrap(u.foldSentence(), p.moves), []string{u.foldedLines()})
	}
	if u.Name != "" && (i > 0 || u.Transfers.First != u.Transfers.Last) {
		plan = p.row(plan, wrap(u.Name, p.moves), nil)
	}
	if u.Before > 0 {
		plan = p.row(plan, []string{"… " + wording.Count(u.Before, "move") + " before"}, nil)
	}
	for j := range u.Rows {
		plan = p.oneMove(&u.Rows[j], plan)
	}
	if u.More > 0 {
		plan = p.row(plan, []string{"… " + wording.Count(u.More, "move") + " more"}, nil)
	}
	return plan
}

// foldSentence says what is folded.
func (u *Piece) foldSentence() string {
	text := "… " + number(u.Folded) + " more"
	if u.Alike {
		text += " like this"
	}
	if u.Transfers.First > 0 {
		text += ", " + spans("transfer", u.Transfers.First, u.Transfers.Last)
	}
	return text + ", " + spans("move", u.Moves.First, u.Moves.Last)
}

func (u *Piece) foldedLines() string {
	if u.Lines.First == 0 {
		return ""
	}
	return "… " + spans("line", u.Lines.First, u.Lines.Last)
}

func (p *printer) oneMove(row *Row, plan []string) []string {
	mark := " "
	if row.InFocus {
		mark = ">"
	}
	moves := hang(fmt.Sprintf("%s%4d ", mark, row.Move.N), say(&row.Move), p.moves)
	var program []string
	for _, l := range append(append([]Line{}, row.Heading...), row.Lines...) {
		if text := visible(l.Text); strings.TrimSpace(text) != "" {
			program = append(program, hang(fmt.Sprintf("%s%4d| ", p.mark(l), l.N), strings.TrimSpace(text), p.programWidth())...)
		}
	}
	plan = p.row(plan, moves, program)
	if row.FirstWhy && p.r.Focus == nil {
		for _, l := range hang("      why: ", row.Why, p.width-p.before()) {
			plan = p.text(plan, l)
		}
	}
	return plan
}

func (p *printer) mark(l Line) string {
	if p.r.Focus != nil && l.N == p.r.Focus.Line.N {
		return ">"
	}
	return " "
}

// before is the columns that the plan takes.
func (p *printer) before() int {
	if p.plan == 0 {
		return 0
	}
	return p.plan + len(gap)
}

func (p *printer) programWidth() int { return p.width - p.before() - p.moves - len(gap) }

// text prints a line over the columns of moves and program.
func (p *printer) text(plan []string, text string) []string {
	if p.plan == 0 {
		p.line("%s", text)
		return plan
	}
	first, rest := head(plan)
	p.line("%s%s", column(first, p.plan)+gap, text)
	return rest
}

// row prints moves and program lines side by side, and as many lines of the plan.
func (p *printer) row(plan, moves, program []string) []string {
	for n := max(len(moves), len(program), 1); n > 0; n-- {
		var a, b, c string
		a, plan = head(plan)
		b, moves = head(moves)
		c, program = head(program)
		p.line("%s", p.columns(a, b, c))
	}
	return plan
}

func head(lines []string) (string, []string) {
	if len(lines) == 0 {
		return "", nil
	}
	return lines[0], lines[1:]
}

func (p *printer) columns(plan, moves, program string) string {
	text := ""
	if p.plan > 0 {
		text = column(plan, p.plan) + gap
	}
	return text + column(moves, p.moves) + gap + wording.Shorten(program, p.programWidth())
}
