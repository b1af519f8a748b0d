package scene

import (
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
)

// layOut says where the slots are and what stands in them, when the moves have gone by.
func (b *builder) layOut() {
	left := 2 * b.o.Slots
	b.scene.Grids = []Grid{}
	for i, g := range b.job.Layout.Grids {
		all := g.Size() <= min(b.o.Slots, left)
		if all {
			left -= g.Size()
		}
		b.scene.Grids = append(b.scene.Grids, b.grid(i, g, all))
	}
}

func (b *builder) grid(i int, g *layout.Grid, all bool) Grid {
	part := b.job.Layout.PartIn(g)
	out := Grid{
		Name: g.Name, Part: partName(part), Frame: g.Frame.Name, Place: b.place(g.Place), Size: [3]int{g.Rows, g.Columns, g.Layers},
		Rows: rowsOf(g), Feeds: g.Feeder(), Whole: all, Count: g.Size(), Full: []int32{}, Missing: []int32{},
	}
	if out.Solid = b.solids.part(part); out.Solid < 0 {
		out.Solid = b.solids.sign(g)
	}
	if !all {
		out.Index = b.scene.Moves.touched(int32(i))
	}
	b.slots(&out, g)
	for _, lie := range b.follow.Lies(g).Ways() {
		turn, shift := shifted(&lie)
		out.Lies = append(out.Lies, Lie{b.solids.part(lie.Part), quaternionOf(turn), vecOf(shift)})
	}
	return out
}

// rowsOf is the lengths of rows; nil where all are as long.
func rowsOf(g *layout.Grid) []int32 {
	var rows []int32
	uneven := false
	for row := range g.Rows {
		rows = append(rows, int32(g.Length(row)))
		uneven = uneven || g.Length(row) != g.Columns
	}
	if !uneven {
		return nil
	}
	return rows
}

// slots goes through those that are shown.
func (b *builder) slots(out *Grid, g *layout.Grid) {
	shown := g.Size()
	if !out.Whole {
		shown = len(out.Index)
	}
	ids := b.job.Layout.IDs()
	turns := turned{frame: g.Frame.Base.R, all: []Quaternion{}}
	out.At = make([]float64, 0, 3*shown)
	out.Lain, out.IDs = map[int32]int32{}, map[int32]string{}
	for n := range shown {
		i := n
		if !out.Whole {
			i = int(out.Index[n])
		}
		s := g.Slot(i)
		at := g.Frame.Base.Apply(g.At(s))
		out.At = append(out.At, at.X, at.Y, at.Z)
		turns.add(g.Pattern.Lie(s), n)
		if g.Missing.Has(i) {
			out.Missing = append(out.Missing, int32(i))
		}
		if g.Full.Has(i) {
			out.Full = append(out.Full, int32(i))
			b.stands(out, g, ids, i)
		}
	}
	out.Turns, out.Turn = turns.all, turns.of
}

// stands says of a part at the start how it lies and which it is, where that is not what its slot says.
func (b *builder) stands(out *Grid, g *layout.Grid, ids *layout.IDs, i int) {
	if lies := g.Lies.At(i); lies > 0 {
		out.Lain[int32(i)] = int32(lies)
	}
	if id := b.job.Layout.ID(ids.At(g, i)); id != nil {
		out.IDs[int32(i)] = b.named(id)
	}
}

// turned numbers the ways in which slots are turned.
type turned struct {
	frame geom.Rot
	known []geom.Rot
	all   []Quaternion
	of    []int32 // by slot; nil while all are the first
}

func (t *turned) add(r geom.Rot, slot int) {
	n := 0
	if len(t.of) > 0 && t.known[t.of[len(t.of)-1]] == r { // neighbours are mostly turned alike
		n = int(t.of[len(t.of)-1])
	} else if n = slices.Index(t.known, r); n < 0 {
		n = len(t.known)
		t.known, t.all = append(t.known, r), append(t.all, quaternionOf(t.frame.Mul(r)))
	}
	if n > 0 && t.of == nil {
		t.of = make([]int32, slot)
	}
	if t.of != nil {
		t.of = append(t.of, int32(n))
	}
}

// touched is the slots of a grid that moves work at, in the order in which they come.
func (m *Moves) touched(grid int32) []int32 {
	seen, out := map[int32]bool{}, []int32{}
	for i := 0; i < len(m.Slot); i += 2 {
		if m.Slot[i] == grid && !seen[m.Slot[i+1]] {
			seen[m.Slot[i+1]] = true
			out = append(out, m.Slot[i+1])
		}
	}
	return out
}

// held is what the gripper holds before the first move.
func (b *builder) held() {
	h := b.job.Layout.Held
	if h == nil {
		return
	}
	by := h.By
	if by == nil {
		by = b.job.Layout.Figures(nil, nil).Tool
	}
	i := h.Grid.Index(h.Slot)
	_, tcp := h.Grid.Points(h.Slot)
	turn := tcp.Rot().T().Mul(h.Grid.Frame.Base.R).Mul(h.Grid.Pattern.Lie(h.Slot))
	b.scene.Held = &Held{
		Grid: b.grids[h.Grid.Name], Slot: i, Zone: zoneOf(by), Tool: by.Number - 1, Part: b.named(h.ID), Lies: h.Grid.Lies.At(i),
		Pose: poseOf(geom.Pose{R: turn}),
	}
}

// zoneOf is which of the zones of its tool one is, from 1 on; 0 for a tool without.
func zoneOf(t *layout.Tool) int { return slices.Index(t.Zones, t) + 1 }

func partName(p *layout.Part) string {
	if p == nil {
		return "part"
	}
	return p.Name
}

// named is a part with its id: "vial M-1201"; "" for one without.
func (b *builder) named(id *string) string {
	if id == nil {
		return ""
	}
	return partName(b.job.Layout.Named(*id).Part) + " " + *id
}
