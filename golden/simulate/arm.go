package simulate

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridferry/plan"
)

// arm is the simulated arm: what it has done and where it stands.
type arm struct {
	*world
	job   *Job
	moves []Move

	flange   Pose
	known    bool // where it stands
	fitted   *tool
	zone     int     // that works
	selected *hand   // by the last select, with a frame and a load
	inFrame  *frame  // likewise
	load     float64 // likewise
	changing bool    // a tool is left or fetched
	byHand   bool    // a person changed the tool, and nothing has moved since

	line, transfer, leg, group int
	first                      int     // the group's first transfer
	carried                    []token // the parts of the group

	now    *figures // that rule what is done
	in     *grid    // the grid that the arm went into; nil outside
	inside *figures // by which it went in
	out    []string // the entry poses that are on the way out, the next one first
}

// same is how near two poses are that are one.
const same = 1e-6

func (a *arm) hand() *hand { return a.fitted.hands[a.zone] }

// plan counts what goes where before anything moves: the first mistake, which tool is on the flange
// when the program begins, and how many hands of each are used. It gives the first entry that moves a part.
func (a *arm) plan() (first *entry) {
	refuse := func(rule string, entry int) {
		a.job.Refused, a.job.Lines = rule, [2]int{1, math.MaxInt}
		if entry >= 0 {
			a.job.Lines[0] = a.entries[entry].Place.Line
		}
		if entry+1 < len(a.entries) {
			a.job.Lines[1] = a.entries[entry+1].Place.Line - 1
		}
	}
	var fitted string
	late := -1 // the entry before which no tool can be changed: that is looked at once all are known
	for n, e := range a.entries {
		by := a.ruling(e, e.stops[0].grid)
		t := a.tools[by.Tool.V]
		var r route
		rule := e.faulty()
		if e.List != nil {
			r, rule = e.choose(a.world.now)
		}
		for i := range e.stops {
			if rule == "" && a.ruling(e, e.stops[i].grid).Tool.V != by.Tool.V {
				rule = "two-tools"
			}
		}
		if rule == "" {
			r, rule = e.choose(a.world.now)
		}
		switch zones := len(t.hands); {
		case rule != "" || e.AtOnce.Or(1) == 1:
		case t.Zones == nil:
			rule = "no-zones"
		case e.AtOnce.V > zones:
			rule = "too-few-zones"
		}
		if rule != "" {
			refuse(rule, n)
			return nil
		}
		if r.parts == 0 {
			continue
		}
		if first == nil {
			first = e
		} else if fitted != by.Tool.V && by.Clear.Or("none") == "none" && late < 0 {
			late = n
		}
		fitted = by.Tool.V
		t.used = max(t.used, min(e.AtOnce.Or(1), r.parts))
		for _, h := range e.hauls(&r) {
			a.world.now.carry(&h)
		}
	}
	if first == nil {
		refuse("nothing-to-move", -1)
	} else if late >= 0 {
		refuse("change-without-clear", late)
	}
	return first
}

// play makes all moves.
func (a *arm) play(first *entry) {
	by := a.ruling(first, first.stops[0].grid)
	a.fitted, a.now = a.tools[by.Tool.V], a.ruling(nil, nil)
	a.steps(a.Begin)
	a.line = by.Tool.Place.Line
	a.askAll()
	done := 0
	for _, e := range a.entries {
		r, _ := e.choose(a.world.now)
		for _, h := range e.hauls(&r) {
			a.line, a.leg, a.transfer, a.group, a.first = e.Place.Line, h.leg+1, done+1, 0, done+1
			if len(h.from) > 1 {
				a.group = done + 1
			}
			a.carried = clone(a.world.now).carry(&h)
			a.carry(e, &h, min(e.AtOnce.Or(1), r.parts))
			done += len(h.from)
		}
	}
	a.transfer, a.leg, a.group, a.zone = 0, 0, 0, 0
	if a.now.Entry.IsSet() {
		a.line = a.now.Entry.Place.Line
	}
	a.leave("")
	if a.now.Clear.IsSet() {
		a.line = a.now.Clear.Place.Line
	}
	a.clear()
	a.steps(a.End)
	a.ends()
}

// carry is one group along one leg; zones is in how many hands the entry carries parts.
func (a *arm) carry(e *entry, h *haul, zones int) {
	a.now = a.ruling(e, h.source.grid)
	if h.note != "" {
		a.add(Move{Action: "note", Text: h.note})
	}
	a.fit(a.tools[a.now.Tool.V])
	first := a.transfer
	a.descents(h.source.grid, h.from, func(slots []slot) {
		a.pick(h, slots, zones)
		if h.leg == 0 {
			a.steps(h.source.then)
		}
	})
	a.now = a.ruling(e, h.goal.grid)
	a.transfer = first
	a.descents(h.goal.grid, h.to, func(slots []slot) {
		a.put(h.goal, slots)
		a.steps(h.goal.then)
	})
	if a.now.OptionalStop.V == "after-transfer" {
		a.transfer = first + len(h.from) - 1
		a.add(Move{Action: "note", Text: fmt.Sprintf("optional stop after transfer %d", a.transfer), Pause: true}).Line = a.now.OptionalStop.Place.Line
	}
}

// descents works at the slots of a group: at all at once, where every hand stands at its own slot when
// the first one does, or one hand after the other, each with a way of its own.
func (a *arm) descents(g *grid, slots []slot, do func([]slot)) {
	first := a.transfer
	a.zone = 0
	flange := g.frame.pose.mul(g.at(slots[0], a.now, 0)).mul(a.hand().tcp.inverse())
	together := true
	for i, s := range slots {
		together = together && flange.mul(a.fitted.hands[i].tcp).Near(g.frame.pose.mul(g.at(s, a.now, 0)), 0.5, 0.5)
	}
	if together {
		do(slots)
		return
	}
	for i := range slots {
		a.zone, a.transfer = i, first+i
		do(slots[i : i+1])
	}
}

// pick is steps 1 to 7 of a transfer. What is to be done before it comes at a chain's first stop only: at any
// other that was done when the part was put down there.
func (a *arm) pick(of *haul, slots []slot, zones int) {
	s := of.source
	if a.now.Clear.Or("none") == "none" {
		a.open(zones, s.grid) // before anything moves
	}
	var steps []plan.Step
	if of.leg == 0 {
		steps = s.before
	}
	a.toGrid(s.grid, slots[0], func() { a.open(zones, s.grid) })
	a.above(s.grid, slots[0], steps)
	a.to("straight", s.grid, slots, 0)
	longest := 0.0
	for i, at := range slots {
		h := a.fitted.hands[a.zone+i]
		name := s.grid.name(at)
		if a.world.now[name].name == "" {
			if a.wrong("pick-from-empty"); a.job.Sound == 0 {
				a.job.Sound = len(a.moves)
			}
		}
		for layer := at.layer + 1; layer < s.grid.layers; layer++ {
			if a.world.now[s.grid.name(slot{at.row, at.col, layer})].name != "" {
				a.wrong("part-above")
			}
		}
		t := a.world.now.take(s.grid, at, of)
		h.part = &held{t, name, h.tcp.mul(a.over(s.grid, at, h).inverse()).mul(s.grid.middle(at, t))}
		a.works(h, "grip", name, i)
		longest = max(longest, h.grip.Settle.V)
	}
	a.wait(longest)
	a.ask(len(slots))
	a.to("straight", s.grid, slots, a.now.Approach.V)
}

// put is steps 8 to 13.
func (a *arm) put(s *stop, slots []slot) {
	a.toGrid(s.grid, slots[0], func() {})
	a.above(s.grid, slots[0], s.before)
	a.ask(len(slots))
	a.to("straight", s.grid, slots, a.now.ReleaseAbove.V)
	longest := 0.0
	for i, at := range slots {
		h := a.fitted.hands[a.zone+i]
		name := s.grid.name(at)
		if h.part.from == name {
			a.wrong("same-slot")
		}
		if s.grid.Flow.V == "" && a.world.now[name].name != "" {
			a.wrong("place-on-full")
		}
		if !a.world.now.bears(s.grid, at) {
			a.wrong("no-support")
		}
		h.part.left = left{h.part.kind, a.over(s.grid, at, h).mul(h.tcp.inverse()).mul(h.part.middle)}
		a.world.now.put(s.grid, at, h.part.token)
		h.part = nil
		a.works(h, "release", name, i)
		longest = max(longest, h.release.Settle.V)
	}
	a.wait(longest)
	a.to("straight", s.grid, slots, a.now.Approach.V)
}

// over is a hand that works at a slot, in the frame: it counts as standing there, turned as it is.
func (a *arm) over(g *grid, s slot, h *hand) Pose {
	return Pose{g.frame.pose.inverse().mul(a.flange).mul(h.tcp).R, g.at(s, a.now, 0).At}
}

func (a *arm) wrong(rule string) {
	if a.job.Wrong == "" {
		a.job.Wrong = rule
	}
}

// toGrid goes to the approach point of a slot: out of the grid that the arm is in, by the clear pose,
// into the other grid. What is done halfway comes behind the clear pose.
func (a *arm) toGrid(g *grid, s slot, halfway func()) {
	a.toStart()
	there := a.standsAt(g, s)
	if !there && !(a.in == g && a.now.Clear.Or("none") == "none") {
		a.leave("")
		a.clear()
	}
	halfway()
	if !there {
		a.enter(g)
	}
	a.arrive(g)
	a.to("travel", g, []slot{s}, a.now.Approach.V)
}

// standsAt reports whether the arm stands at the approach point of a slot.
func (a *arm) standsAt(g *grid, s slot) bool {
	there := g.frame.pose.mul(g.at(s, a.now, a.now.Approach.V)).mul(a.hand().tcp.inverse())
	return a.known && a.flange.Near(there, same, same)
}

// arrive notes that the arm is in a grid, and the way out.
func (a *arm) arrive(g *grid) {
	a.in, a.inside, a.out = g, a.now, nil
	for _, p := range a.now.Entry.Poses {
		a.out = slices.Insert(a.out, 0, p.V)
	}
}

// enter passes the entry poses, but for those that the arm has not left by.
func (a *arm) enter(g *grid) {
	poses := a.now.Entry.Poses
	if a.in == g {
		poses = a.inside.Entry.Poses[len(a.out):]
	}
	for _, p := range poses {
		a.toPose("travel", p.V, a.travelSpeed())
	}
}

// leave passes the entry poses of the grid that the arm is in, in reverse, by that grid's figures.
// Where it goes to one of them, it stays there.
func (a *arm) leave(to string) {
	if a.in == nil {
		return
	}
	was := a.now
	a.now = a.inside
	for len(a.out) > 0 {
		p := a.out[0]
		a.out = a.out[1:]
		if p == to {
			a.now = was
			return
		}
		a.toPose("travel", p, a.travelSpeed())
	}
	a.in, a.now = nil, was
}

// travelSpeed is that of a travel: another one while a part is held.
func (a *arm) travelSpeed() float64 {
	for _, h := range a.fitted.hands {
		if h.state == "closed" {
			return a.now.Loaded.Or(a.now.Travel.V)
		}
	}
	return a.now.Travel.V
}

// above does what is asked for at the approach point, where the arm stops, and comes back.
func (a *arm) above(g *grid, s slot, steps []plan.Step) {
	if len(steps) == 0 {
		return
	}
	a.stops()
	a.steps(steps)
	if !a.standsAt(g, s) {
		a.enter(g)
	}
	a.arrive(g)
	a.to("travel", g, []slot{s}, a.now.Approach.V)
}

// startPose is where every program begins; "none" for nowhere.
func (w *world) startPose() string { return w.Motion.Start.Or(w.Motion.Clear.Or("none")) }

// toStart is the first motion, where there is a start pose.
func (a *arm) toStart() {
	if s := a.startPose(); s != "none" && !a.known {
		a.toPose("travel", s, a.now.Near.V)
	}
}

func (a *arm) clear() {
	if c := a.now.Clear.Or("none"); c != "none" {
		a.toPose("travel", c, a.travelSpeed())
	}
}

// toPose goes to a named pose, with the first zone.
func (a *arm) toPose(action, name string, speed float64) {
	p := a.poses[name]
	a.motion(Move{Action: action, Target: name, Base: p.pose, Speed: speed}, p.frame, a.fitted.hands[0])
}

func (a *arm) to(action string, g *grid, slots []slot, off float64) {
	m := Move{Action: action, Target: g.name(slots[0]), Speed: a.now.Near.V}
	if action == "travel" {
		m.Speed = a.travelSpeed()
	}
	if off == a.now.Approach.V {
		m.Target += " approach"
	}
	if len(slots) > 1 {
		m.Zones = len(slots)
	}
	m.Base = g.frame.pose.mul(g.at(slots[0], a.now, off))
	a.motion(m, g.frame, a.hand())
}

// motion leaves out what would repeat the present pose, and selects first.
func (a *arm) motion(m Move, f *frame, h *hand) {
	flange := m.Base.mul(h.tcp.inverse())
	if a.known && a.flange.Near(flange, same, same) {
		return
	}
	if m.round = a.now.FlyBy.V; a.changing {
		m.round = 0
	}
	if m.First = !a.known; m.First {
		m.Speed, m.stops = a.now.Near.V, true // nobody knows from where
	}
	if m.AfterHand = a.byHand; a.byHand {
		m.Speed, m.stops, a.byHand = a.now.Near.V, true, false
	}
	a.selects(f, h)
	m.from = a.flange.mul(h.tcp)
	a.flange, a.known = flange, true
	m.At = f.pose.inverse().mul(m.Base)
	a.add(a.marked(m))
}

// selects selects frame, TCP and load where others were selected last. Where another TCP is selected,
// the arm has stopped, and stands where it is.
func (a *arm) selects(f *frame, h *hand) *Move {
	if load, _, _ := a.hanging(); f == a.inFrame && h == a.selected && load == a.load {
		return nil
	}
	return a.choose(f, h)
}

func (a *arm) choose(f *frame, h *hand) *Move {
	m := Move{Action: "select"}
	if m.Shifts = a.known && a.selected != h; m.Shifts {
		a.stops()
		m.Base = a.flange.mul(h.tcp)
	}
	a.inFrame, a.selected = f, h
	a.load, _, _ = a.hanging()
	return a.add(a.marked(m))
}

// marked writes on a move what is selected.
func (a *arm) marked(m Move) Move {
	m.Frame, m.FrameNumber, m.Tool, m.ToolNumber = a.inFrame.name, a.inFrame.number, a.selected.name, a.selected.number
	m.Load, m.Centre, m.Inertia = a.hanging()
	return m
}

// open opens the hands in which an entry carries parts, as far as nobody knows how they are. A
// release needs the tool: where no motion came before, it is selected first, with the frame of the next motion.
func (a *arm) open(zones int, g *grid) {
	longest := 0.0
	for _, h := range a.fitted.hands[:zones] {
		if h.state != "" {
			continue
		}
		if a.selected == nil {
			next := g.frame
			if start := a.startPose(); start != "none" {
				next = a.poses[start].frame
			} else if len(a.now.Entry.Poses) > 0 {
				next = a.poses[a.now.Entry.Poses[0].V].frame
			}
			a.selects(next, a.fitted.hands[0])
		}
		a.works(h, "release", "", 0)
		longest = max(longest, h.release.Settle.V)
	}
	a.wait(longest)
}

// works is a hand's own output, the others in order, and the pulses.
func (a *arm) works(h *hand, action, target string, behind int) {
	what := h.grip
	if h.state = "closed"; action == "release" {
		h.state, what = "open", h.release
	}
	for i, s := range what.Set {
		m := Move{Action: "set", Signal: s.Output.V, Level: s.Level.V}
		if i == 0 {
			m.Action, m.Target, m.Tool, m.ToolNumber, m.Behind = action, target, h.name, h.number, behind
		}
		a.add(m)
	}
	for _, p := range what.Pulse {
		a.pulse(p)
	}
}

func (a *arm) pulse(p *plan.PulseOutput) {
	a.add(Move{Action: "set", Signal: p.Output.V, Level: true})
	a.add(Move{Action: "dwell", Seconds: p.Seconds.V, Pulse: true})
	a.add(Move{Action: "set", Signal: p.Output.V})
}

// ask waits for the inputs that tell that so many hands hold their parts.
func (a *arm) ask(n int) {
	for i := range n {
		a.asked(a.fitted.hands[a.zone+i], true)
	}
}

// askAll waits for the inputs that tell that nothing is held in the tool on the flange.
func (a *arm) askAll() {
	for _, h := range a.fitted.hands[:a.fitted.used] {
		a.asked(h, false)
	}
}

func (a *arm) asked(h *hand, held bool) {
	if s := h.grip.Holds; s != nil {
		a.add(Move{Action: "await", Tool: h.name, ToolNumber: h.number, Signal: s.Input.V, Level: s.Level.V == held, Seconds: s.Within.V})
	}
}

func (a *arm) wait(seconds float64) {
	if seconds > 0 {
		a.add(Move{Action: "dwell", Seconds: seconds})
	}
}

// steps does what the plan asks for beside carrying; of a change of tool all rests on one line.
func (a *arm) steps(steps []plan.Step) {
	was := a.line
	for i := range steps {
		if !a.changing {
			a.line = steps[i].Place.Line
		}
		a.step(&steps[i])
	}
	a.line = was
}

func (a *arm) step(s *plan.Step) {
	switch {
	case s.Go.IsSet():
		a.toStart()
		a.leave(s.Go.V)
		a.toPose("travel", s.Go.V, a.travelSpeed())
	case s.Line.IsSet(): // it goes there and nowhere else, but the arm knows where it stands then
		a.toStart()
		if i := slices.Index(a.out, s.Line.V); i >= 0 {
			a.out = a.out[i+1:]
		}
		a.toPose("straight", s.Line.V, a.now.Near.V)
	case s.Set != nil:
		a.add(Move{Action: "set", Signal: s.Set.Output.V, Level: s.Set.Level.V})
	case s.Pulse != nil:
		a.pulse(s.Pulse)
	case s.Await != nil:
		a.add(Move{Action: "await", Signal: s.Await.Input.V, Level: s.Await.Level.V, Seconds: s.Await.Within.V, GoOn: s.Await.Else.V == "go-on"})
	case s.Dwell.IsSet():
		a.wait(s.Dwell.V)
	default:
		a.add(Move{Action: "note", Text: s.Note.V})
	}
}

// fit changes the tool at the clear pose: the arm leaves the one and fetches the other; where it
// cannot do both, a person has to.
func (a *arm) fit(to *tool) {
	from := a.fitted
	if from == to {
		return
	}
	a.zone = 0
	a.leave("")
	a.clear()
	entry := a.line
	a.line, a.changing = a.now.Tool.Place.Line, true
	a.steps(from.Leave.Steps)
	var hand []string
	if from.Leave.Steps == nil {
		hand = append(hand, "take "+from.Name.V+" off")
	}
	if to.Fetch.Steps == nil {
		hand = append(hand, "fit "+to.Name.V)
	}
	a.changing = false
	if hand != nil {
		a.clear()
	}
	a.fitted = to
	for _, h := range to.hands {
		h.state = ""
	}
	next := a.poses[a.now.Clear.V].frame
	if i := slices.IndexFunc(to.Fetch.Steps, func(s plan.Step) bool { return s.Go.IsSet() || s.Line.IsSet() }); i >= 0 {
		next = a.poses[to.Fetch.Steps[i].Go.V+to.Fetch.Steps[i].Line.V].frame
	}
	m := a.choose(next, to.hands[0])
	m.Text, m.ByHand = strings.Join(hand, ", "), hand != nil
	a.byHand = m.ByHand
	a.changing = true
	a.steps(to.Fetch.Steps)
	a.askAll()
	a.line, a.changing = entry, false
}

// stops makes the arm stop where the last motion ends.
func (a *arm) stops() {
	for i := len(a.moves) - 1; i >= 0; i-- {
		if m := &a.moves[i]; m.moves() {
			m.stops = true
			return
		}
	}
}

func (m *Move) moves() bool { return m.Action == "travel" || m.Action == "straight" }

func (a *arm) add(m Move) *Move {
	m.Transfer, m.Leg, m.Line, m.Group = a.transfer, a.leg, a.line, a.group
	if a.transfer > 0 {
		m.ID = a.carried[a.transfer-a.first+m.Behind].id
	}
	a.moves = append(a.moves, m)
	return &a.moves[len(a.moves)-1]
}

// ends settles how every motion ends: at a slot in a stop; elsewhere with the fly-by radius if another
// motion comes next, selects and notes not counted, that does not go back down the same line.
func (a *arm) ends() {
	for i := range a.moves {
		m := &a.moves[i]
		if _, pose := a.poses[m.Target]; !m.moves() || m.stops || !pose && !strings.HasSuffix(m.Target, " approach") {
			continue
		}
		for k := i + 1; k < len(a.moves); k++ {
			next := &a.moves[k]
			if next.Action == "select" || next.Action == "note" && !next.Pause {
				continue
			}
			if next.moves() && !m.back(next) {
				m.FlyBy = m.round
			}
			break
		}
	}
}

// back reports whether one straight line goes back along the one before it, to within a degree.
func (m *Move) back(next *Move) bool {
	if m.Action != "straight" || next.Action != "straight" {
		return false
	}
	there, again := m.Base.At.add(m.from.At, -1), next.Base.At.add(m.Base.At, -1)
	return next.Base.Near(m.from, same, same) || there.dot(again) < -math.Cos(math.Pi/180)*there.length()*again.length()
}
