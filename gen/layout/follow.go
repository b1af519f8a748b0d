package layout

import (
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// Follower lets a list of moves go by and knows how the parts lie in their slots, for
// who keeps no more of the cell than that: pictures, the player, resumed jobs.
type Follower struct {
	tools []*Tool
	grids map[string]*followed
	lying *Lying
	tool  geom.RPY // how the tool is turned in the base
	moved int      // the number of the tool of which that is
	hands []heldPart
	ids   *IDs // which parts are where; nil where no part has an id
}

// heldPart is the part in a gripper, of a tool or of one zone, and its middle there.
type heldPart struct {
	part   *Part
	inTool geom.Pose
}

type followed struct {
	*Grid
	part *Part
}

// Follow begins with the grids and the gripper as they are before the first move.
func (l *Layout) Follow() *Follower {
	f := &Follower{tools: l.Tools, grids: map[string]*followed{}, lying: l.Lying(), hands: make([]heldPart, len(l.Tools)+1)}
	for _, g := range l.Grids {
		f.grids[g.Name] = &followed{g, l.PartIn(g)}
	}
	if l.HasIDs() {
		f.ids = l.IDs()
	}
	if h := l.Held; h != nil {
		_, base := h.Grid.Points(h.Slot)
		f.tool = base.RPY
		f.moved = l.Figures(nil, nil).Tool.Number
		f.take(&move.Move{ToolNumber: f.moved, Target: move.Target{Grid: h.Grid.Name, Slot: h.Slot}})
	}
	return f
}

// ID is that of the part in a slot of a grid now; nil for one without, and for none.
func (f *Follower) ID(g *Grid, i int) *string {
	if f.ids == nil {
		return nil
	}
	return f.ids.l.ID(f.ids.At(g, i))
}

// IDs is which parts are where now; nil where no part has an id.
func (f *Follower) IDs() *IDs { return f.ids }

// Lies is how the parts of a grid lie now.
func (f *Follower) Lies(g *Grid) *Lies { return f.lying.In(g) }

// See takes in a move.
func (f *Follower) See(m *move.Move) {
	switch {
	case m.Kind.IsMotion():
		f.tool, f.moved = m.Base.RPY, m.ToolNumber
	case m.Takes():
		f.take(m)
	case m.Puts():
		f.put(m)
	}
}

func (f *Follower) take(m *move.Move) {
	g, h := f.grids[m.Target.Grid], &f.hands[m.ToolNumber]
	if f.ids != nil {
		f.ids.Put(g.Grid, g.Index(m.Target.Slot), 0)
	}
	h.part = g.part
	if lies := f.Lies(g.Grid); lies.At(g.Index(m.Target.Slot)) > 0 {
		h.part = lies.Way(lies.At(g.Index(m.Target.Slot))).Part
	}
	if h.part.Sized() {
		h.inTool = f.lying.Take(g.Grid, m.Target.Slot, h.part, f.turn(m))
	}
}

func (f *Follower) put(m *move.Move) {
	g, h := f.grids[m.Target.Grid], &f.hands[m.ToolNumber]
	if f.ids != nil {
		f.ids.Put(g.Grid, g.Index(m.Target.Slot), f.ids.l.Number(m.ID))
	}
	f.lying.Put(g.Grid, m.Target.Slot, h.part, h.inTool, f.turn(m))
}

// turn is how the gripper of a move is turned in the base.
func (f *Follower) turn(m *move.Move) geom.RPY {
	return f.tools[m.ToolNumber-1].TurnAt(f.tools[f.moved-1], f.tool)
}
