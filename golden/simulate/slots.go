package simulate

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gridferry/plan"
)

// slot is one place of a grid, counted from 0.
type slot struct{ row, col, layer int }

// box is a rectangle of slots over some layers, both corners in it.
type box struct{ lo, hi slot }

// grid is a grid of the plan with its slots.
type grid struct {
	*plan.Grid
	frame   *frame
	rows    []int // how many slots each has
	layers  int
	missing map[slot]bool
	offsets map[slot]Vec
	part    *plan.Part
	// lies says where the TCP is at a slot, in the frame, and how far tool and part are turned there.
	lies func(slot) (Vec, float64)
}

// label writes a slot: row letters up to Z are enough here.
func (g *grid) label(s slot) string {
	text := fmt.Sprintf("%c%d", 'A'+s.row, s.col+1)
	if g.layers > 1 {
		text += fmt.Sprintf(".%d", s.layer+1)
	}
	return text
}

func (g *grid) name(s slot) string { return g.Name.V + " " + g.label(s) }

// all is the grid as one box.
func (g *grid) all() box {
	return box{hi: slot{len(g.rows) - 1, slices.Max(g.rows) - 1, g.layers - 1}}
}

// boxes reads a selection; without a layer all layers are meant.
func (g *grid) boxes(texts ...string) (boxes []box) {
	for _, item := range strings.Split(strings.Join(texts, ","), ",") {
		if item = strings.TrimSpace(item); item == "" {
			continue
		}
		from, to, _ := strings.Cut(item, ":")
		a, b := g.corner(from, 0), g.corner(from, g.layers-1)
		if to != "" {
			a, b = g.corner(from, 0), g.corner(to, g.layers-1)
		}
		boxes = append(boxes, box{
			slot{min(a.row, b.row), min(a.col, b.col), min(a.layer, b.layer)},
			slot{max(a.row, b.row), max(a.col, b.col), max(a.layer, b.layer)},
		})
	}
	return boxes
}

// corner reads a label; layer is what holds where it names none.
func (g *grid) corner(label string, layer int) slot {
	label = strings.TrimSpace(label)
	flat, own, layered := strings.Cut(label, ".")
	if layered {
		layer = number(own) - 1
	}
	return slot{int(flat[0] - 'A'), number(flat[1:]) - 1, layer}
}

func number(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		panic(err)
	}
	return n
}

// walk lists the slots of boxes that are there: box after box; inside each, layer by layer (a
// source from the top down, a destination from the bottom up), and in each layer by the order's word.
func (g *grid) walk(boxes []box, order string, topFirst bool) (out []slot) {
	for _, b := range boxes {
		layers := span(b.lo.layer, b.hi.layer)
		if topFirst {
			slices.Reverse(layers)
		}
		for _, layer := range layers {
			for _, s := range g.flat(b, order, topFirst) {
				if s.layer = layer; s.col < g.rows[s.row] && !g.missing[s] {
					out = append(out, s)
				}
			}
		}
	}
	return out
}

// flat is one layer of a box in an order. A stack is filled in the order of its slots, and emptied in the
// reverse of that, whatever the order.
func (g *grid) flat(b box, order string, leaving bool) (out []slot) {
	if g.Boxes != nil {
		if out = ordered(b, "by-row"); leaving {
			slices.Reverse(out)
		}
		return out
	}
	return ordered(b, order)
}

func ordered(b box, order string) (out []slot) {
	if order == "by-column" {
		for _, col := range span(b.lo.col, b.hi.col) {
			for _, row := range span(b.lo.row, b.hi.row) {
				out = append(out, slot{row: row, col: col})
			}
		}
		return out
	}
	for i, row := range span(b.lo.row, b.hi.row) {
		cols := span(b.lo.col, b.hi.col)
		if order == "serpentine" && i%2 == 1 {
			slices.Reverse(cols)
		}
		for _, col := range cols {
			out = append(out, slot{row: row, col: col})
		}
	}
	return out
}

func span(lo, hi int) (out []int) {
	for i := lo; i <= hi; i++ {
		out = append(out, i)
	}
	return out
}

// entry is an entry of the transfers.
type entry struct {
	*plan.Transfer
	stops []stop
	lines []haul // of a worklist
}

type stop struct {
	grid         *grid
	boxes        []box // nil for the whole grid
	before, then []plan.Step
}

// token is a part that stands somewhere, called after the slot in which it stood first: its id, "" for
// none, and what it is then.
type token struct {
	name, id string
	kind     *plan.Part
	left     left
}

// left is where the middle of a part was left, in the frame of the grid, and what it was then; nothing while
// it stands where it stood first.
type left struct {
	kind   *plan.Part
	middle Pose
}

// bench is what stands where.
type bench map[string]token

// haul is a group of parts that make one leg together: the i-th goes from the i-th slot to the i-th.
type haul struct {
	leg          int
	source, goal *stop
	from, to     []slot
	kind         *plan.Part // of parts without ids
	note, id     string     // of a worklist's line
}

// carry moves the parts of a group, and gives them.
func (b bench) carry(h *haul) (tokens []token) {
	for _, s := range h.from {
		tokens = append(tokens, b.take(h.source.grid, s, h))
	}
	for i, s := range h.to {
		b.put(h.goal.grid, s, tokens[i])
	}
	return tokens
}

// take takes a part out of a slot. A line of a worklist may give an id to one that has none.
func (b bench) take(g *grid, s slot, h *haul) token {
	t := b[g.name(s)]
	switch {
	case t.name == "":
		t.name, t.kind = "nothing of "+g.name(s), h.kind
	case t.id == "":
		t.id, t.kind = h.id, h.kind
	}
	if g.Flow.V == "" {
		delete(b, g.name(s))
	}
	return t
}

func (b bench) put(g *grid, s slot, t token) {
	if g.Flow.V == "" {
		b[g.name(s)] = t
	}
}

// route is what an entry does, slot by slot: the k-th of from[leg] goes with the k-th of to[leg].
type route struct {
	parts    int
	from, to [][]slot
}

// hauls is the groups of an entry in the order in which they are carried: line after line, leg after leg, or
// each group through all legs.
func (e *entry) hauls(r *route) (all []haul) {
	if e.List != nil {
		return e.lines
	}
	n := e.AtOnce.Or(1)
	groups := (r.parts + n - 1) / n
	for k := range len(r.from) * groups {
		leg, group := k/groups, k%groups
		if e.byPart() {
			leg, group = k%len(r.from), k/len(r.from)
		}
		lo, hi := group*n, min(group*n+n, r.parts)
		all = append(all, haul{leg: leg, source: &e.stops[leg], goal: &e.stops[leg+1], from: r.from[leg][lo:hi], to: r.to[leg][lo:hi], kind: e.stops[0].grid.part})
	}
	return all
}

// listed goes through the lines of a worklist.
func (e *entry) listed(now bench) (route, string) {
	r := route{parts: len(e.lines)}
	now = clone(now)
	for i := range e.lines {
		h := &e.lines[i]
		from, to := h.source.grid, h.goal.grid
		there, full := now[from.name(h.from[0])]
		switch {
		case from.missing[h.from[0]] || to.missing[h.to[0]]:
			return r, "slot-missing"
		case from.Flow.V == "out" || to.Flow.V == "in":
			return r, "against-flow"
		case h.id != "" && full && there.id != "" && there.id != h.id:
			return r, "id-mismatch"
		}
		now.carry(h)
	}
	return r, ""
}

// choose picks the slots of an entry. The rule is that of the finding which must come; "" for none.
func (e *entry) choose(now bench) (route, string) {
	if e.List != nil {
		return e.listed(now)
	}
	n, rule := e.count(now)
	if rule != "" {
		return route{}, rule
	}
	r := route{parts: n}
	here := e.first(now, 0, n)
	for i := 1; i < len(e.stops); i++ {
		there := e.first(now, i, n)
		r.from, r.to = append(r.from, here), append(r.to, there)
		if here = there; !e.byPart() && i < len(e.stops)-1 {
			here = e.again(i, there)
		}
	}
	return r, ""
}

func (e *entry) byPart() bool { return e.Advance.V == "part" }

func (s *stop) all() []box {
	if s.boxes == nil {
		return []box{s.grid.all()}
	}
	return s.boxes
}

// faulty: in what is written there has to be a slot, and none may be named twice.
func (e *entry) faulty() (rule string) {
	for _, s := range e.stops {
		seen := map[slot]bool{}
		for _, b := range s.boxes {
			slots := s.grid.walk([]box{b}, "by-row", false)
			if len(slots) == 0 {
				return "slot-missing"
			}
			for _, at := range slots {
				if seen[at] {
					rule = "slot-repeated"
				}
				seen[at] = true
			}
		}
	}
	return rule
}

// candidates is the slots that a stop may use, in the order of use: those that are written, or of
// a whole grid the ones that hold a part (the first stop) or are free (any other).
func (e *entry) candidates(now bench, i int) []slot {
	s, order := &e.stops[i], e.To.Or("by-row")
	if i == 0 {
		order = e.From.Or("by-row")
	}
	all := s.grid.walk(s.all(), order, i == 0)
	if s.boxes != nil || s.grid.Flow.V != "" {
		return all
	}
	return slices.DeleteFunc(all, func(at slot) bool { return (now[s.grid.name(at)].name != "") != (i == 0) })
}

// single reports whether a middle stop is one slot, which serves every part in turn.
func (e *entry) single(i int) bool {
	s := &e.stops[i]
	return i > 0 && i < len(e.stops)-1 && len(s.grid.walk(s.all(), "by-row", false)) == 1
}

// count is how many parts go. Slots that are written out must match in number, or "take" says how
// many; whole grids are clipped, but must not fall short of what is written; feeders give and take any number.
func (e *entry) count(now bench) (int, string) {
	written, whole := -1, -1
	for i := range e.stops {
		if flow := e.stops[i].grid.Flow.V; i > 0 && flow == "in" || i < len(e.stops)-1 && flow == "out" {
			return 0, "against-flow"
		}
	}
	for i := range e.stops {
		s := &e.stops[i]
		n := len(e.candidates(now, i))
		if e.Take.IsSet() {
			n = min(n, e.Take.V)
		}
		switch {
		case e.single(i) || s.grid.Flow.V != "":
		case s.boxes == nil && (whole < 0 || n < whole):
			whole = n
		case s.boxes == nil:
		case written >= 0 && n != written:
			return 0, "count-mismatch"
		default:
			written = n
		}
	}
	n := max(written, whole)
	switch {
	case written >= 0 && whole >= 0 && whole < written:
		return 0, "count-mismatch"
	case written >= 0:
		n = written
	case whole < 0 && !e.Take.IsSet():
		return 0, "count-unknown"
	case whole < 0:
		n = e.Take.V
	}
	for i := range e.stops {
		if e.single(i) && n > 1 && (!e.byPart() || e.AtOnce.Or(1) > 1) {
			return 0, "single-slot-stop"
		}
	}
	return n, ""
}

// first is the first n slots of a stop; a single one in the middle, and those of a feeder, again and again.
func (e *entry) first(now bench, i, n int) []slot {
	s := &e.stops[i]
	slots := e.candidates(now, i)
	if e.single(i) {
		slots = s.grid.walk(s.all(), "by-row", false)
	}
	for len(slots) > 0 && len(slots) < n && (e.single(i) || s.grid.Flow.V != "") {
		slots = append(slots, slots...)
	}
	return slots[:n]
}

// again is the slots in which parts stand in the order in which they leave.
func (e *entry) again(i int, standing []slot) []slot {
	s := &e.stops[i]
	if e.single(i) {
		return standing
	}
	return slices.DeleteFunc(s.grid.walk(s.all(), e.From.Or("by-row"), true), func(at slot) bool { return !slices.Contains(standing, at) })
}
