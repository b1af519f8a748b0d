package layout

import (
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// Follower lets a list of moves go by and knows how the parts lie in their slots, for
// who keeps no more of the cell than that: pictures, the player, resumed jobs.
type Follower struct {
	grids map[string]*followed
	tool  geom.RPY // how the tool is turned in the base
	part  *Part    // in the gripper, and its middle there
	held  geom.Pose
}

type followed struct {
	*Grid
	part *Part
	lies Lies
}

// Follow begins with the grids and the gripper as they are before the first move.
func (l *Layout) Follow() *Follower {
	f := &Follower{grids: map[string]*followed{}}
	for _, g := range l.Grids {
		f.grids[g.Name] = &followed{g, l.PartIn(g), g.Lies.Copy()}
	}
	if h := l.Held; h != nil {
		_, base := h.Grid.Points(h.Slot)
		f.tool = base.RPY
		f.take(&move.Move{Target: move.Target{Grid: h.Grid.Name, Slot: h.Slot}})
	}
	return f
}

// Lies is how the parts of a grid lie now.
func (f *Follower) Lies(g *Grid) *Lies { return &f.grids[g.Name].lies }

// See takes in a move.
func (f *Follower) See(m *move.Move) {
	switch {
	case m.Kind.IsMotion():
		f.tool = m.Base.RPY
	case m.Takes():
		f.take(m)
	case m.Puts():
		f.put(m)
	}
}

func (f *Follower) take(m *move.Move) {
	g := f.grids[m.Target.Grid]
	lie := g.lies.Way(g.lies.At(g.Index(m.Target.Slot)))
	f.part = g.part
	if lie != nil {
		f.part = lie.Part
	}
	if f.part.Sized() {
		tool := f.tool.Rot()
		f.held = g.Held(m.Target.Slot, f.part, lie, &tool)
	}
}

func (f *Follower) put(m *move.Move) {
	g, number := f.grids[m.Target.Grid], 0
	if f.part.Sized() {
		tool := f.tool.Rot()
		lie := g.Laid(m.Target.Slot, f.part, f.held, &tool)
		number = g.lies.Number(&lie)
	}
	g.lies.Set(g.Index(m.Target.Slot), g.Size(), number)
}
