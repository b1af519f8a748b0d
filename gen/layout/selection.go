package layout

import (
	"strings"
	"unicode/utf8"

	"gridferry/gen/slot"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// Rect is a block of slots, both corners in it, over a range of layers. A row may end
// within it: there are no slots behind that, as if they were missing.
type Rect struct{ Lo, Hi slot.Slot }

func (r Rect) rows() int    { return int(r.Hi.Row-r.Lo.Row) + 1 }
func (r Rect) columns() int { return int(r.Hi.Col-r.Lo.Col) + 1 }
func (r Rect) layers() int  { return int(r.Hi.Layer-r.Lo.Layer) + 1 }
func (r Rect) size() int    { return r.rows() * r.columns() * r.layers() }

// Size is the number of slots, missing ones too.
func (r Rect) Size() int { return r.size() }

// everything is the rectangle of the whole grid.
func everything(g *Grid) Rect {
	return Rect{Hi: slot.Slot{Row: int32(g.Rows - 1), Col: int32(g.Columns - 1), Layer: int32(g.Layers - 1)}}
}

// Turned is a rectangle that was written with its corners the other way round:
// "A5:A1". It is the rectangle all the same.
type Turned struct {
	Place   diag.Place
	Written string
	Rect    Rect
	Layer   bool // only the layers are the other way round
}

// selection reads "A1:B6", "A1, C2" or "A1:A6, D1:D3". The slots are the part
// of written that stands last in it: a stop has its grid's name before them.
// Every faulty item is reported at its own column.
func (r *resolver) selection(g *Grid, written plan.Text, slots string) ([]Rect, bool) {
	rects, _, ok := r.selected(g, written, slots)
	return rects, ok
}

// selected is selection where the sequence of the slots matters: it says which
// of the rectangles are turned, too.
func (r *resolver) selected(g *Grid, written plan.Text, slots string) ([]Rect, []Turned, bool) {
	s := selector{r: r, grid: g, written: written, whole: utf8.RuneCountInString(written.V)}
	rects := make([]Rect, 0, strings.Count(slots, ",")+1)
	faults := 0
	for start := len(written.V) - len(slots); start <= len(written.V); {
		item := written.V[start:]
		if comma := strings.IndexByte(item, ','); comma >= 0 {
			item = item[:comma]
		}
		rect, ok := s.item(item, start)
		if !ok {
			if faults++; faults == mostFaults {
				break // whoever wrote that knows by now
			}
		}
		rects = append(rects, rect)
		start += len(item) + 1
	}
	return rects, s.turned, faults == 0 && s.noRepeats(rects)
}

// mostFaults is how many faulty items of one selection are reported.
const mostFaults = 20

type selector struct {
	r       *resolver
	grid    *Grid
	written plan.Text
	whole   int // characters in all of written
	turned  []Turned

	// How many characters there are up to a byte, as far as was counted: items
	// come in order, and a selection may be megabytes long.
	bytes, runes int
}

// item reads one item, which begins at byte start of the written text.
func (s *selector) item(item string, start int) (Rect, bool) {
	trimmed := strings.TrimSpace(item)
	start += strings.Index(item, trimmed)
	at := s.at(start, trimmed)
	from, to, isRange := strings.Cut(trimmed, ":")
	if !isRange {
		to = from
	}
	if first, last := rowNamed(from), rowNamed(to); first >= 0 && last >= 0 {
		return s.rows(trimmed, first, last, at)
	}
	lo, ok := slot.Parse(strings.TrimSpace(from))
	hi := lo
	if ok && isRange {
		hi, ok = slot.Parse(strings.TrimSpace(to))
	}
	if !ok || lo.HasLayer != hi.HasLayer {
		s.r.list.Errorf("bad-selection", at, "found %q, wanted slots such as \"A1\", \"B2:C6\" or \"A1, C2\"", wording.Brief(trimmed)).
			WithHint("row letters, then the column number; a layer behind a dot: \"B2.3\"; a whole row: \"B\"")
		return Rect{}, false
	}
	rect, ok := s.rect(lo, hi, at)
	if ok {
		s.turn(Turned{Place: at, Written: trimmed, Rect: rect}, lo, hi)
	}
	return rect, ok
}

// rowNamed is the row of capital letters that stand alone; -1 for any other text.
func rowNamed(text string) int32 {
	letters := strings.TrimSpace(text)
	if strings.ContainsFunc(letters, func(c rune) bool { return c < 'A' || c > 'Z' }) {
		return -1
	}
	if label, ok := slot.Parse(letters + "1"); ok {
		return label.Row
	}
	return -1
}

// rows is whole rows, one or several, in all layers: as many columns as the longest of them has.
func (s *selector) rows(written string, first, last int32, at diag.Place) (Rect, bool) {
	g := s.grid
	if most := max(first, last); int(most) >= g.Rows {
		s.r.list.Errorf("slot-outside-grid", at, "the row %q is outside the grid %q, which goes from %s to %s", slot.Letters(int(most)), g.Name, g.Label(slot.Slot{}), g.Label(g.Slot(g.Size()-1)))
		return Rect{}, false
	}
	rect := everything(g)
	rect.Lo.Row, rect.Hi.Row = min(first, last), max(first, last)
	rect.Hi.Col = 0
	for row := rect.Lo.Row; row <= rect.Hi.Row; row++ {
		rect.Hi.Col = max(rect.Hi.Col, int32(g.Length(int(row))-1))
	}
	if !s.there(rect, at) {
		return Rect{}, false
	}
	s.turn(Turned{Place: at, Written: written, Rect: rect}, slot.Label{Slot: slot.Slot{Row: first}}, slot.Label{Slot: slot.Slot{Row: last}})
	return rect, true
}

// turn keeps a rectangle that begins at another corner than its lowest.
func (s *selector) turn(t Turned, a, b slot.Label) {
	flat := a.Row > b.Row || a.Col > b.Col
	if t.Layer = !flat && a.Layer > b.Layer; (flat || t.Layer) && len(s.turned) < mostFaults {
		s.turned = append(s.turned, t)
	}
}

// rect holds a rectangle to the grid; a rectangle without a layer means all.
func (s *selector) rect(a, b slot.Label, at diag.Place) (Rect, bool) {
	whole := everything(s.grid)
	if !a.HasLayer {
		b.Layer = whole.Hi.Layer
	}
	rect := Rect{
		slot.Slot{Row: min(a.Row, b.Row), Col: min(a.Col, b.Col), Layer: min(a.Layer, b.Layer)},
		slot.Slot{Row: max(a.Row, b.Row), Col: max(a.Col, b.Col), Layer: max(a.Layer, b.Layer)},
	}
	for _, corner := range []slot.Label{a, b} {
		if !s.grid.Inside(corner.Slot) {
			s.outside(corner, at)
			return Rect{}, false
		}
	}
	return rect, s.there(rect, at)
}

// there refuses a rectangle of which no slot is there.
func (s *selector) there(rect Rect, at diag.Place) bool {
	found, looks := s.any(rect)
	if !s.r.look(looks, at) {
		return false
	}
	if !found {
		s.missing(rect, at)
	}
	return found
}

// any reports whether any slot of a rectangle is there, and how many it looked at.
func (s *selector) any(rect Rect) (found bool, looks int) {
	for k := range rect.size() {
		if s.grid.Has(rect.nth(k, ByRow, false)) {
			return true, k + 1
		}
	}
	return false, rect.size()
}

// outside reports a slot that is none: where the grid ends, or the row does where rows
// are not all as long.
func (s *selector) outside(at slot.Label, place diag.Place) {
	g, name := s.grid, at.Slot.Label(at.HasLayer)
	last := g.Slot(g.Size() - 1)
	if row := at.Row; int(row) < g.Rows && g.Length(int(row)) < g.Columns && at.Layer <= last.Layer {
		s.r.list.Errorf("slot-outside-grid", place, "the slot %q is outside the grid %q, whose row %s has %s",
			name, g.Name, slot.Letters(int(row)), wording.Count(g.Length(int(row)), "slot"))
		return
	}
	s.r.list.Errorf("slot-outside-grid", place, "the slot %q is outside the grid %q, which goes from %s to %s", name, g.Name, g.Label(slot.Slot{}), g.Label(last))
}

// missing reports a slot, or a whole rectangle of them, that is not there.
func (s *selector) missing(rect Rect, at diag.Place) {
	if rect.size() > 1 {
		s.r.list.Errorf("slot-missing", at, "the grid %q has none of the slots from %s to %s", s.grid.Name, s.grid.Label(rect.Lo), s.grid.Label(rect.Hi)).
			WithHint("they are listed under \"missing\", or --missing names them")
		return
	}
	s.r.list.Errorf("slot-missing", at, "the slot %q is one that the grid %q does not have", s.grid.Label(rect.Lo), s.grid.Name).
		WithHint("it is listed under \"missing\", or --missing names it")
}

// noRepeats refuses a slot that is named twice.
func (s *selector) noRepeats(rects []Rect) bool {
	if s.apart(rects) {
		return true
	}
	looks := sized(rects)
	if s.grid.Missing == nil {
		looks = min(looks, s.grid.Size()) // by then one comes again
	}
	if !s.r.look(looks, s.written.Place) {
		return false
	}
	see := firstSeen(s.grid, looks)
	return each(s.grid, rects, ByRow, false, func(at slot.Slot) bool {
		if !see(s.grid.Index(at)) {
			s.r.list.Errorf("slot-repeated", s.written.Place, "the slot %q of the grid %q is named twice", s.grid.Label(at), s.grid.Name).
				WithHint("name every slot once")
			return false
		}
		return true
	})
}

// firstSeen tells whether a slot comes for the first time, where up to n come: by a set
// as large as the grid, or a small one for a few slots of a large grid.
func firstSeen(g *Grid, n int) func(i int) bool {
	if n < g.Size()/64 {
		seen := make(map[int]bool, n)
		return func(i int) bool { was := seen[i]; seen[i] = true; return !was }
	}
	seen := NewSlots(g.Size())
	return func(i int) bool { was := seen.Has(i); seen.Add(i); return !was }
}

// apart reports whether a few rectangles plainly have no slot in common: without
// it, every pair of slots in a hundred thousand entries would cost a set as large
// as the grid.
func (s *selector) apart(rects []Rect) bool {
	const few = 8
	if len(rects) > few {
		return false
	}
	for i, a := range rects {
		for _, b := range rects[:i] {
			if a.Lo.Row <= b.Hi.Row && b.Lo.Row <= a.Hi.Row && a.Lo.Col <= b.Hi.Col && b.Lo.Col <= a.Hi.Col &&
				a.Lo.Layer <= b.Hi.Layer && b.Lo.Layer <= a.Hi.Layer {
				return false
			}
		}
	}
	return true
}

// at is the place of an item inside the written text, as far as the text
// stands in the file letter by letter.
func (s *selector) at(start int, item string) diag.Place {
	p := s.written.Place
	s.runes += utf8.RuneCountInString(s.written.V[s.bytes:start])
	s.bytes = start
	skipped := s.runes
	switch p.Width {
	case s.whole: // plain
	case s.whole + 2: // in quotes
		skipped++
	default:
		return p
	}
	p.Col += skipped
	p.Width = max(1, utf8.RuneCountInString(item))
	return p
}
