package plan

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// Format is the first line of every plan.
const Format = "gridferry plan 1"

// BaseFrame names the arm's fixed coordinate frame.
const BaseFrame = "base"

// Plan is what is to be moved, as it was written.
type Plan struct {
	Place     diag.Place
	File      string
	Title     Text
	Cell      *Cell
	Parts     []*Part
	Grids     []*Grid
	Motion    Motion
	Begin     []Step
	Transfers []*Transfer
	End       []Step
	Unread    Unread
}

// Part is what is carried.
type Part struct {
	Name Text
	Mass Real   // kg
	Size Vector // mm, along the X, Y and Z of the grid it stands in
	Grip Real   // mm, height of the TCP above the part's bottom when it is held
	// Symmetry is one of Symmetries: which turns about Z make no difference.
	Symmetry Text
}

// Grid is slots in one frame: rows × columns × layers, or as Standard, Corners, Ring or
// Places say.
type Grid struct {
	Name          Text
	Place         diag.Place
	Frame         Text
	Rows, Columns Whole
	Layers        Whole
	Pitch         Pair // mm: column to column along X, row to row along Y
	LayerPitch    Real // mm
	Stagger       Real // mm along X, of every second row
	First         Vector
	Corners       *Corners  // instead of Pitch and First
	Standard      *Standard // instead of Rows, Columns, Pitch and First
	Ring          *Ring     // instead of Rows, Columns and Pitch
	Places        *Places   // instead of Rows, Columns, Pitch and First
	Pallet        *Pallet   // the footprint that parts stay over
	Boxes         *Boxes    // instead of Rows, Columns, Layers and Pitch
	RPY           Vector
	Part          Text
	Filled        Filled
	Contents      *Contents      // nil for none
	Missing       []Text         // selections
	Flow          Text           // one of Flows
	Offsets       []Offset       // of single slots
	Motion        *Motion        // its own; nil for none
	Written       decode.Written // which keys were there, readable or not
}

// Offset is how far a slot is off the place that the grid's pattern gives it.
type Offset struct {
	Slot Text
	By   Vector // mm, in the grid's frame
}

// Filled says which slots hold a part at the start.
type Filled struct {
	Place diag.Place
	All   bool
	Slots []Text // selections, when neither all nor none
	// Unread says that something here was refused, so that it is unknown what is full.
	Unread bool
}

// Transfer is one entry of "transfers": a chain of two or more stops.
type Transfer struct {
	Place   diag.Place
	Stops   []Stop
	List    *Worklist // instead of Stops; nil for none
	Then    []Step    // with a list: after each of its parts was put down
	Motion  *Motion   // its own; nil for none
	*Manner           // never nil
	// Unread says that something here was refused, so that what the entry does
	// is not known.
	Unread bool
}

// Manner is how an entry makes its transfers. All that say nothing of it share one: there may be very many.
type Manner struct {
	From    Text // order of leaving
	To      Text // order of filling
	Take    Whole
	AtOnce  Whole // parts that are carried at once
	Advance Text
}

// Stop is one place of a chain: a grid, or a grid and slots.
type Stop struct {
	Place  diag.Place
	Target Text // "tray" or "tray A1:B6"
	Before []Step
	Then   []Step
}

// The words of "flow".
const (
	FlowIn  = "in"
	FlowOut = "out"
)

// The words of "symmetry", "flow", "order" and "advance".
var (
	Symmetries = []string{"round", "quarter", "half", "none"}
	Flows      = []string{FlowIn, FlowOut}
	Orders     = []string{"by-row", "by-column", "serpentine", "shortest", "quickest", "balanced"}
	Advances   = []string{"leg", "part"}
)

// planForm is how a plan is written, around its cell and its variants.
func planForm(p *Plan, cell, variants decode.Form) decode.Form {
	return decode.Object{What: "a plan", Keys: []decode.Key{
		decode.FirstLine(Format, "plan"),
		decode.May("title", "What the plan is for; it stands at the head of every program.", decode.Text(&p.Title)),
		decode.Must("cell", "A cell's file beside the plan or below, or the cell's own keys in place.", cell),
		decode.May("parts", "What is carried, by name.", p.Unread.table("part", func(name Text) decode.Form {
			return added(&p.Parts, Part{Name: name}).form()
		})),
		decode.Must("grids", "Rows, columns and layers of slots, by name: trays, racks, plates, pallets, single places.", p.Unread.table("grid", func(name Text) decode.Form {
			return added(&p.Grids, Grid{Name: name}).form()
		})),
		decode.Must("motion", "How the arm moves.", p.Motion.form()),
		decode.May("begin", "Steps before the first transfer.", steps(&p.Begin)),
		decode.Must("transfers", "Which parts go from where to where, entry after entry.", decode.List{What: "transfers",
			Each: inTurn((*entry).form, func(e *entry) { added(&p.Transfers, e.Transfer) })}),
		decode.May("end", "Steps after the last travel to the clear pose.", steps(&p.End)),
		decode.May("variants", variantsDoc, variants),
	}, Check: func(_ *decode.Reader, written decode.Written) { p.Unread.misspelt(written, "part") }}
}

func (p *Part) form() decode.Form {
	wanting := schema.Wanting([2]string{"grip", "size"})
	return decode.Object{What: "a part", Check: p.check, Rules: []schema.Rule{wanting}, Keys: []decode.Key{
		decode.Must("mass", "Of one part, in kg.", decode.Quantity(&p.Mass, unit.Mass, decode.Positive)),
		decode.May("size", "Along the X, Y and Z of the grid that it stands in, in mm.", decode.Size(&p.Size)).Else("the part cannot be kept clear of anything"),
		decode.May("grip", "Height of the TCP above the part's bottom when it is held, from 0 to the part's height, in mm.",
			decode.Quantity(&p.Grip, unit.Length, decode.NotNegative)).Else("half the part's height"),
		decode.May("symmetry", "Which turns about its Z make no difference to the part: any, quarter turns, half turns, or none.",
			decode.OneOf(&p.Symmetry, Symmetries...)).Else("`quarter` where X and Y of the size are equal, otherwise `half`"),
	}}
}

func (p *Part) check(r *decode.Reader, _ decode.Written) {
	p.gripInPart(r)
	if size, word := p.Size.V, p.Symmetry.V; p.Size.IsSet() && size[0] != size[1] && (word == "round" || word == "quarter") {
		r.List.Errorf("bad-symmetry", p.Symmetry.Place, "the part %q is %g mm long and %g mm wide, so a quarter turn does make a difference to it", p.Name.V, size[0], size[1]).
			WithHint("write \"half\" or \"none\", or the same size along X and Y")
	}
}

// gripInPart holds the grip height to the part's own height.
func (p *Part) gripInPart(r *decode.Reader) {
	switch {
	case !p.Grip.IsSet():
	case !p.Size.IsSet():
		r.List.Errorf("missing-key", p.Grip.Place, "the part %q has a grip height, but no size", p.Name.V).
			WithHint("add \"size: [x, y, z]\", or leave \"grip\" out")
	case p.Grip.V > p.Size.V[2]:
		r.List.Errorf("out-of-range", p.Grip.Place, "the grip is %g mm above the bottom of %q, which is only %g mm high", p.Grip.V, p.Name.V, p.Size.V[2])
	}
}

// mostSlots bounds one direction of a grid; the number of slots altogether is
// bounded where they are laid out.
const mostSlots = 1_000_000_000

// MostRows is as far as row letters go: ZZZ.
const MostRows = 18278

func (g *Grid) form() decode.Form {
	var corners Corners
	var standard Standard
	var ring Ring
	var places Places
	var pallet Pallet
	var boxes Boxes
	var motion Motion
	var contents Contents
	keys := slices.Concat(g.keys(&pallet, &motion, &contents), corners.keys(), standard.keys(), []decode.Key{
		decode.May("ring", "Slots on circles about `first`, a row for each circle: `{radius: [60, 80], places: [12, 24]}`.", ring.form()),
		decode.May("places", "Slots that are written one by one, row by row: `{A: [[10, 20, 5], [45, 22, 5]], B: [{at: [80, 20, 5], turned: 30}]}`.", places.form()),
		boxes.key(),
	})
	return decode.At(&g.Place, decode.Object{What: "a grid", Keys: keys, Rules: []schema.Rule{oneLayoutRules, schema.NeverBoth([]string{"flow", "filled"}, []string{"flow", "contents"})}, Check: func(r *decode.Reader, written decode.Written) {
		g.Written = maps.Clone(written)
		g.oneLayout(r)
		g.fedOrFilled(r)
		switch {
		case written.Has("standard"):
			g.Standard = &standard
		case written.Has("corners"):
			g.Corners = &corners
		case written.Has("ring"):
			g.Ring = &ring
		case written.Has("places"):
			g.Places = &places
		case written.Has("boxes"):
			g.Boxes = &boxes
		}
		if pallet.Name.IsSet() {
			g.Pallet = &pallet
		}
		if written.Has("motion") {
			g.Motion = &motion
		}
		if written.Has("contents") {
			g.Contents = &contents
		}
	}})
}

func (g *Grid) keys(p *Pallet, m *Motion, c *Contents) []decode.Key {
	return []decode.Key{
		decode.Must("frame", "The frame that the grid lies in.", frameName(&g.Frame)),
		decode.May("rows", "How many rows: lettered, stepping along the frame's Y; needed without `standard`, `ring`, `places` and `boxes`.", decode.Whole(&g.Rows, 1, MostRows)),
		decode.May("columns", "How many columns: numbered, stepping along the frame's X; needed without `standard`, `ring`, `places` and `boxes`.", decode.Whole(&g.Columns, 1, mostSlots)),
		decode.May("layers", "How many layers, stepping along the frame's Z.", decode.Whole(&g.Layers, 1, mostSlots)).Default(1),
		decode.May("pitch", "Column to column along X, row to row along Y, in mm; needed with more than one slot.",
			decode.Pair(&g.Pitch, "column to column", "row to row", decode.Any)),
		decode.May("layer_pitch", "Layer to layer, in mm; needed with more than one layer.", decode.Quantity(&g.LayerPitch, unit.Length, decode.Positive)),
		decode.May("stagger", "Shift along X of every second row (B, D, F and so on), in mm.", decode.Quantity(&g.Stagger, unit.Length, decode.Any)).Default(0),
		decode.May("first", "TCP position of slot A1 in the lowest layer: x, y, z in the frame; needed without `corners`, `standard`, `places` and `boxes`. With `ring` it is the centre; with `boxes` the corner of the footprint, at the height on which the boxes stand, `[0, 0, 0]` where it is left out.", decode.Vector(&g.First)),
		decode.May("rpy", "How the tool is turned at a slot, in the frame: `[180, 0, 0]` points down, `[180, 0, 90]` too, `[0, 0, 90]` up. More than 20° off the way down is a warning, 90° or more an error.", decode.Angles(&g.RPY)).Default([]int{180, 0, 0}),
		decode.May("part", "What the grid holds; needed where it is filled or taken from.", decode.In("parts", decode.Name(&g.Part))).Else("anything"),
		decode.May("filled", "Which slots hold a part when the job begins: `all`, `none`, or slots such as `A1:B6`.", filled(&g.Filled)).Default("none"),
		decode.May("contents", "Which part is which: a CSV file beside the plan or below, with the columns `slot`, `id` and, where the grid holds more than one kind, `part`; the slots that it lists are filled.",
			decode.Text(&c.File)).Else("parts have no ids"),
		decode.May("missing", "Slots that are not there, such as `[A1:A2, C4]`.", selections(&g.Missing)).Else("none"),
		decode.May("flow", "Parts come or go by themselves: `in`, each slot holds a part whenever one is asked for; `out`, each slot is free whenever one is put down.",
			decode.OneOf(&g.Flow, Flows...)).Else("neither"),
		decode.May("pallet", "The footprint of a pallet that the grid's parts must not stand over, along +X and +Y from the frame's origin, or from `first` of `boxes`: a size of ISO 6780 such as `1200x800`, or `[x, y]` in mm; needed with `boxes`.", pallet(p)),
		decode.May("offsets", "How far single slots are off their places: x, y, z in the frame, their approach points too. A slot without a layer, in a grid with several, means each of them.", offsets(&g.Offsets)).Else("none"),
		decode.May("motion", "How the arm moves at this grid, as far as that differs from the plan's `motion`.", m.nearer("a grid")),
	}
}

// offsets reads corrections of single slots.
func offsets(dst *[]Offset) decode.Form {
	return decode.Texts{What: "slots, each with its offset [x, y, z]", Each: func(key decode.Node) decode.Form {
		o := Offset{}
		if !key.IsZero() {
			o.Slot = Text{V: key.Text(), Place: key.Place()}
		}
		return decode.Then(decode.Vector(&o.By), func(*decode.Reader, decode.Node) { *dst = append(*dst, o) })
	}}
}

// layouts are the ways of saying where a grid's slots are; the last one holds when
// none of the others is written.
var layouts = []struct {
	key             string
	needs, excludes []string
	options         []string // keys that say nothing without this way
}{
	{"standard", []string{"height"}, []string{"corners", "ring", "places", "boxes", "rows", "columns", "pitch", "first", "stagger"}, []string{"corner", "height"}},
	{"corners", []string{"rows", "columns"}, []string{"ring", "places", "boxes", "pitch", "first", "stagger"}, []string{"corners_in", "nominal_pitch", "tolerance"}},
	{"ring", []string{"first"}, []string{"places", "boxes", "rows", "columns", "pitch", "stagger"}, nil},
	{"places", []string{}, []string{"boxes", "rows", "columns", "pitch", "first", "stagger"}, nil},
	{"boxes", []string{"part", "pallet"}, []string{"rows", "columns", "layers", "pitch", "layer_pitch", "stagger"}, nil},
	{"first", []string{"rows", "columns", "first"}, nil, nil},
}

// oneLayout holds a grid to one way of saying where its slots are, and asks for
// what that way needs.
func (g *Grid) oneLayout(r *decode.Reader) {
	chosen := false
	for _, way := range layouts {
		if !g.Written.Has(way.key) {
			idle(r, g.Written, way.key, way.options...)
		}
		if chosen || g.Written == nil || way.key != "first" && !g.Written.Has(way.key) {
			continue
		}
		chosen = true
		g.need(r, way.key, way.needs)
		g.exclude(r, way.key, way.excludes)
	}
}

// fedOrFilled leaves "filled" and "contents" no room in a feeder.
func (g *Grid) fedOrFilled(r *decode.Reader) {
	for _, key := range []string{"filled", "contents"} {
		if !g.Written.Has("flow") || !g.Written.Has(key) {
			continue
		}
		r.List.Errorf("feeder-filled", g.Written[key], "the grid %q is a feeder: its slots fill or empty by themselves", g.Name.V).
			WithNote(g.Written["flow"], "\"flow\" stands here").WithHint("keep one of the two")
	}
}

// exclude reports the first key that stands beside a way that has no use for it.
func (g *Grid) exclude(r *decode.Reader, way string, keys []string) {
	for _, key := range keys {
		if g.Written.Has(key) {
			r.List.Errorf("two-layouts", g.Written[key], "the grid %q is laid out by %q, which leaves no room for %q", g.Name.V, way, key).
				WithNote(g.Written[way], "%q stands here", way).WithHint("keep one of the two")
			return
		}
	}
}

func (g *Grid) need(r *decode.Reader, way string, keys []string) {
	who := "a grid"
	if g.Written.Has(way) && way != "first" {
		who = fmt.Sprintf("a grid with %q", way)
	}
	for _, key := range keys {
		if !g.Written.Has(key) {
			r.List.Errorf("missing-key", g.Place, "%s needs %q", who, key)
		}
	}
}

// filled reads what stands in a grid.
func filled(f *Filled) decode.Form {
	var slots []Text
	return decode.At(&f.Place, decode.Then(selections(&slots, "all", "none"), func(r *decode.Reader, n decode.Node) { f.take(r, n, slots) }))
}

func (f *Filled) take(r *decode.Reader, n decode.Node, slots []Text) {
	wanted := 1
	if decode.IsList(n) {
		wanted = len(n.Items())
	}
	f.Unread = len(slots) < wanted
	if len(slots) == 1 {
		filledWord(r, &slots[0])
	}
	if len(slots) != 1 || slots[0].V != "all" && slots[0].V != "none" {
		f.Slots = slots
		return
	}
	f.All = slots[0].V == "all"
}

// filledWord finds a typing mistake in "all" or "none", which no slot looks like, and goes on with
// what was meant.
func filledWord(r *decode.Reader, t *Text) {
	if t.V == "all" || t.V == "none" || strings.ContainsFunc(t.V, func(c rune) bool { return !unicode.IsLetter(c) }) {
		return
	}
	if near := r.List.Nearest(t.V, []string{"all", "none"}); near != "" {
		r.List.Errorf("bad-selection", t.Place, "found %q, wanted all, none or slots such as \"A1:B6\"", t.V).
			DidYouMean(t.V, near)
		t.V = near
	}
}

// selections reads one selection or a list of them, or one of some words.
func selections(dst *[]Text, words ...string) decode.Form {
	slots := func(dst *Text) decode.Form { return decode.In("slots", decode.Selection(dst), words...) }
	each := inTurn(slots, func(t *Text) {
		if t.IsSet() {
			*dst = append(*dst, *t)
		}
	})
	return decode.OrList(each(), decode.List{What: "slots", Each: each})
}

// entry is a transfer while it is read, with the two ways of saying where parts go.
type entry struct {
	Transfer
	from, to Stop
	chain    []Stop
	list     Worklist
	motion   Motion
	manner   Manner
	listed   bool
}

// unsaid is the manner of entries that say nothing of it.
var unsaid Manner

// form reads "from … to" or a chain; the first is a chain of two stops.
func (e *entry) form() decode.Form {
	chain := decode.List{What: "stops", Each: inTurn((*Stop).form, func(s *Stop) { e.chain = append(e.chain, *s) })}
	listed := decode.Then(chain, func(_ *decode.Reader, n decode.Node) { e.listed = decode.IsList(n) })
	return decode.At(&e.Place, decode.Object{What: "a transfer", Check: e.check, Rules: oneRoute, Keys: []decode.Key{
		decode.May("from", "The stop that the parts leave: a grid, or a grid and slots such as `tray A1:B6`.", e.from.form()),
		decode.May("to", "The stop that the parts go to.", e.to.form()),
		decode.May("chain", "Two stops or more: the same parts make leg after leg.", decode.Under(listed, atLeast(2))),
		decode.May("list", "A worklist, in place of `from` and `to`: a CSV file beside the plan or below, with the columns `from` and `to`, such as `tray A1`, and where wanted `id` and `note`; a line a transfer, in that order.",
			decode.Text(&e.list.File)),
		decode.May("then", "With `list`: steps after each of its parts was put down and the arm went up again.", steps(&e.Then)),
		decode.May("order", "In which order slots are emptied and filled: `by-row` (A1 A2 … B1), `by-column` (A1 B1 … A2), "+
			"`serpentine` (by row, every second row backwards), `shortest`, `quickest`, `balanced` (a ring, in opposite pairs), or `{from: …, to: …}`.", e.manner.order()).Default(Orders[0]),
		decode.May("take", "At most this many parts.", decode.Whole(&e.manner.Take, 1, mostSlots)).Else("all"),
		decode.May("at_once", "How many parts the tool carries at once, each in a zone of its own; the last group may be smaller.", decode.Whole(&e.manner.AtOnce, 1, MostZones)).Default(1),
		decode.May("advance", "By `leg`, every part makes a leg before the next leg begins; by `part`, each goes through all the legs first.",
			decode.OneOf(&e.manner.Advance, Advances...)).Default(Advances[0]),
		decode.May("motion", "How the arm moves in this entry, as far as that differs from the grids' `motion` and the plan's.", e.motion.nearer("a transfer")),
	}})
}

// inTurn reads the entries of a list one after the other into the same place, by one
// table of keys, since there may be very many; keep gets each.
func inTurn[T any](form func(*T) decode.Form, keep func(*T)) func() decode.Form {
	entry := new(T)
	read := decode.Then(form(entry), func(*decode.Reader, decode.Node) {
		keep(entry)
		*entry = *new(T)
	})
	return func() decode.Form { return read }
}

func (e *entry) check(r *decode.Reader, written decode.Written) {
	if e.Manner = &unsaid; e.manner != unsaid {
		own := e.manner // what is read into serves the next entry
		e.Manner = &own
	}
	e.Unread = written.Has("take") && !e.Take.IsSet() || written.Has("at_once") && !e.AtOnce.IsSet() || written.Has("advance") && !e.Advance.IsSet()
	e.oneRoute(r, written)
	if e.listed && len(e.chain) < 2 {
		r.List.Errorf("short-chain", written["chain"], "the chain has length %d, wanted two stops or more", len(e.chain))
	}
	if e.Stops = e.chain; !e.listed && written.Has("from") && written.Has("to") {
		e.Stops = []Stop{e.from, e.to}
	}
	if written.Has("list") {
		list := e.list
		e.List = &list
	}
	if written.Has("motion") {
		motion := e.motion
		e.Motion = &motion
	}
}

// oneRoute holds an entry to one way of saying where the parts go.
func (t *Transfer) oneRoute(r *decode.Reader, written decode.Written) {
	ends := written.Has("from") || written.Has("to")
	switch {
	case written == nil:
	case written.Has("list"):
		t.onlyList(r, written)
	case written.Has("then"):
		r.List.Errorf("idle-key", written["then"], "\"then\" stands beside \"list\" only").
			WithHint("steps after a part was put down belong to the stop: \"to: {grid: …, then: […]}\"")
	case ends && written.Has("chain"):
		r.List.Errorf("two-routes", written["chain"], "\"chain\" stands beside \"from\" or \"to\"").
			WithHint("a chain names all its stops: leave \"from\" and \"to\" out")
	case !ends && !written.Has("chain"):
		r.List.Errorf("missing-key", t.Place, "a transfer needs \"from\" and \"to\", or \"chain\", or \"list\"")
	case ends && !written.Has("to"):
		r.List.Errorf("missing-key", t.Place, "a transfer needs \"to\" beside \"from\"")
	case ends && !written.Has("from"):
		r.List.Errorf("missing-key", t.Place, "a transfer needs \"from\" beside \"to\"")
	}
}

// onlyList holds an entry that is a worklist to what goes with one.
func (t *Transfer) onlyList(r *decode.Reader, written decode.Written) {
	for _, key := range besideList {
		if written.Has(key) {
			r.List.Errorf("two-routes", written[key], "%q stands beside \"list\", whose lines say what goes where, one after the other", key).
				WithNote(written["list"], "the worklist is named here").WithHint("leave it out, or put it into an entry of its own")
		}
	}
}

// besideList is the keys that a worklist leaves no room for.
var besideList = []string{"from", "to", "chain", "order", "at_once", "advance"}

// form reads "tray A1:B6", or {grid: "tray A1:B6", before: […], then: […]}.
func (s *Stop) form() decode.Form {
	mapping := decode.Object{What: "a stop", Keys: []decode.Key{
		decode.Must("grid", "A grid, or a grid and slots such as `tray A1:B6`.", s.target()),
		decode.May("before", "Steps at the approach point there, where the arm stops, before it goes down: at a chain's first stop to pick the part up, at any other to put it down.", steps(&s.Before)),
		decode.May("then", "Steps after the part was put down there and the arm went up again, or after it was picked up.", steps(&s.Then)),
	}}
	return decode.At(&s.Place, decode.Shared("stop", decode.OrMapping(s.target(), mapping)))
}

func (s *Stop) target() decode.Form { return decode.In("grids", decode.Selection(&s.Target)) }

// CutSlots splits "tray A1:B6" at its first blank; the second half keeps the
// text's end as it is.
func CutSlots(text string) (grid, slots string) {
	text = strings.TrimLeft(text, " \t\n")
	end := strings.IndexAny(text, " \t\n")
	if end < 0 {
		return text, ""
	}
	grid, slots = text[:end], text[end:]
	if strings.TrimSpace(slots) == "" {
		slots = ""
	}
	return grid, slots
}

// order reads one order for both sides, or {from: …, to: …}.
func (t *Manner) order() decode.Form {
	both := decode.Then(decode.OneOf(&t.From, Orders...), func(*decode.Reader, decode.Node) { t.To = t.From })
	return decode.OrMapping(both, decode.Object{What: "order", Keys: []decode.Key{
		decode.May("from", "The order of leaving.", decode.OneOf(&t.From, Orders...)),
		decode.May("to", "The order of filling.", decode.OneOf(&t.To, Orders...)),
	}})
}
