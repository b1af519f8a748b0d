package layout

import (
	"fmt"
	"iter"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Listed is the lines of an entry that is a worklist. Each part makes one of the entry's legs: there is one
// for each two grids that some line leads from and to, and the slots of a leg stand in it in the order of their
// lines. So a worklist costs a few numbers a line, however often the grids change.
type Listed struct {
	File  string // as findings name it
	Name  string // as the plan does
	Take  int    // at most so many of its lines; 0 for all
	Place diag.Place
	lines []listedLine
	notes []string // by line; nil where there are none
}

type listedLine struct {
	leg          int32 // of the entry's, from 0
	id           int32 // the number of the part that it names; 0 for none
	line         int32 // in the file
	from, to     int32 // the columns there
	wide, widest int16 // how many characters these two fields have
}

// LegOf is the leg, from 0, of a part, from 0, of a worklist.
func (t *Listed) LegOf(part int) int { return int(t.lines[part].leg) }

// From and To are where the line of a part, from 0, says where it comes from and where it goes.
func (t *Listed) From(part int) diag.Place {
	l := &t.lines[part]
	return diag.Place{File: t.File, Line: int(l.line), Col: int(l.from), Width: int(l.wide)}
}

func (t *Listed) To(part int) diag.Place {
	l := &t.lines[part]
	return diag.Place{File: t.File, Line: int(l.line), Col: int(l.to), Width: int(l.widest)}
}

// Names is the number of the part that a line names, from 0; 0 where it names none.
func (t *Listed) Names(part int) int32 { return t.lines[part].id }

// Note is the note of a line; "" for none.
func (t *Listed) Note(part int) string {
	if t.notes == nil {
		return ""
	}
	return t.notes[part]
}

// Run is lines behind each other that lead along one leg, with a note before the first of them at most.
type Run struct {
	Leg  int // of the entry's, from 0
	Note string
	Legs []Leg // that leg, with the slots of these lines only
}

// Runs are those of an entry that is a worklist, in their order.
func (e *Entry) Runs() iter.Seq[Run] {
	return func(yield func(Run) bool) {
		done := make([]int, len(e.Legs)) // lines along each leg
		for from := 0; from < e.Parts; {
			k, to := e.Listed.LegOf(from), from+1
			for to < e.Parts && e.Listed.LegOf(to) == k && e.Listed.Note(to) == "" {
				to++
			}
			leg, first := e.Legs[k], done[k]
			done[k] += to - from
			leg.From, leg.To = leg.From.lines(first, done[k]), leg.To.lines(first, done[k])
			if !yield(Run{k, e.Listed.Note(from), []Leg{leg}}) {
				return
			}
			from = to
		}
	}
}

// lines is some of a sequence of slots that are written out one by one.
func (s *Sequence) lines(from, to int) Sequence {
	part := *s
	part.list, part.Len = s.list[from:to], to-from
	around := Rect{s.Grid.Slot(int(part.list[0])), s.Grid.Slot(int(part.list[0]))}
	for _, i := range part.list {
		at := s.Grid.Slot(int(i))
		around.Lo = slot.Slot{Row: min(around.Lo.Row, at.Row), Col: min(around.Lo.Col, at.Col), Layer: min(around.Lo.Layer, at.Layer)}
		around.Hi = slot.Slot{Row: max(around.Hi.Row, at.Row), Col: max(around.Hi.Col, at.Col), Layer: max(around.Hi.Layer, at.Layer)}
	}
	part.rects = []Rect{around}
	return part
}

// HasList reports whether a file is a worklist of the plan.
func (l *Layout) HasList(file string) bool {
	return file != l.File && slices.ContainsFunc(l.Entries, func(e *Entry) bool { return e.Listed != nil && e.Listed.File == file })
}

// PlaceOf is what the plan says of a transfer: the entry, or the transfer's line in a worklist.
func (e *Entry) PlaceOf(transfer int) diag.Place {
	if e.Listed == nil {
		return e.Place
	}
	first, _ := e.Span()
	return e.Listed.To(transfer - first)
}

// PerPart is how many legs each part makes: all of a chain, one of a worklist.
func (e *Entry) PerPart() int {
	if e.Listed != nil {
		return 1
	}
	return len(e.Legs)
}

// LastLeg is the leg that the entry's last transfer goes along.
func (e *Entry) LastLeg() *Leg {
	if e.Listed != nil {
		return &e.Legs[e.Listed.LegOf(e.Parts-1)]
	}
	return &e.Legs[len(e.Legs)-1]
}

// perPart is the same before the legs are there.
func (e *Entry) perPart() int {
	if e.Listed != nil {
		return 1
	}
	return len(e.Stops) - 1
}

// listing is a worklist while it is resolved.
type listing struct {
	r    *resolver
	e    *Entry
	w    *plan.Worklist
	then []Step
	now  *occupancy
	legs map[[2]*Grid]int32
	at   map[*Grid]int // among the entry's stops
	put  bool          // some stop has the steps behind the lines
	good bool

	sought int // slots that were gone through for hints
}

// mostSought bounds how many slots are gone through for the hints of a worklist: some tens of hints on a
// bench of a million slots, and those of all that may be wrong on any other.
const mostSought = 50_000_000

// worklist is the entry of a worklist.
func (r *resolver) worklist(t *plan.Transfer, now *occupancy) *Entry {
	w := t.List
	if t.Unread {
		return nil
	}
	lines := w.Lines
	if t.Take.IsSet() {
		lines = lines[:min(len(lines), t.Take.V)]
	}
	if len(lines) == 0 && !w.Unread {
		r.list.Errorf("empty-worklist", diag.Place{File: w.Shown}, "the worklist has no line of a transfer below a line with the columns' names").
			WithHint("write a line for each part that is to go, or leave the entry out")
		return nil
	}
	e := &Entry{Place: t.Place, Parts: len(lines), AtOnce: 1, Listed: &Listed{File: w.Shown, Name: w.File.V, Take: t.Take.V, Place: w.File.Place, lines: make([]listedLine, len(lines))}}
	l := listing{r: r, e: e, w: w, then: r.steps(t.Then), now: now, legs: map[[2]*Grid]int32{}, at: map[*Grid]int{}, good: !w.Unread}
	for i := range lines {
		l.line(i, &lines[i])
		if r.list.Full() {
			return nil
		}
	}
	if !l.good {
		return nil
	}
	for i := range e.Legs {
		e.Legs[i].From.Len, e.Legs[i].To.Len = len(e.Legs[i].From.list), len(e.Legs[i].To.list)
	}
	if r.ofEntry(e, t); !r.oneTool(e) {
		return nil
	}
	c := chooser{r: r, t: t, e: e, now: now}
	if !c.withinLimit(need{parts: e.Parts}) {
		return nil
	}
	e.onePart()
	return e
}

// onePart says what all parts are, where that is the same.
func (e *Entry) onePart() {
	if len(e.kinds) == 1 {
		e.Part = e.kinds[0]
	}
}

// line is one transfer.
func (l *listing) line(i int, w *plan.WorklistLine) {
	from, fromSlot, ok := l.end(w.From)
	if !ok && l.several(w.From) {
		l.good = false
		return // the fields behind it stand for something else
	}
	to, toSlot, also := l.end(w.To)
	if !ok || !also || !l.flows(from, to, w) {
		l.good = false
		return
	}
	if l.w.Unread {
		return // without the lines that were refused nobody knows where the parts are
	}
	line := &l.e.Listed.lines[i]
	*line = listedLine{leg: l.leg(from, to, w), line: w.From.Line, from: w.From.Col, to: w.To.Col,
		wide: wide(w.From), widest: wide(w.To)}
	if w.Note.V != "" {
		if l.e.Listed.notes == nil {
			l.e.Listed.notes = make([]string, len(l.e.Listed.lines))
		}
		l.e.Listed.notes[i] = w.Note.V
	}
	leg := &l.e.Legs[line.leg]
	a, b := from.Index(fromSlot), to.Index(toSlot)
	leg.From.list, leg.To.list = append(leg.From.list, int32(a)), append(leg.To.list, int32(b))
	id := l.id(from, a, w, leg.Part)
	if line.id = id; w.ID.V == "" {
		line.id = 0
	}
	part := l.r.out.PartOf(id, leg.Part)
	l.e.carries(part)
	l.now.ids.Put(from, a, 0)
	l.now.ids.Put(to, b, id)
	l.now.take(from, a)
	l.now.put(to, b, part)
}

func wide(f plan.Field) int16 { return int16(min(utf8.RuneCountInString(f.V), math.MaxInt16)) }

// end is the grid and the slot that a field names.
func (l *listing) end(f plan.Field) (*Grid, slot.Slot, bool) {
	r := l.r
	name, label := plan.CutSlots(f.V)
	g, known := r.gridOf[name]
	if _, slotAlone := slot.Parse(f.V); !known && slotAlone && len(r.plan.Grids) > 0 {
		r.list.Errorf("bad-selection", f.In(l.w.Shown).Place, "found %q, wanted a grid and one slot of it", f.V).
			WithHint("write the grid first, such as \"%s %s\"", r.plan.Grids[0].Name.V, f.V)
		return nil, slot.Slot{}, false
	}
	if !known && !r.plan.Unread["grid"] {
		at := f.In(l.w.Shown)
		at.V, at.Place.Width = name, utf8.RuneCountInString(name)
		decode.Unknown(r.list, "grid", at, hintable(r.list, r.gridOf))
	}
	if g == nil {
		return nil, slot.Slot{}, false
	}
	if label = strings.TrimSpace(label); label == "" {
		if g.Size() == 1 {
			return g, slot.Slot{}, true
		}
		r.list.Errorf("bad-selection", f.In(l.w.Shown).Place, "found %q, wanted the grid and one slot of it, such as \"%s %s\"", f.V, g.Name, g.Label(g.Slot(0)))
		return nil, slot.Slot{}, false
	}
	s, ok := r.single(g, f.In(l.w.Shown), label)
	return g, s, ok
}

// several reports whether a field holds more than a grid and its slot, as where the separator behind it was forgotten.
func (l *listing) several(f plan.Field) bool {
	_, label := plan.CutSlots(f.V)
	return strings.ContainsAny(strings.TrimSpace(label), " ,;\t")
}

// slotHint says how to write one slot.
func slotHint(written string) string {
	name, label := plan.CutSlots(written)
	_, isSlot := slot.Parse(name)
	_, alone := slot.Parse(strings.TrimSpace(label))
	switch {
	case isSlot && label != "":
		return fmt.Sprintf("what stands between fields seems to be missing behind %q", name)
	case alone:
		return fmt.Sprintf("write %q alone: the table is that of one grid", strings.TrimSpace(label))
	case strings.ContainsAny(written, ":,"):
		return "write a line for each slot"
	}
	return "row letters, then the column number; a layer behind a dot: \"B2.3\""
}

// flows holds a line to the ways in which feeders flow.
func (l *listing) flows(from, to *Grid, w *plan.WorklistLine) bool {
	switch {
	case to.Flow == In:
		l.r.intoInfeed(to, w.To.In(l.w.Shown).Place)
	case from.Flow == Out:
		l.r.fromChute(from, w.From.In(l.w.Shown).Place)
	default:
		return true
	}
	return false
}

// leg is the number of the leg between two grids, a new one where no line before led along it.
func (l *listing) leg(from, to *Grid, w *plan.WorklistLine) int32 {
	pair := [2]*Grid{from, to}
	if k, known := l.legs[pair]; known {
		return k
	}
	k := int32(len(l.e.Legs))
	l.legs[pair] = k
	l.e.Legs = append(l.e.Legs, Leg{Part: l.now.held[from], From: ofList(from), To: ofList(to), Put: l.then})
	l.stop(from, w.From, nil)
	l.stop(to, w.To, l.then)
	if l.now.held[to] == nil {
		l.now.held[to] = l.now.held[from]
	}
	return k
}

// ofList is a sequence of slots that are written out.
func ofList(g *Grid) Sequence {
	return Sequence{Grid: g, rects: []Rect{everything(g)}, list: []int32{}}
}

// stop adds a grid to those that the worklist works at; the steps behind its lines belong to the first that is filled.
func (l *listing) stop(g *Grid, at plan.Field, then []Step) {
	i, known := l.at[g]
	if !known {
		i = len(l.e.Stops)
		l.at[g] = i
		l.e.Stops = append(l.e.Stops, Stop{Place: at.In(l.w.Shown).Place, Grid: g})
	}
	if then != nil && !l.put {
		l.e.Stops[i].Then, l.put = then, true
	}
}

// id is the number of the part that a line moves: the one that stands there, or that the line names.
func (l *listing) id(from *Grid, at int, w *plan.WorklistLine, part *Part) int32 {
	is := l.now.ids.At(from, at)
	id := w.ID
	switch {
	case id.V == "" || !l.now.full[from].Has(at): // an empty slot has a finding of its own
	case is == 0:
		if is = l.r.name(&l.w.Shown, id, part); is == 0 {
			l.good = false
		}
	case *l.r.out.ID(is) != id.V:
		there := &l.r.out.named[is-1]
		f := l.r.list.Errorf("id-mismatch", id.In(l.w.Shown).Place, "the line names the part %q, but %q holds %q then", id.V, w.From.V, there.ID).
			WithNote(there.Place(), "%q is given here", there.ID)
		if stands := l.where(id.V); stands != "" {
			f.WithHint("%q stands in %q then", id.V, stands)
		} else {
			f.WithHint("correct the id or \"from\", or leave the id out")
		}
		l.good = false
	}
	return is
}

// where says in which slot a part stands, for hints; "" where it stands in none, or where too many were sought.
func (l *listing) where(id string) string {
	number := l.r.out.byID[id]
	for _, g := range l.r.out.Grids {
		if l.sought += g.Size(); number == 0 || l.sought > mostSought {
			break
		}
		for i := range g.Size() {
			if l.now.ids.At(g, i) == number {
				return fmt.Sprintf("%s %s", g.Name, g.Label(g.Slot(i)))
			}
		}
	}
	return ""
}
