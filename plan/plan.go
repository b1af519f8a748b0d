package plan

import (
	"strings"
	"unicode"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
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
}

// Grid is rows × columns × layers of slots in one frame.
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
	Pallet        *Pallet   // the footprint that parts stay over
	RPY           Vector
	Part          Text
	Filled        Filled
	Missing       []Text         // selections
	Written       decode.Written // which keys were there, readable or not
}

// Filled says which slots hold a part at the start.
type Filled struct {
	Place diag.Place
	All   bool
	Slots []Text // selections, when neither all nor none
	// Unread tells that something here was refused, so that nobody knows what is full.
	Unread bool
}

// Motion is how the arm moves unless a step says otherwise.
type Motion struct {
	Place    diag.Place
	Tool     Text
	Approach Real // mm
	Travel   Real // mm/s
	Near     Real // mm/s
	FlyBy    Real // mm
	Clear    Text
	// OptionalStop is "never" (default) or "after-transfer".
	OptionalStop Text
}

// Transfer is one entry of "transfers": a chain of two or more stops.
type Transfer struct {
	Place   diag.Place
	Stops   []Stop
	From    Text // order of leaving
	To      Text // order of filling
	Take    Whole
	Advance Text
	// Unread tells that something here was refused, so that what the entry does
	// is not known.
	Unread bool
}

// Stop is one place of a chain: a grid, or a grid and slots.
type Stop struct {
	Place  diag.Place
	Target Text // "tray" or "tray A1:B6"
	Then   []Step
}

// AfterTransfer is the word of "optional_stop" that asks for one.
const AfterTransfer = "after-transfer"

// The words of "order" and "advance".
var (
	Orders   = []string{"by-row", "by-column", "serpentine", "shortest"}
	Advances = []string{"leg", "part"}
)

func (r *reader) plan(n decode.Node, cell cellReader) *Plan {
	p := &Plan{Place: n.Place(), Unread: Unread{"grid": true}} // until there is one
	written := r.Object(n, "a plan",
		decode.FirstLine(Format, r.format(Format)),
		decode.May("title", r.Text(&p.Title)),
		decode.Must("cell", func(n decode.Node) { p.Cell = cell(n) }),
		decode.May("parts", r.named(p.Unread, "part", func(name Text, n decode.Node) { p.Parts = append(p.Parts, r.part(name, n)) })),
		decode.Must("grids", r.named(p.Unread, "grid", func(name Text, n decode.Node) { p.Grids = append(p.Grids, r.grid(name, n)) })),
		decode.Must("motion", func(n decode.Node) { r.motion(n, &p.Motion) }),
		decode.May("begin", func(n decode.Node) { p.Begin = r.steps(n) }),
		decode.Must("transfers", func(n decode.Node) {
			r.Each(n, "transfers", func(n decode.Node) { p.Transfers = append(p.Transfers, r.transfer(n)) })
		}),
		decode.May("end", func(n decode.Node) { p.End = r.steps(n) }),
		decode.May("variants", r.checkVariants),
	)
	p.Unread.misspelt(written, "part")
	return p
}

func (r *reader) part(name Text, n decode.Node) *Part {
	p := &Part{Name: name}
	r.Object(n, "a part",
		decode.Must("mass", r.Quantity(&p.Mass, unit.Mass, decode.Positive)),
		decode.May("size", r.Size(&p.Size)),
		decode.May("grip", r.Quantity(&p.Grip, unit.Length, decode.NotNegative)),
	)
	r.gripInPart(p)
	return p
}

// gripInPart holds the grip height to the part's own height.
func (r *reader) gripInPart(p *Part) {
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

func (r *reader) grid(name Text, n decode.Node) *Grid {
	g := &Grid{Name: name, Place: n.Place(), Corners: &Corners{}, Standard: &Standard{}, Pallet: &Pallet{}}
	keys := []decode.Key{
		decode.Must("frame", r.Name(&g.Frame)),
		decode.May("rows", r.Whole(&g.Rows, 1, MostRows)),
		decode.May("columns", r.Whole(&g.Columns, 1, mostSlots)),
		decode.May("layers", r.Whole(&g.Layers, 1, mostSlots)),
		decode.May("pitch", r.Pair(&g.Pitch, "column to column", "row to row", decode.Any)),
		decode.May("layer_pitch", r.Quantity(&g.LayerPitch, unit.Length, decode.Positive)),
		decode.May("stagger", r.Quantity(&g.Stagger, unit.Length, decode.Any)),
		decode.May("first", r.Vector(&g.First)),
		decode.May("rpy", r.Angles(&g.RPY)),
		decode.May("part", r.Name(&g.Part)),
		decode.May("filled", func(n decode.Node) { r.filled(n, &g.Filled) }),
		decode.May("missing", func(n decode.Node) { g.Missing = r.selections(n) }),
		decode.May("pallet", r.pallet(g.Pallet)),
	}
	keys = append(append(keys, r.cornerKeys(g.Corners)...), r.standardKeys(g.Standard)...)
	g.Written = r.Object(n, "a grid", keys...)
	r.oneLayout(g)
	return g
}

// layouts are the ways of saying where a grid's slots are; the last one holds when
// none of the others is written.
var layouts = []struct {
	key             string
	needs, excludes []string
	options         []string // keys that say nothing without this way
}{
	{"standard", []string{"height"}, []string{"corners", "rows", "columns", "pitch", "first", "stagger"}, []string{"corner", "height"}},
	{"corners", []string{"rows", "columns"}, []string{"pitch", "first", "stagger"}, []string{"corners_in", "nominal_pitch", "tolerance"}},
	{"first", []string{"rows", "columns", "first"}, nil, nil},
}

// oneLayout holds a grid to one way of saying where its slots are, and asks for
// what that way needs.
func (r *reader) oneLayout(g *Grid) {
	chosen := false
	for _, way := range layouts {
		if !g.Written.Has(way.key) {
			r.idle(g.Written, way.key, way.options...)
		}
		if chosen || g.Written == nil || way.key != "first" && !g.Written.Has(way.key) {
			continue
		}
		chosen = true
		r.needs(g, way.needs)
		r.excludes(g, way.key, way.excludes)
	}
	if !g.Written.Has("standard") {
		g.Standard = nil
	}
	if g.Standard != nil || !g.Written.Has("corners") {
		g.Corners = nil
	}
	if !g.Pallet.Name.IsSet() {
		g.Pallet = nil
	}
}

// excludes reports the first key that stands beside a way that has no use for it.
func (r *reader) excludes(g *Grid, way string, keys []string) {
	for _, key := range keys {
		if g.Written.Has(key) {
			r.List.Errorf("two-layouts", g.Written[key], "the grid %q is laid out by %q, which leaves no room for %q", g.Name.V, way, key).
				WithNote(g.Written[way], "%q stands here", way).WithHint("keep one of the two")
			return
		}
	}
}

func (r *reader) needs(g *Grid, keys []string) {
	for _, key := range keys {
		if !g.Written.Has(key) {
			r.List.Errorf("missing-key", g.Place, "a grid needs %q", key)
		}
	}
}

func (r *reader) filled(n decode.Node, f *Filled) {
	f.Place = n.Place()
	slots := r.selections(n)
	wanted := 1
	if decode.IsList(n) {
		wanted = len(n.Items())
	}
	f.Unread = len(slots) < wanted
	if len(slots) == 1 {
		r.filledWord(&slots[0])
	}
	if len(slots) != 1 || slots[0].V != "all" && slots[0].V != "none" {
		f.Slots = slots
		return
	}
	f.All = slots[0].V == "all"
}

// filledWord finds a slip in "all" or "none", which no slot looks like, and goes on with
// what was meant.
func (r *reader) filledWord(t *Text) {
	if t.V == "all" || t.V == "none" || strings.ContainsFunc(t.V, func(c rune) bool { return !unicode.IsLetter(c) }) {
		return
	}
	if near := diag.Nearest(t.V, []string{"all", "none"}); near != "" {
		r.List.Errorf("bad-selection", t.Place, "found %q, wanted all, none or slots such as \"A1:B6\"", t.V).
			WithHint("did you mean %q?", near)
		t.V = near
	}
}

// selections reads one selection or a list of them.
func (r *reader) selections(n decode.Node) []Text {
	var texts []Text
	read := func(n decode.Node) {
		var t Text
		r.Selection(&t)(n)
		if t.IsSet() {
			texts = append(texts, t)
		}
	}
	if decode.IsList(n) {
		r.Each(n, "slots", read)
	} else {
		read(n)
	}
	return texts
}

func (r *reader) motion(n decode.Node, m *Motion) {
	m.Place = n.Place()
	r.Object(n, "motion",
		decode.Must("tool", r.Name(&m.Tool)),
		decode.Must("approach", r.Quantity(&m.Approach, unit.Length, decode.Positive)),
		decode.Must("speed", func(n decode.Node) {
			r.Object(n, "speed",
				decode.Must("travel", r.Quantity(&m.Travel, unit.Speed, decode.Positive)),
				decode.Must("near", r.Quantity(&m.Near, unit.Speed, decode.Positive)),
			)
		}),
		decode.May("fly_by", r.Quantity(&m.FlyBy, unit.Length, decode.NotNegative)).Was("blend"),
		decode.May("clear", r.Name(&m.Clear)),
		decode.May("optional_stop", r.OneOf(&m.OptionalStop, "never", AfterTransfer)),
	)
}

// transfer reads "from … to" or a chain; the first is a chain of two stops.
func (r *reader) transfer(n decode.Node) *Transfer {
	t := &Transfer{Place: n.Place()}
	var from, to Stop
	var chain []Stop
	listed := false
	written := r.Object(n, "a transfer",
		decode.May("from", func(n decode.Node) { from = r.stop(n) }),
		decode.May("to", func(n decode.Node) { to = r.stop(n) }),
		decode.May("chain", func(n decode.Node) {
			listed = r.Each(n, "stops", func(n decode.Node) { chain = append(chain, r.stop(n)) })
		}),
		decode.May("order", func(n decode.Node) { r.order(n, t) }),
		decode.May("take", r.Whole(&t.Take, 1, mostSlots)),
		decode.May("advance", r.OneOf(&t.Advance, Advances...)),
	)
	t.Unread = written.Has("take") && !t.Take.IsSet() || written.Has("advance") && !t.Advance.IsSet()
	r.chainForm(t, written)
	if listed && len(chain) < 2 {
		r.List.Errorf("short-chain", written["chain"], "the chain has length %d, wanted two stops or more", len(chain))
	}
	if listed {
		t.Stops = chain
	} else if written.Has("from") && written.Has("to") {
		t.Stops = []Stop{from, to}
	}
	return t
}

// chainForm holds an entry to one way of saying where the parts go.
func (r *reader) chainForm(t *Transfer, written decode.Written) {
	ends := written.Has("from") || written.Has("to")
	switch {
	case written == nil:
	case ends && written.Has("chain"):
		r.List.Errorf("two-routes", written["chain"], "\"chain\" stands beside \"from\" or \"to\"").
			WithHint("a chain names all its stops: leave \"from\" and \"to\" out")
	case !ends && !written.Has("chain"):
		r.List.Errorf("missing-key", t.Place, "a transfer needs \"from\" and \"to\", or \"chain\"")
	case ends && !written.Has("to"):
		r.List.Errorf("missing-key", t.Place, "a transfer needs \"to\" beside \"from\"")
	case ends && !written.Has("from"):
		r.List.Errorf("missing-key", t.Place, "a transfer needs \"from\" beside \"to\"")
	}
}

// stop reads "tray A1:B6", or {grid: "tray A1:B6", then: […]}.
func (r *reader) stop(n decode.Node) Stop {
	s := Stop{Place: n.Place()}
	if !decode.IsMap(n) {
		r.Selection(&s.Target)(n)
		return s
	}
	r.Object(n, "a stop",
		decode.Must("grid", r.Selection(&s.Target)),
		decode.May("then", func(n decode.Node) { s.Then = r.steps(n) }),
	)
	return s
}

// order reads one order for both sides, or {from: …, to: …}.
func (r *reader) order(n decode.Node, t *Transfer) {
	if !decode.IsMap(n) {
		r.OneOf(&t.From, Orders...)(n)
		t.To = t.From
		return
	}
	r.Object(n, "order",
		decode.May("from", r.OneOf(&t.From, Orders...)),
		decode.May("to", r.OneOf(&t.To, Orders...)),
	)
}
