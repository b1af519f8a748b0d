package explain

import (
	"path"
	"slices"
	"strings"

	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// What a report holds at most.
const (
	mostUnits    = 6    // shown of one section
	mostRows     = 60   // of one unit
	mostAllRows  = 1500 // of the report
	mostSections = 1000
)

// folder gathers moves into units (a transfer, or all legs of one part), shows
// the first unit of each form, and counts those that repeat one.
type folder struct {
	r       *Report
	c       *cast
	rests   func(*move.Move) bool
	line    int // of the program, in focus; 0 for none
	asked   int // the move in focus; 0 for none
	reasons reasons
	given   map[string]bool
	rows    int
	section *Section
	key     int // of the section
	seen    map[form]bool
	shown   int // units of the section
	begun   bool
	heading []Line // that waits for its transfer's first move
	// the unit that holds the line in focus, and its section
	focused   *Piece
	focusedIn *Section

	unit     *Piece
	unitKey  int
	form     form
	inFocus  bool
	transfer int // the section's first
}

// form is what makes two units alike: the roles and legs of their moves, as a
// number that is as good as different for different ones.
type form uint64

func (f form) with(m *move.Move) form {
	const prime = 1099511628211 // FNV-1a, 64 bits
	for _, v := range []int{int(m.Kind), int(m.Role), m.Leg} {
		f = (f ^ form(v)) * prime
	}
	return f
}

func newFolder(r *Report, c *cast, q Query) *folder {
	f := &folder{r: r, c: c, rests: func(*move.Move) bool { return true }, line: q.ProgramLine, asked: q.Move, given: map[string]bool{}}
	if r.Subject != nil {
		f.rests = r.Subject.Rests
	}
	return f
}

// Keys of sections that are no entries.
const (
	beforeAll = -1
	afterAll  = -2
)

// take is given every move, and everything else that makes lines, with its lines.
func (f *folder) take(m move.Move, own []Line) {
	f.countLines(own)
	switch {
	case m.N > 0:
		f.move(m, own)
	case m.Transfer > 0:
		f.heading = append(f.heading, own...)
	case m.Place != f.c.l.Place:
		f.enter(&m)
		f.section.Text.add(own)
		f.focusOn(m, "loops", own)
	case f.begun:
		f.r.Tail.add(own)
		f.focusOn(m, "end", own)
	default:
		f.r.Head.add(own)
		f.focusOn(m, "head", own)
	}
	f.begun = true
}

// move takes a move of the list.
func (f *folder) move(m move.Move, own []Line) {
	heading := f.heading
	f.heading = nil
	f.enter(&m)
	f.section.Moves.include(m.N, m.N)
	row := Row{Move: m, Heading: heading, Lines: own, Why: f.reasons.of(&m)}
	first, last := row.span()
	f.section.Lines.include(first, last)
	headed := f.focusOn(m, "heading", heading)
	row.InFocus = f.focusOn(m, "", own) || headed
	if row.InFocus {
		f.r.Focus.Why = row.Why
	}
	if f.rests(&m) {
		f.add(row)
	}
}

// span is the row's first and last line of the program; 0 for none.
func (row *Row) span() (first, last int) {
	for _, lines := range [][]Line{row.Heading, row.Lines} {
		if n := len(lines); n > 0 {
			if first == 0 {
				first = lines[0].N
			}
			last = lines[n-1].N
		}
	}
	return first, last
}

func (f *folder) countLines(lines []Line) {
	if n := len(lines); n > 0 {
		f.r.Lines = lines[n-1].N
	}
}

// enter goes to the section and the unit that a move belongs to.
func (f *folder) enter(m *move.Move) {
	entry, key := f.c.entry(m)
	if entry == nil {
		key = f.outside(m)
	}
	if f.section == nil || key != f.key {
		f.closeUnit()
		f.open(key, m)
	}
	if unit := f.unitOf(entry, m); f.unit == nil || unit != f.unitKey {
		f.closeUnit()
		f.unit, f.unitKey, f.form, f.inFocus = &Piece{Name: unitName(entry, m)}, unit, 1, false
	}
}

// outside is the section of a move in no entry.
func (f *folder) outside(m *move.Move) int {
	if m.N == 0 {
		if i, ok := f.c.entries[m.Place]; ok {
			return i
		}
		return -1000 - m.Place.Line // lines of the program that one thing in the plan made
	}
	if f.section == nil || f.key == beforeAll && !endsJob(m) {
		return beforeAll
	}
	return afterAll
}

func (f *folder) open(key int, m *move.Move) {
	s := &Section{Place: m.Place, Title: "At the end"}
	switch {
	case m.N == 0 && key < 0:
		s.Title = f.r.titleOf(f.c, m.Place)
	case key == beforeAll:
		s.Title = "At the beginning"
	case key >= 0:
		entry := f.c.l.Entries[key]
		s.Place, s.Title = entry.Place, entryTitle(key, entry)
	}
	f.section, f.key, f.seen, f.shown, f.transfer = s, key, map[form]bool{}, 0, m.Transfer
	if len(f.r.Sections) < mostSections {
		f.r.Sections = append(f.r.Sections, s)
	}
}

func entryTitle(i int, e *layout.Entry) string {
	if e.Listed != nil {
		return "Entry " + number(i+1) + ": the worklist " + path.Base(e.Listed.File) + ", " + wording.Count(e.Parts, "part")
	}
	stops := make([]string, len(e.Stops))
	for s := range e.Stops {
		stops[s] = e.Stops[s].Grid.Name
	}
	return "Entry " + number(i+1) + ": " + strings.Join(stops, " to ") + ", " + wording.Count(e.Parts, "part")
}

// unitOf numbers the units of an entry: all legs of a part where it goes through
// them at once, otherwise one transfer.
func (f *folder) unitOf(e *layout.Entry, m *move.Move) int {
	if e == nil {
		return 0
	}
	if e.AtOnce > 1 {
		return m.Unit()
	}
	if e.ByPart {
		return (m.Transfer - f.transfer) / len(e.Legs)
	}
	return m.Transfer
}

// idOf is the id of the part that a move's transfer carries; "" for one without.
func idOf(m *move.Move) string {
	if m.ID == nil {
		return ""
	}
	return *m.ID
}

func unitName(e *layout.Entry, m *move.Move) string {
	if e == nil {
		return ""
	}
	if first, last := e.Group(m.Transfer); last > first {
		return "transfers " + span(first, last) + ", their parts at once"
	}
	name := "transfer " + number(m.Transfer)
	if id := idOf(m); id != "" {
		name += ", part " + visible(id)
	}
	if e.Listed != nil {
		return name
	}
	if len(e.Legs) > 1 && e.ByPart {
		return "transfers " + span(m.Transfer, m.Transfer+len(e.Legs)-1) + ", one part through " + wording.Count(len(e.Legs), "leg")
	}
	if len(e.Legs) > 1 {
		name += ", leg " + number(m.Leg)
	}
	return name
}

// add puts a move into the present unit.
func (f *folder) add(row Row) {
	f.r.Rests++
	f.section.Count++
	u, m := f.unit, &row.Move
	f.form = f.form.with(m)
	u.Moves.include(m.N, m.N)
	u.Transfers.include(m.Transfer, m.Transfer)
	u.Lines.include(row.span())
	f.inFocus = f.inFocus || row.InFocus
	if len(u.Rows) >= mostRows && !row.InFocus {
		u.More++
		return
	}
	u.Rows = append(u.Rows, row)
}

// closeUnit shows the present unit or folds it.
func (f *folder) closeUnit() {
	u := f.unit
	f.unit = nil
	if u == nil || len(u.Rows) == 0 {
		return
	}
	repeats := f.seen[f.form]
	switch {
	case f.inFocus, !repeats && f.shown < mostUnits && f.rows+len(u.Rows) <= mostAllRows:
		f.show(u)
	default:
		f.fold(u, repeats)
	}
	f.seen[f.form] = true
	if f.inFocus {
		f.focusedIn, f.focused = f.section, u
	}
}

func (f *folder) show(u *Piece) {
	f.shown++
	f.rows += len(u.Rows)
	for i := range u.Rows {
		row := &u.Rows[i]
		row.Shapers = f.c.shapers(&row.Move)
		row.FirstWhy = row.Why != "" && !f.given[row.Why]
		f.given[row.Why] = true
	}
	f.section.Pieces = append(f.section.Pieces, u)
}

func (f *folder) fold(u *Piece, alike bool) {
	var last *Piece
	if n := len(f.section.Pieces); n > 0 {
		last = f.section.Pieces[n-1]
	}
	if last == nil || last.Folded == 0 {
		last = &Piece{Alike: alike}
		f.section.Pieces = append(f.section.Pieces, last)
	}
	last.Folded++
	last.Alike = last.Alike && alike
	last.Transfers.include(u.Transfers.First, u.Transfers.Last)
	last.Moves.include(u.Moves.First, u.Moves.Last)
	last.Lines.include(u.Lines.First, u.Lines.Last)
}

func (f *folder) finish() {
	f.closeUnit()
	if f.r.Focus == nil {
		return
	}
	f.r.Sections = nil
	if f.focused != nil {
		s := *f.focusedIn
		f.focused.narrow()
		s.Pieces = []*Piece{f.focused}
		f.r.Sections = []*Section{&s}
	}
}

// narrow leaves of a unit the rows around the one in focus.
func (p *Piece) narrow() {
	const around = 6
	at := slices.IndexFunc(p.Rows, func(row Row) bool { return row.InFocus })
	from, to := max(at-around, 0), min(at+around+1, len(p.Rows))
	p.Before, p.More = from, p.More+len(p.Rows)-to
	p.Rows = p.Rows[from:to]
}

// focusOn looks whether the line in focus is among some, and keeps what made them.
func (f *folder) focusOn(m move.Move, part string, own []Line) bool {
	focus := f.r.Focus
	switch {
	case focus == nil:
		return false
	case f.asked > 0:
		if m.N != f.asked || part != "" {
			return false
		}
	case len(own) == 0 || f.line < own[0].N || f.line > own[len(own)-1].N:
		return false
	default:
		focus.Line = own[f.line-own[0].N]
	}
	focus.Found, focus.Part, focus.Own = true, part, own
	if part == "loops" {
		focus.Thing = f.section.Title
	}
	if part != "head" && part != "end" {
		focus.Place = m.Place
	}
	if m.N > 0 {
		focus.Move, focus.Shapers = &m, f.c.shapers(&m)
	}
	i, ok := f.c.entries[m.Place]
	if e, k := f.c.entry(&m); e != nil && e.Listed != nil {
		i, ok = k, true
	}
	if ok && f.key >= 0 {
		focus.Entry, focus.Number = f.c.l.Entries[i], i+1
	}
	return true
}
