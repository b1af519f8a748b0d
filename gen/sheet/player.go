package sheet

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"gridferry/gen/explain"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// What the player carries at most. A page that a tablet opens from a stick has to
// stay small, and nobody steps through more.
const (
	mostMoves     = 2000
	mostLines     = 8000 // of the program
	mostSlots     = 4000 // of one grid, and twice that in all: as many as the drawing shows one by one
	mostLineRunes = 200
)

// bound says how much of the job the player carries.
type bound struct {
	Moves, OfMoves, Transfers, OfTransfers int
	Whole                                  bool
}

// playerData is what the script reads. Lengths are mm in the base.
type playerData struct {
	Moves        []playMove    `json:"moves"`
	Orientations []orientation `json:"orientations"`
	Tools        [][]playBox   `json:"tools,omitempty"`
	Grids        []playGrid    `json:"grids"`
	Held         *playSlot     `json:"held,omitempty"` // in the gripper before the first move
	Clock        string        `json:"clock"`          // the time of the whole job, in words
	Transfers    int           `json:"transfers"`      // of the whole job
	OfMoves      int           `json:"ofMoves"`        // likewise
	Plan         []playFile    `json:"plan"`
	Family       string        `json:"family"`
	Program      [][2]any      `json:"program"` // number and text of each line
}

// playMove is one move. At is there for motions, Slot for grips and releases.
type playMove struct {
	Words    string  `json:"words"`
	Kind     string  `json:"kind"`
	Transfer int     `json:"transfer"`
	Behind   int     `json:"behind,omitempty"` // so many transfers behind that one is the part that is gripped or let go
	At       []num   `json:"at,omitempty"`
	Turn     int     `json:"turn,omitempty"` // in Orientations
	Slot     *[2]int `json:"slot,omitempty"` // grid, index
	Zone     int     `json:"zone,omitempty"` // of a tool with zones, that grips or lets go, from 1 on
	Part     string  `json:"part,omitempty"` // of a grip or a release: the part, where it has an id
	Lies     int     `json:"lies,omitempty"` // of a release: how the part lies there, in Turned of the grid, from 1 on
	Load     num     `json:"load,omitempty"` // given by a select
	Place    [2]int  `json:"place"`          // file, line of the plan
	Lines    *[2]int `json:"lines,omitempty"`
	Until    num     `json:"until"` // seconds from the start to its end, estimated
}

// orientation is how the tool is turned: the way from its tip to the flange, and
// its heading about the base's Z, degrees; of a tool that has boxes, its number and their axes.
type orientation struct {
	Flange  [3]num         `json:"flange"`
	Heading num            `json:"heading"`
	Tool    int            `json:"tool,omitempty"`
	Axes    *[3][3]float64 `json:"axes,omitempty"`
	Zones   [][3]num       `json:"zones,omitempty"` // the ways from its tip to those of all zones of the tool
}

// playGrid is where the slots of a grid are: the outermost ones, between which
// all others lie evenly, and what a part looks like from its slot.
type playGrid struct {
	Name    string    `json:"name"`
	Part    string    `json:"part"`
	Size    [3]int    `json:"size"`    // rows, columns, layers
	Corners [8][3]num `json:"corners"` // bit 0 of the index is the column, bit 1 the row, bit 2 the layer
	Stagger [3]num    `json:"stagger"` // of rows B, D, …
	Solid   [][3]num  `json:"solid"`   // corners of a part, from its slot

	// Where slots do not lie evenly: every slot that is shown, with its index, where it
	// is, and which of the solids stands in it; and how long rows are.
	Places [][5]num   `json:"places,omitempty"`
	Solids [][][3]num `json:"solids,omitempty"`
	Rows   []int      `json:"rows,omitempty"`

	// Parts that lie otherwise than their slots say: their corners, one way after the
	// other, and which of them stand so at the start.
	Turned [][][3]num  `json:"turned,omitempty"`
	Lies   map[int]int `json:"lies,omitempty"`

	Feeds   bool  `json:"feeds,omitempty"` // what stands there stays as it is, whatever is taken or put down
	Full    []int `json:"full"`
	Missing []int `json:"missing"`
	Only    []int `json:"only,omitempty"` // the slots to show, where there are too many for all
}

type playSlot struct {
	Grid int `json:"grid"`
	Slot int `json:"slot"`
	Lies int `json:"lies,omitempty"`

	Part string `json:"part,omitempty"` // as of a move
}

// playFile is a file of the plan, as far as moves rest on it.
type playFile struct {
	Name  string   `json:"name"`
	Lines [][2]any `json:"lines"`
}

// player is what the player is given.
func (j *Job) player() (*playerData, bound, error) {
	b := &builder{job: j, grids: map[string]int{}, turns: map[turnOf]int{}, files: map[string]int{}, used: map[string]map[int]bool{},
		turned: map[lain]int{}, solids: map[string][][][3]num{}}
	b.follow = j.Layout.Follow()
	b.gather()
	if err := b.program(); err != nil {
		return nil, bound{}, err
	}
	b.times()
	b.layOut()
	b.plan()
	for i := range b.data.Plan {
		b.data.Plan[i].Name = path.Base(b.data.Plan[i].Name)
	}
	return &b.data, b.bound, nil
}

type builder struct {
	job   *Job
	data  playerData
	bound bound
	grids map[string]int
	turns map[turnOf]int
	files map[string]int // of the plan
	used  map[string]map[int]bool

	follow *layout.Follower
	turned map[lain]int // from 1 on, by grid
	solids map[string][][][3]num
}

// lain is a way in which parts of a grid lie in slots that are turned so far.
type lain struct {
	grid   string
	turned float64
	lies   int
}

// turnOf is what a tool's orientation depends on.
type turnOf struct {
	tool int
	turn geom.RPY
}

// gather takes the moves of as many whole transfers as there is room for.
func (b *builder) gather() {
	b.data.Moves, b.data.Orientations = []playMove{}, []orientation{}
	b.data.Tools = playBoxes(b.job.Layout.Tools)
	for i, g := range b.job.Layout.Grids {
		b.grids[g.Name] = i
	}
	full, last := false, 0
	for m := range b.job.Moves {
		b.bound.OfMoves++
		b.bound.OfTransfers = max(b.bound.OfTransfers, m.Carries())
		if full {
			continue
		}
		if len(b.data.Moves) >= mostMoves && m.Transfer != last || len(b.data.Moves) >= 2*mostMoves {
			full = true
			continue
		}
		last = m.Transfer
		b.data.Moves = append(b.data.Moves, b.move(&m))
		b.bound.Transfers = max(b.bound.Transfers, m.Carries())
	}
	b.bound.Moves, b.bound.Whole = len(b.data.Moves), !full
	b.data.Transfers, b.data.OfMoves = b.bound.OfTransfers, b.bound.OfMoves
}

func (b *builder) move(m *move.Move) playMove {
	b.follow.See(m)
	p := playMove{Kind: m.Kind.String(), Transfer: m.Transfer, Behind: m.Behind, Words: words(m), Place: [2]int{b.file(m.Place), m.Place.Line}}
	switch m.Kind {
	case move.Travel, move.Straight:
		at := nums(m.Base.Vec)
		p.At, p.Turn = at[:], b.turn(m)
	case move.Select:
		p.Load = num(m.Load)
	case move.Grip, move.Release:
		tool := b.job.Layout.Tools[m.ToolNumber-1]
		p.Zone = slices.Index(tool.Zones, tool) + 1
		p.Part = named(b.job.Layout, m.ID)
		if m.Target.Grid != "" {
			g := b.grids[m.Target.Grid]
			p.Slot = &[2]int{g, b.job.Layout.Grids[g].Index(m.Target.Slot)}
			if m.Kind == move.Release {
				p.Lies = b.lies(b.job.Layout.Grids[g], m.Target.Slot, b.follow.Lies(b.job.Layout.Grids[g]))
			}
		}
	case move.Set, move.Await, move.Dwell, move.Note:
	}
	return p
}

// named is a part with its id: "vial M-1201"; "" for one without.
func named(l *layout.Layout, id *string) string {
	if id == nil {
		return ""
	}
	return partName(l.Named(*id).Part) + " " + *id
}

// lies is the number of the solid that stands in a slot of a grid; 0 for a part that lies
// as its slot says.
func (b *builder) lies(g *layout.Grid, at slot.Slot, lies *layout.Lies) int {
	number := lies.At(g.Index(at))
	if number == 0 {
		return 0
	}
	_, turned := g.Pattern.At(at)
	key := lain{g.Name, turned, number}
	if b.turned[key] == 0 {
		b.solids[g.Name] = append(b.solids[g.Name], solidOf(g, nil, turned, lies.Way(number)))
		b.turned[key] = len(b.solids[g.Name])
	}
	return b.turned[key]
}

// words is a move in words that can be read aloud.
func words(m *move.Move) string {
	switch m.Kind {
	case move.Travel, move.Straight:
		return fmt.Sprintf("%s to %s, %s mm/s", m.Kind, m.Target, short(m.Speed, 1))
	case move.Grip, move.Release:
		text := m.Kind.String()
		if m.Target.Grid != "" {
			text += " at " + m.Target.String()
		}
		return text + fmt.Sprintf(", output %d %s", m.Signal, wording.Level(m.Level))
	case move.Note:
		return "note: " + wording.Shorten(strings.Join(strings.Fields(m.Text), " "), mostLineRunes)
	case move.Select, move.Set, move.Await, move.Dwell:
	}
	return m.Kind.String() + ": " + m.Describe()
}

// turn numbers the ways in which the tool is turned; a plan has few.
func (b *builder) turn(m *move.Move) int {
	a := turnOf{m.ToolNumber, m.Base.RPY}
	if i, known := b.turns[a]; known {
		return i
	}
	r := a.turn.Rot()
	x := r.Column(0)
	tool := b.job.Layout.Tools[a.tool-1]
	o := orientation{Flange: nums(r.Apply(tool.TCP.Inverse().T)), Heading: num(geom.Atan2(x.Y, x.X))}
	if tool.Body != nil {
		o.Tool, o.Axes = a.tool, axesOf(tool.Body[0].Edges(r)) // all its boxes are turned alike
	}
	for _, z := range tool.Zones {
		o.Zones = append(o.Zones, nums(r.Apply(tool.TCP.Inverse().Apply(z.TCP.T))))
	}
	i := len(b.data.Orientations)
	b.data.Orientations = append(b.data.Orientations, o)
	b.turns[a] = i
	return i
}

func (b *builder) file(at diag.Place) int {
	i, known := b.files[at.File]
	if !known {
		i = len(b.data.Plan)
		b.files[at.File] = i
		b.data.Plan = append(b.data.Plan, playFile{Name: at.File})
		b.used[at.File] = map[int]bool{}
	}
	b.used[at.File][at.Line] = true
	return i
}

// program takes the program's lines of the moves that the player carries.
func (b *builder) program() error {
	b.data.Family, b.data.Program = b.job.Family, [][2]any{}
	return explain.Join(b.job.Program, func(m move.Move, own []explain.Line) {
		carried := m.N > 0 && m.N <= len(b.data.Moves)
		heading := m.N == 0 && m.Transfer > 0 && m.Transfer <= b.bound.Transfers
		if !carried && !heading || len(own) == 0 || len(b.data.Program)+len(own) > mostLines {
			return
		}
		if carried {
			b.data.Moves[m.N-1].Lines = &[2]int{own[0].N, own[len(own)-1].N}
		}
		for _, l := range own {
			b.data.Program = append(b.data.Program, [2]any{l.N, wording.Shorten(l.Text, mostLineRunes)})
		}
	})
}

// times says when every move ends.
func (b *builder) times() {
	b.data.Clock = b.job.Time.Clock()
	at, i := 0.0, 0
	for t := range b.job.Times {
		if i == len(b.data.Moves) {
			return
		}
		at += t.Seconds
		b.data.Moves[i].Until = num(at)
		i++
	}
}

// plan takes the lines of the plan that moves rest on, with their neighbours.
func (b *builder) plan() {
	const around = 2
	for i := range b.data.Plan {
		f := &b.data.Plan[i]
		last := 0
		for line := range b.used[f.Name] {
			last = max(last, line)
		}
		for n := 1; n <= last+around; n++ {
			near := false
			for k := n - around; k <= n+around; k++ {
				near = near || b.used[f.Name][k]
			}
			if text, ok := b.job.Sources.Line(f.Name, n); ok && near {
				f.Lines = append(f.Lines, [2]any{n, wording.Shorten(text, mostLineRunes)})
			}
		}
	}
}

// layOut says where the slots are.
func (b *builder) layOut() {
	if h := b.job.Layout.Held; h != nil {
		b.data.Held = &playSlot{b.grids[h.Grid.Name], h.Grid.Index(h.Slot), b.lies(h.Grid, h.Slot, &h.Grid.Lies), named(b.job.Layout, h.ID)}
	}
	left := 2 * mostSlots
	b.data.Grids = []playGrid{}
	for i, g := range b.job.Layout.Grids {
		p := b.grid(g)
		p.Feeds = g.Feeder()
		if g.Size() > mostSlots || g.Size() > left {
			p.Only = b.touched(i)
			p.Full, p.Missing = among(g.Full, p.Only), []int{}
		} else {
			left -= g.Size()
			p.Full, p.Missing = members(g.Full, g.Size()), members(g.Missing, g.Size())
		}
		if !g.Pattern.Form().Even() {
			p.places(g, b.job.Layout.PartIn(g))
		}
		p.Lies = map[int]int{}
		for _, i := range p.Full {
			if n := b.lies(g, g.Slot(i), &g.Lies); n > 0 {
				p.Lies[i] = n
			}
		}
		p.Turned = b.solids[g.Name]
		b.data.Grids = append(b.data.Grids, p)
	}
}

// touched is the slots of grid i that the player's moves work on.
func (b *builder) touched(i int) []int {
	seen, out := map[int]bool{}, []int{}
	for _, m := range b.data.Moves {
		if m.Slot != nil && m.Slot[0] == i && !seen[m.Slot[1]] {
			seen[m.Slot[1]] = true
			out = append(out, m.Slot[1])
		}
	}
	return out
}

func members(s layout.Slots, size int) []int {
	out := []int{}
	for i := range size {
		if s.Has(i) {
			out = append(out, i)
		}
	}
	return out
}

func among(s layout.Slots, these []int) []int {
	out := []int{}
	for _, i := range these {
		if s.Has(i) {
			out = append(out, i)
		}
	}
	return out
}

func (b *builder) grid(g *layout.Grid) playGrid {
	p := playGrid{Name: g.Name, Size: [3]int{g.Rows, g.Columns, g.Layers}}
	var shift geom.Vec
	if g.Rows > 1 {
		shift.X = g.Pattern.Form().Stagger
	}
	p.Stagger = nums(g.Frame.Base.R.Apply(shift))
	for i := range p.Corners {
		s := g.Pattern.Corners()[i%4]
		if i >= 4 {
			s.Layer = int32(g.Layers - 1)
		}
		at := g.At(s)
		if s.Row%2 == 1 {
			at = at.Sub(shift)
		}
		p.Corners[i] = nums(g.Frame.Base.Apply(at))
	}
	part := b.job.Layout.PartIn(g)
	p.Part = partName(part)
	p.Solid = solidOf(g, part, 0, nil)
	return p
}

// solidOf is the corners of a part in a slot that is turned so far.
func solidOf(g *layout.Grid, part *layout.Part, turned float64, lie *layout.Lie) [][3]num {
	var out [][3]num
	for _, c := range g.Corners(part, turned, lie) {
		out = append(out, nums(g.Frame.Base.R.Apply(c)))
	}
	return out
}

// places lists the slots that are shown, one by one.
func (p *playGrid) places(g *layout.Grid, part *layout.Part) {
	for row := range g.Rows {
		p.Rows = append(p.Rows, g.Length(row))
	}
	shown := p.Only
	for i := 0; p.Only == nil && i < g.Size(); i++ {
		shown = append(shown, i)
	}
	solids := map[float64]int{}
	for _, i := range shown {
		at, turned := g.Pattern.At(g.Slot(i))
		if _, known := solids[turned]; !known {
			solids[turned] = len(p.Solids)
			p.Solids = append(p.Solids, solidOf(g, part, turned, nil))
		}
		base := nums(g.Frame.Base.Apply(at))
		p.Places = append(p.Places, [5]num{num(i), base[0], base[1], base[2], num(solids[turned])})
	}
}
