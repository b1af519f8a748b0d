package check

import (
	"cmp"
	"fmt"
	"strconv"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/gen/solid"
)

// Scene is the state of the cell during the pass over the moves: where the arm is,
// what the gripper holds, which slots hold a part. All rules share one.
type Scene struct {
	Layout *layout.Layout
	Grids  []*Standing

	// From and To are the ends of the motion that is seen; From is not known
	// for the first one.
	From, To Station
	travel   Travel     // as its family says
	sound    *soundLine // the line that is seen, where the readings of the joints on it are known; else nil
	between  move.Path  // the ends of the motion that is seen
	Gripper  Gripper    // of the tool, or the zone of a tool, by which the move works
	hands    hands      // of all of them
	// Grid is the one that the move works at, nil for none, and Slot the index
	// in it.
	Grid *Standing
	Slot int

	byName map[string]*Standing
	ids    *layout.IDs // which parts are where; nil where no part has an id
	effort *effort
	taken  []fed        // slots of infeeds whose next part is still to come
	puts   int          // so many parts were put down
	index  *solid.Index // of the grids by their bounds; nil when it has to be made again
	here   *Standing    // the grid that was worked at last,
	before *Standing    // and the one before it

	beneath *Standing // where several zones work at once; nil mostly

	turns    turns
	toward   geom.RPY     // what To.Turn was made of
	carries  *layout.Tool // on the flange; nil before the first motion
	flange   geom.Vec     // in the tool
	open     bool         // the gripper is; it counts as open until it first works
	grips    int          // ways in which parts were taken so far
	outlines outlines
	bodies   []Body // of the motion that is seen; see Bodies
	fresh    bool   // bodies are those of this motion
}

// Station is where the arm stands, in the base.
type Station struct {
	Known  bool
	At     geom.Vec
	Turn   geom.Rot
	Joints *arm.Readings // nil where nothing is known of them
	number int           // of the turn: equal numbers are equal turns; 0 for none
}

// follow takes over another station, without copying what is the same.
func (s *Station) follow(t *Station) {
	s.Known, s.At, s.Joints = true, t.At, t.Joints
	if s.number != t.number {
		s.Turn, s.number = t.Turn, t.number
	}
}

// Gripper is what the tool, or one zone of it, holds.
type Gripper struct {
	Holds  bool
	Part   *layout.Part // nil when the plan does not say
	ID     *string      // nil where it has none
	From   move.Target
	inTool geom.Pose // the part's middle on the TCP
	number int       // of inTool and the part: equal numbers, equal parts held alike; 0 for none of known size
	lies   int       // how it lay in its slot
}

func newScene(l *layout.Layout) *Scene {
	s := &Scene{hands: newHands(l), Layout: l, byName: map[string]*Standing{}, effort: &effort{most: effortFor(l)}, open: true}
	for _, g := range l.Grids {
		standing := newStanding(g, s.effort)
		s.Grids = append(s.Grids, standing)
		s.byName[g.Name] = standing
	}
	if l.HasIDs() {
		s.ids = l.IDs()
	}
	if h := l.Held; h != nil {
		s.hold(h)
	}
	return s
}

// hold begins with a part in the gripper, as it was taken.
func (s *Scene) hold(h *layout.Held) {
	_, base := h.Grid.Points(h.Slot)
	s.Grid = s.byName[h.Grid.Name]
	s.Slot = h.Grid.Index(h.Slot)
	s.From.Turn, s.From.number = s.turns.of(base.RPY)
	s.Grid.setPart(h.Part)
	s.grip(&move.Move{Kind: move.Grip, ID: h.ID, Target: move.Target{Grid: h.Grid.Name, Slot: h.Slot, Layered: h.Grid.Layered()}})
	s.Grid, s.From, s.open = nil, Station{}, false
}

// see takes in where the move leads and which slot it works at.
func (s *Scene) see(m *move.Move) {
	s.fresh = false
	if m.ToolNumber > 0 {
		s.hands.work(m.ToolNumber, &s.Gripper)
	}
	if m.Target.Grid == "" {
		s.Grid, s.Slot = nil, 0
	} else {
		s.Grid = s.standing(m.Target.Grid)
		s.Slot = s.Grid.Grid.Index(m.Target.Slot)
	}
	if m.Kind.IsMotion() {
		s.beside(m)
		s.feed(m)
		if s.carries == nil || s.carries.Number != m.ToolNumber {
			s.carry(s.Layout.Tools[m.ToolNumber-1])
		}
		if s.between = s.travel.Path; m.Kind == move.Straight {
			s.between = move.LinePath
		}
		s.To.Known, s.To.At, s.To.Joints = true, m.Base.Vec, m.Joints
		if s.To.number == 0 || s.toward != m.Base.RPY {
			s.toward = m.Base.RPY
			s.To.Turn, s.To.number = s.turns.of(m.Base.RPY)
		}
	}
}

// carry takes a tool onto the flange.
func (s *Scene) carry(t *layout.Tool) {
	s.carries, s.flange = t, t.TCP.Inverse().T
	s.outlines.known = [len(s.outlines.known)]outline{}
}

// standing is a grid by its name: mostly one of the two between which parts go.
func (s *Scene) standing(name string) *Standing {
	switch {
	case s.here != nil && s.here.Grid.Name == name:
	case s.before != nil && s.before.Grid.Name == name:
		s.here, s.before = s.before, s.here
	default:
		s.here, s.before = s.byName[name], s.here
	}
	return s.here
}

// apply brings the scene to where the move leaves it.
func (s *Scene) apply(m *move.Move) {
	switch {
	case m.Kind == move.Select && m.Shifts:
		s.shift(m)
	case m.Kind == move.Grip || m.Kind == move.Release:
		s.open = m.Kind == move.Release
	}
	switch {
	case m.Kind.IsMotion():
		s.From.follow(&s.To)
	case m.Takes():
		s.grip(m)
		s.identify(m)
	case m.Puts():
		s.identify(m)
		s.put(s.Grid, s.Slot, s.Gripper.Part, s.Lies(m.Target.Slot, &s.From))
		s.Gripper = Gripper{}
		s.hands.lets()
	}
}

// put stands a part in a slot of a grid, where it lies so.
func (s *Scene) put(g *Standing, i int, p *layout.Part, lies int) {
	s.puts++
	if g.put(i, p, lies) {
		s.index = nil
	}
}

// shift lets another tool count, or another zone of it: its TCP stands elsewhere. The gripper
// of another tool counts as open until it works.
func (s *Scene) shift(m *move.Move) {
	s.open = s.open || m.Role == move.ChangeTool
	s.From.Known, s.From.At = true, m.Base.Vec
	s.From.Turn, s.From.number = s.turns.of(m.Base.RPY)
}

// beside finds the slots of the zones that go down with the first one: what stands there
// counts as what stands in the slot of the move itself.
func (s *Scene) beside(m *move.Move) {
	if s.beneath != nil {
		s.beneath.also, s.beneath = nil, nil
	}
	if m.Zones < 2 {
		return
	}
	s.beneath = s.Grid
	tool := s.hands.tools[m.ToolNumber-1]
	_, first := s.Grid.Grid.Points(m.Target.Slot)
	for i := 1; i < m.Zones; i++ {
		stands := tool.Zone(i).At(tool, first)
		if at, found := s.Grid.slotAt(s.Grid.inGrid.Apply(stands.Vec)); found {
			s.Grid.also = append(s.Grid.also, s.Grid.Grid.Index(at)-s.Slot)
		}
	}
}

// grip takes the part into the gripper as it lies in its slot: from there on it turns
// with the tool.
func (s *Scene) grip(m *move.Move) {
	part, lies := s.Grid.part, s.Grid.lies.At(s.Slot)
	lie := s.Grid.lies.Way(lies)
	if lie != nil {
		part = lie.Part
	}
	if m.ID != nil {
		part = cmp.Or(s.Layout.Named(*m.ID).Part, part)
	}
	s.Gripper = Gripper{Holds: true, Part: part, ID: m.ID, From: m.Target, lies: lies}
	if s.Grid.take(s.Slot); s.Grid.Grid.Flow == layout.In {
		s.taken = append(s.taken, fed{s.Grid, s.Slot})
	}
	if part == nil {
		return
	}
	g := &s.Grid.grip
	_, turned := s.Grid.Grid.Pattern.At(m.Target.Slot)
	turn, number := s.turnOf(&s.From)
	if now := (alike{part, lies, number, turned}); g.alike != now {
		s.grips++
		*g = grip{now, s.Grid.Grid.Held(m.Target.Slot, part, lie, turn), s.grips}
	}
	s.Gripper.inTool = g.inTool
	if part.Sized() {
		s.Gripper.number = g.number
		s.hands.takes(&s.Gripper)
	}
}

// fed is a slot of a feeder.
type fed struct {
	grid *Standing
	slot int
}

// feed lets parts come and go by themselves, as late as may be: the next one to an infeed when
// the arm travels on, and what stands in a chute away from it when the arm goes down there.
func (s *Scene) feed(m *move.Move) {
	if m.Kind == move.Travel && len(s.taken) > 0 {
		for _, f := range s.taken {
			s.put(f.grid, f.slot, nil, 0)
		}
		s.taken = s.taken[:0]
	}
	if m.Kind == move.Straight && s.Grid != nil && s.Grid.Grid.Flow == layout.Out && !m.Target.Approach {
		s.Grid.take(s.Slot)
		for _, further := range s.Grid.also {
			s.Grid.take(s.Slot + further)
		}
	}
}

// alike is what a grip, or what comes of one, depends on: mostly all of a grid are alike.
type alike struct {
	part   *layout.Part
	was    int     // taken: how the part lay; put down: the number of its grip
	turn   int     // the number of the tool's turn
	turned float64 // the slot's
}

// grip is how a part of a grid was taken last.
type grip struct {
	alike
	inTool geom.Pose
	number int
}

// laid is how a part was put down last in a grid.
type laid struct {
	alike
	lies int
}

// Lies is how the part in the gripper comes to lie in a slot of the grid that the move
// works at, if the arm lets go of it with the tool turned as at a station: its number
// among the grid's ways. It is 0 for a part of unknown size.
func (s *Scene) Lies(in slot.Slot, at *Station) int {
	if s.Gripper.number == 0 {
		return 0
	}
	g := &s.Grid.laid
	_, turned := s.Grid.Grid.Pattern.At(in)
	turn, number := s.turnOf(at)
	if now := (alike{s.Gripper.Part, s.Gripper.number, number, turned}); g.alike != now {
		lie := s.Grid.Grid.Laid(in, s.Gripper.Part, s.Gripper.inTool, turn)
		*g = laid{now, s.Grid.lies.Number(&lie)}
	}
	return g.lies
}

// Body is something that the arm carries along a motion, and the room that it
// takes up on the way.
type Body struct {
	Part   bool            // the part in the gripper, not the tool
	Box    *layout.BodyBox // of the tool; nil where that has none
	tool   *layout.Tool
	id     *string // of the part
	open   bool
	Here   solid.Solid
	Way    geom.Vec // from Here on
	ByAxes bool     // each axis goes its part of the way for itself
	Swept  solid.Solid
	Off    float64      // how far it may be off while it turns, mm
	Bounds solid.Bounds // of Swept and all that it may be off, in the base
}

// least is the depth that counts: anything deeper may be deeper than touch.
func (b *Body) least() float64 { return touch - b.Off }

// Bodies are what moves along a motion that does not turn the tool: the boxes of the tool, or
// the cylinder of its radius, or its TCP alone, and the part in the gripper. The first
// motion of all has its end only. The slice is used again for the next motion.
func (s *Scene) Bodies() []Body {
	if !s.fresh {
		from := s.begin()
		s.moving(&geom.Pose{R: s.To.Turn, T: from}, s.To.At.Sub(from))
		s.fresh = true
	}
	return s.bodies
}

// byJoints reports whether the way of the motion that is seen is one of the joints that is known.
func (s *Scene) byJoints(m *move.Move) bool {
	return m.Kind == move.Travel && s.between == move.JointPath && s.From.Joints != nil && s.To.Joints != nil
}

// line is the straight line between the ends of the motion that is seen.
func (s *Scene) line() arm.Line {
	return arm.LineTo(geom.Pose{R: s.From.Turn, T: s.From.At}, geom.Pose{R: s.To.Turn, T: s.To.At})
}

// begin is where the motion begins: the first one has an end only.
func (s *Scene) begin() geom.Vec {
	if s.From.Known {
		return s.From.At
	}
	return s.To.At
}

// turning reports whether the motion turns the tool.
func (s *Scene) turning() bool {
	return s.From.Known && s.From.number != s.To.number && s.From.Turn != s.To.Turn
}

// Ends are the same bodies at the end of the motion.
func (s *Scene) Ends() []Body {
	s.fresh = false
	s.moving(&geom.Pose{R: s.To.Turn, T: s.To.At}, geom.Vec{})
	return s.bodies
}

func (s *Scene) moving(at *geom.Pose, way geom.Vec) {
	s.bodies = s.bodies[:0]
	for k := range s.pieces() {
		s.bodies = append(s.bodies, s.body(k, at, way))
	}
}

// pieces is how many bodies the arm carries: those of the tool, and last the parts of known
// size that hang in it.
func (s *Scene) pieces() int { return s.tools() + len(s.hands.hang) }

// tools is how many of them are the tool's: its boxes, or one.
func (s *Scene) tools() int { return max(1, len(s.carries.Body)) }

// body is one of them on its way from a pose of the TCP on.
func (s *Scene) body(k int, at *geom.Pose, way geom.Vec) Body {
	b := Body{Part: k >= s.tools(), tool: s.carries, open: s.open, Way: way, ByAxes: s.between == move.AxesPath, Here: s.piece(k, at)}
	switch {
	case b.Part:
		h := &s.hands.hang[k-s.tools()]
		b.tool, b.id = h.tool, h.id
	case s.carries.Body != nil:
		b.Box = &s.carries.Body[k]
	}
	if b.ByAxes {
		b.Swept = b.Here.SweptByAxes(way)
	} else {
		b.Swept = b.Here.Swept(way)
	}
	b.Bounds = b.Swept.Bounds()
	return b
}

// piece is a body where the TCP is at a pose.
func (s *Scene) piece(k int, at *geom.Pose) solid.Solid {
	switch {
	case k >= s.tools():
		return s.hands.hang[k-s.tools()].block(s.carries, at)
	case s.carries.Body != nil:
		return s.carries.Body[k].Solid(at, s.open)
	}
	return s.tool(at)
}

// String names the body as messages do.
func (b *Body) String() string {
	switch {
	case b.Part:
		part, in := "the part", "the gripper"
		if b.id != nil {
			part = fmt.Sprintf("the part %q", *b.id)
		}
		if b.tool.Zones != nil {
			in = strconv.Quote(b.tool.Name)
		}
		return part + " in " + in
	case b.Box != nil && b.open && b.Box.Moves():
		return fmt.Sprintf("%q of the open tool", b.Box.Name)
	case b.Box != nil:
		return fmt.Sprintf("%q of the tool", b.Box.Name)
	case b.tool.Radius > 0:
		return "the tool"
	}
	return "the TCP"
}

// tool is the prism around the line from the TCP back to the flange.
func (s *Scene) tool(at *geom.Pose) solid.Solid {
	t := s.carries
	if t.Radius == 0 {
		return solid.Point(at.T)
	}
	return solid.Prism(at.T, at.Apply(s.flange), t.Radius)
}

// turns remembers the rotations of the last few orientations: a plan has few,
// and each costs six sines.
type turns struct {
	known [4]struct {
		rpy    geom.RPY
		rot    geom.Rot
		number int
	}
	made int
}

// of gives a rotation and its number, from 1.
func (t *turns) of(a geom.RPY) (geom.Rot, int) {
	for i := range t.known {
		if k := &t.known[i]; k.number != 0 && k.rpy == a {
			return k.rot, k.number
		}
	}
	k := &t.known[t.made%len(t.known)]
	t.made++
	k.rpy, k.rot, k.number = a, a.Rot(), t.made
	return k.rot, k.number
}
