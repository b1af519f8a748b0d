package scene

import (
	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/timing"
)

// moves takes as many whole transfers as there is room for.
func (b *builder) moves() {
	g := &gatherer{builder: b, Moves: &b.scene.Moves, turns: map[geom.RPY]int32{}, tool: -1}
	g.Kinds, g.Roles, g.Words = kindNames, roleNames, []string{}
	g.Behind, g.Zone, g.Part, g.Lies, g.Load, g.Configuration = map[int32]int32{}, map[int32]int32{}, map[int32]string{}, map[int32]int32{}, map[int32]Length{}, map[int32]string{}
	g.Whole, g.Path = true, pathNames[b.job.Path]
	last := 0
	for piece := range b.job.Moves {
		for i := range piece {
			m := &piece[i]
			g.Of++
			g.OfTransfers = max(g.OfTransfers, m.Carries())
			g.Whole = g.Whole && (g.N < b.o.Moves || m.Transfer == last && g.N < 2*b.o.Moves)
			if g.Whole {
				last = m.Transfer
				g.add(m)
			}
		}
	}
	g.before()
}

var kindNames, roleNames = names(move.Kinds), names(move.Roles)

var pathNames = map[move.Path]string{move.LinePath: "line", move.AxesPath: "axes"}

// names are those of kinds or roles, by their numbers less one.
func names[T interface{ String() string }](all []T) []string {
	var out []string
	for _, one := range all {
		out = append(out, one.String())
	}
	return out
}

// gatherer is where the arm is while the moves go by.
type gatherer struct {
	*builder
	*Moves
	turns map[geom.RPY]int32

	known  int // moves before anything was known of where the tool is,
	unread int // and of what the joints read
	at     geom.Vec
	turn   int32
	tool   int32 // -1 before anything is known
	joints *arm.Readings
	stands arm.Configuration
	room   []byte
}

func (g *gatherer) add(m *move.Move) {
	g.follow.See(m)
	i := int32(g.N)
	g.N++
	g.Transfers = max(g.Transfers, m.Carries())
	g.Kind, g.Role, g.Transfer = append(g.Kind, int32(m.Kind)-1), append(g.Role, int32(m.Role)-1), append(g.Transfer, int32(m.Transfer))
	at := g.place(m.Place)
	g.uses(m)
	g.Place = append(g.Place, at[0], at[1])
	g.pose(m)
	g.works(m, i)
	if m.Kind == move.Select {
		g.Load[i] = Length(m.Load)
	}
	if m.FlyBy > 0 {
		g.Through = append(g.Through, i)
	}
	if m.Role == move.OpenSettle || m.Role == move.HoldSettle || m.Role == move.FreeSettle {
		g.Settle = append(g.Settle, i)
	}
	g.room = appendWords(g.room[:0], m)
	g.Words = append(g.Words, string(g.room))
}

// pose is where the tool is after a move.
func (g *gatherer) pose(m *move.Move) {
	speed := 0.0
	if m.Kind.IsMotion() {
		speed = m.Speed
	}
	if m.Kind.IsMotion() || m.Shifts {
		if g.tool < 0 {
			g.known = g.N - 1
		}
		g.at, g.turn, g.tool = m.Base.Vec, g.numbered(m.Base.RPY), int32(m.ToolNumber-1)
	}
	g.Speed = append(g.Speed, speed)
	g.At = append(g.At, g.at.X, g.at.Y, g.at.Z)
	g.Turn, g.Tool = append(g.Turn, g.turn), append(g.Tool, g.tool)
	g.reads(m)
}

// numbered is the number of a way in which the tool is turned; a plan has few.
func (g *gatherer) numbered(r geom.RPY) int32 {
	n, known := g.turns[r]
	if !known {
		n = int32(len(g.Turns))
		g.turns[r] = n
		g.Turns = append(g.Turns, quaternionOf(r.Rot()))
	}
	return n
}

// reads is what the joints read after a move.
func (g *gatherer) reads(m *move.Move) {
	a := g.job.Layout.Arm
	if a == nil {
		return
	}
	i := int32(g.N - 1)
	switch {
	case m.Joints != nil:
		if g.joints == nil {
			g.unread = int(i)
		}
		g.joints = m.Joints
		if m.Configuration != g.stands && m.Configuration.String() != "" {
			g.stands = m.Configuration
			g.Configuration[i] = m.Configuration.String()
		}
	case m.Kind.IsMotion():
		g.Unreached = append(g.Unreached, i)
	}
	for k := range a.Joints {
		reading := 0.0
		if g.joints != nil {
			reading = g.joints[k]
		}
		g.Joints = append(g.Joints, reading)
	}
}

// works says at which slot a move works, and with which part.
func (g *gatherer) works(m *move.Move, i int32) {
	if m.Target.Grid == "" {
		g.Slot = append(g.Slot, -1, -1)
	} else {
		n := g.grids[m.Target.Grid]
		grid := g.job.Layout.Grids[n]
		slot := grid.Index(m.Target.Slot)
		g.Slot = append(g.Slot, int32(n), int32(slot))
		if lies := g.follow.Lies(grid).At(slot); m.Puts() && lies > 0 {
			g.Lies[i] = int32(lies)
		}
	}
	if m.Kind != move.Grip && m.Kind != move.Release {
		return
	}
	if m.Behind > 0 {
		g.Behind[i] = int32(m.Behind)
	}
	if zone := zoneOf(g.job.Layout.Tools[m.ToolNumber-1]); zone > 0 {
		g.Zone[i] = int32(zone)
	}
	if m.ID != nil {
		g.Part[i] = g.named(m.ID)
	}
}

// before fills in what was not known yet when the first moves went by, and says where the tool is then.
func (g *gatherer) before() {
	if g.tool < 0 { // there is no motion
		g.known = g.N
		g.Turns = append(g.Turns, Quaternion{1, 0, 0, 0})
		g.at, g.turn, g.tool = geom.Vec{}, 0, int32(g.job.Layout.Figures(nil, nil).Tool.Number-1)
	}
	for i := range g.known {
		if g.Turn[i], g.Tool[i] = g.turn, g.tool; g.known < g.N {
			copy(g.At[3*i:], g.At[3*g.known:3*g.known+3])
			g.Turn[i], g.Tool[i] = g.Turn[g.known], g.Tool[g.known]
		}
	}
	if start := g.scene.Start; start != nil {
		g.From = &Vec{start[0], start[1], start[2]}
	}
	if g.joints == nil { // nobody asked for them
		g.Joints, g.Unreached = nil, nil
		return
	}
	n := len(g.scene.Arm.Joints)
	for i := range g.unread {
		copy(g.Joints[n*i:], g.Joints[n*g.unread:n*(g.unread+1)])
	}
}

// times says how long the moves take.
func (b *builder) times() {
	m := &b.scene.Moves
	if b.job.Times == nil {
		return
	}
	for t := range b.job.Times {
		i := len(m.Seconds)
		if i == m.N {
			return
		}
		m.Seconds = append(m.Seconds, t.Seconds)
		if t.Unknown == timing.Wait || t.Unknown == timing.Hand {
			m.Unknown = append(m.Unknown, int32(i))
		}
	}
}
