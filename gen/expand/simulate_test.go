package expand_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// A small simulator of plans, written from the words of plan/FORMAT.md on the format and not
// from the code: it knows lists and loops only. TestAgainstSimulator holds the
// project to it.

// spot is one slot, counted from 0.
type spot struct{ row, col, layer int }

// box is a rectangle of slots over some layers, corners in it.
type box struct{ lo, hi spot }

// simGrid is a grid as the simulator sees it.
type simGrid struct {
	name, frame         string
	rows, columns       int
	layers              int
	offset              [3]float64 // of its frame in the base
	first               [3]float64
	pitch               [2]float64
	layerPitch, stagger float64
	mass                float64 // of the part it holds
	missing, full       map[spot]bool
	roll                float64 // of the tool at a slot, degrees: 180 points down
	offsets             map[spot][3]float64
	motion              simMotion
}

// simStop is one stop; no boxes mean the whole grid.
type simStop struct {
	grid   *simGrid
	boxes  []box
	before []simStep
	then   []simStep
}

// simStep is a step: which one says the key that is set.
type simStep struct {
	note    string
	seconds float64 // of a dwell
	pose    string  // that is gone to, by a travel or, with line, straight
	line    bool
	pulse   int // an output; it is on for a fifth of a second
}

// simMotion is what "motion" says in one place; nil and "" where it says nothing.
type simMotion struct {
	approach, travel, near, loaded, flyBy, releaseAbove *float64
	along                                               string      // "frame", "tool" or
	direction                                           *[3]float64 // in the frame
	clear                                               string      // a pose, or "none"
	tool                                                string      // of an entry or the plan
	entry                                               []string    // poses; nil where it is not said, empty for none
	line                                                int         // of the plan

	clearLine, entryLine, toolLine int // where these are said, of figures that rule
}

// ruling is the figures that rule something: the nearest wins, key by key.
func ruling(nearest ...*simMotion) simMotion {
	var r simMotion
	for _, m := range nearest {
		first := func(to **float64, from *float64) {
			if *to == nil {
				*to = from
			}
		}
		first(&r.approach, m.approach)
		first(&r.travel, m.travel)
		first(&r.near, m.near)
		first(&r.loaded, m.loaded)
		first(&r.flyBy, m.flyBy)
		first(&r.releaseAbove, m.releaseAbove)
		if r.along == "" && r.direction == nil {
			r.along, r.direction = m.along, m.direction
		}
		if r.clear == "" {
			if r.clear = m.clear; m.clear != "" {
				r.clearLine = m.line
			}
		}
		if r.tool == "" {
			if r.tool = m.tool; m.tool != "" {
				r.toolLine = m.line
			}
		}
		if r.entry == nil {
			r.entry, r.entryLine = m.entry, m.line
		}
	}
	return r
}

type simEntry struct {
	stops  []simStop
	leave  string // order of leaving
	fill   string // order of filling
	take   int    // 0 for no bound
	byPart bool
	motion simMotion
	line   int
}

type simPlan struct {
	poses              map[string][3]float64 // in the base
	start              string                // without one the clear pose is it
	motion             simMotion
	begin, end         []simStep
	beginLine, endLine int
	tools              map[string]*simTool
	entries            []simEntry
}

// simTool is a tool, its gripper, and how the arm changes it.
type simTool struct {
	name                   string
	gripSettle, openSettle float64
	grips, opens           simAction
	holds                  *simInput // that tells whether a part is held
	mass, length           float64   // of the tool, straight out of the flange
	fetch, leave           []simStep // nil where a person does it
}

// simAction is what a gripper writes: the first output is its own.
type simAction struct {
	sets   []simOutput
	pulses []simPulse
}

type simOutput struct {
	number int
	level  bool
}

type simPulse struct {
	number  int
	seconds float64
}

// simInput has its level while a part is held.
type simInput struct {
	number int
	level  bool
	within float64
}

// did is one move as the simulator makes it.
type did struct {
	action, target, frame string
	x, y, z               float64 // in the base
	speed, flyBy, load    float64
	seconds               float64
	text, tool            string
	signal                int // the output or the input
	level, goOn           bool
	transfer, leg, line   int

	stops bool    // whatever comes next
	asked bool    // a step
	round float64 // the fly-by, if it does not stop
}

// label writes a slot: row letters up to Z are enough here.
func (g *simGrid) label(s spot) string {
	text := fmt.Sprintf("%c%d", 'A'+s.row, s.col+1)
	if g.layers > 1 {
		text += fmt.Sprintf(".%d", s.layer+1)
	}
	return text
}

// all is the grid as one box.
func (g *simGrid) all() box { return box{hi: spot{g.rows - 1, g.columns - 1, g.layers - 1}} }

// walk lists the slots of boxes that are there: box after box; inside each, layer
// by layer (a source from the top down, a destination from the bottom up), and in
// each layer by the order's word.
func (g *simGrid) walk(boxes []box, order string, topFirst bool) []spot {
	var out []spot
	for _, b := range boxes {
		layers := span(b.lo.layer, b.hi.layer)
		if topFirst {
			slices.Reverse(layers)
		}
		for _, layer := range layers {
			for _, s := range flat(b, order) {
				s.layer = layer
				if !g.missing[s] {
					out = append(out, s)
				}
			}
		}
	}
	return out
}

// flat is one layer of a box in an order.
func flat(b box, order string) []spot {
	var out []spot
	if order == "by-column" {
		for _, col := range span(b.lo.col, b.hi.col) {
			for _, row := range span(b.lo.row, b.hi.row) {
				out = append(out, spot{row: row, col: col})
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
			out = append(out, spot{row: row, col: col})
		}
	}
	return out
}

func span(lo, hi int) []int {
	var out []int
	for i := lo; i <= hi; i++ {
		out = append(out, i)
	}
	return out
}

// chosen is what an entry does, slot by slot: the k-th of from[leg] goes with the
// k-th of to[leg].
type chosen struct {
	parts    int
	from, to [][]spot
}

// choose picks the slots of one entry. The rule is that of the finding which
// must come; "" for none.
func (e *simEntry) choose() (chosen, string) {
	n, rule := e.count()
	if rule != "" {
		return chosen{}, rule
	}
	c := chosen{parts: n}
	here := e.first(0, n)
	for i := 1; i < len(e.stops); i++ {
		there := e.first(i, n)
		c.from, c.to = append(c.from, here), append(c.to, there)
		here = there
		if !e.byPart && i < len(e.stops)-1 {
			here = e.again(i, there)
		}
	}
	return c, ""
}

// boxesOf is what a stop covers, written or whole.
func (s *simStop) boxesOf() []box {
	if s.boxes != nil {
		return s.boxes
	}
	return []box{s.grid.all()}
}

// candidates is the slots that a stop may use, in the order of use: those that
// are written, or of a whole grid the ones that hold a part (the first stop) or
// are free (any other).
func (e *simEntry) candidates(i int) []spot {
	s, order, top := e.stops[i], e.fill, false
	if i == 0 {
		order, top = e.leave, true
	}
	all := s.grid.walk(s.boxesOf(), order, top)
	if s.boxes != nil {
		return all
	}
	return slices.DeleteFunc(all, func(at spot) bool { return s.grid.full[at] != (i == 0) })
}

// single reports whether a middle stop is one slot, which serves every part in turn.
func (e *simEntry) single(i int) bool {
	s := e.stops[i]
	return i > 0 && i < len(e.stops)-1 && len(s.grid.walk(s.boxesOf(), "by-row", false)) == 1
}

// count is how many parts go. Slots that are written out must match in number,
// or "take" says how many; whole grids are clipped, but must not fall short of
// what is written.
func (e *simEntry) count() (int, string) {
	written, whole := -1, -1
	for i, s := range e.stops {
		n := len(e.candidates(i))
		if e.take > 0 {
			n = min(n, e.take)
		}
		switch {
		case e.single(i):
		case s.boxes == nil && (whole < 0 || n < whole):
			whole = n
		case s.boxes == nil:
		case written >= 0 && n != written:
			return 0, "count-mismatch"
		default:
			written = n
		}
	}
	if written >= 0 && whole >= 0 && whole < written {
		return 0, "count-mismatch"
	}
	n := written
	if written < 0 {
		n = whole
	}
	for i := range e.stops {
		if e.single(i) && !e.byPart && n > 1 {
			return 0, "single-slot-stop"
		}
	}
	return n, ""
}

// first is the first n slots of a stop; a single one in the middle n times.
func (e *simEntry) first(i, n int) []spot {
	if e.single(i) {
		s := e.stops[i]
		return slices.Repeat(s.grid.walk(s.boxesOf(), "by-row", false), n)
	}
	return e.candidates(i)[:n]
}

// again is the slots in which parts stand in the order in which they leave.
func (e *simEntry) again(i int, standing []spot) []spot {
	if e.single(i) {
		return standing
	}
	s := e.stops[i]
	return slices.DeleteFunc(s.grid.walk(s.boxesOf(), e.leave, true), func(at spot) bool { return !slices.Contains(standing, at) })
}

// arm is the simulated arm: what it has done and where it stands.
type arm struct {
	p     *simPlan
	moves []did

	at          [3]float64
	roll        float64
	known       bool // where it stands
	jaw         string
	load        float64
	chosen      [3]any // frame, load and tool of the last select
	tool        *simTool
	inSteps     bool // of a change of tool
	worked      bool // some tool has moved a part
	line        int
	transfer    int
	leg, number int

	now    simMotion // that rules what is done
	in     *simGrid  // the grid that it went into; nil outside
	inside simMotion // by which it went in
	out    []string  // the entry poses that are on the way out, the next one first
}

// play works a plan through; the rule is that of the first mistake, and line
// where that is.
func (p *simPlan) play() (moves []did, rule string, line int) {
	a := &arm{p: p}
	first := p.first()
	a.mount(p.tools[first.tool])
	moved, faults := 0, []int(nil)
	a.now, a.line = ruling(&p.motion), p.beginLine
	a.steps(p.begin)
	a.line = first.toolLine
	a.asked(false) // nothing may be held
	for i := range p.entries {
		e := &p.entries[i]
		c, rule := e.choose()
		if rule != "" {
			return nil, rule, e.line
		}
		if c.parts > 0 && a.worked && a.tool.name != ruling(&e.motion, &p.motion).tool && ruling(&e.motion, &e.stops[0].grid.motion, &p.motion).clear == "none" {
			faults = append(faults, e.line)
		}
		a.worked = a.worked || c.parts > 0
		moved += c.parts
		a.entry(e, c)
	}
	if moved == 0 {
		return nil, "nothing-to-move", 1
	}
	if faults != nil {
		return nil, "change-without-clear", faults[0]
	}
	a.transfer, a.leg = 0, 0
	a.line = a.now.entryLine
	a.leave("")
	a.line = a.now.clearLine
	a.clear()
	a.line = p.endLine
	a.steps(p.end)
	a.ends()
	return a.moves, "", 0
}

// entry makes the transfers of one entry: leg after leg, or part after part.
func (a *arm) entry(e *simEntry, c chosen) {
	a.line = e.line
	if e.byPart {
		for k := range c.parts {
			for leg := range c.from {
				a.carry(e, leg, c.from[leg][k], c.to[leg][k])
			}
		}
		return
	}
	for leg := range c.from {
		for k := range c.parts {
			a.carry(e, leg, c.from[leg][k], c.to[leg][k])
		}
	}
}

// carry is one transfer.
func (a *arm) carry(e *simEntry, leg int, from, to spot) {
	a.number++
	a.transfer, a.leg = a.number, leg+1
	source, goal := e.stops[leg], e.stops[leg+1]
	a.now = ruling(&e.motion, &source.grid.motion, &a.p.motion)
	before := source.before
	if leg > 0 {
		before = nil // that came when the part was put down there
	}
	a.fit(a.now.tool)
	a.pick(source.grid, from, e.stops[0].grid.mass, before)
	delete(source.grid.full, from)
	if leg == 0 {
		a.steps(source.then)
	}
	a.now = ruling(&e.motion, &goal.grid.motion, &a.p.motion)
	a.put(goal.grid, to, goal.before)
	goal.grid.full[to] = true
	a.steps(goal.then)
}

// pick is steps 1 to 7 of a transfer.
func (a *arm) pick(g *simGrid, s spot, mass float64, before []simStep) {
	if a.now.clear == "none" {
		// without a clear pose the gripper opens before anything moves
		if a.jaw != "open" && a.chosen == [3]any{} {
			// a release needs the tool: where no motion came before, it is selected first
			frame := g.frame
			if len(a.now.entry) > 0 || a.p.startPose() != "none" {
				frame = "base"
			}
			a.selected(frame)
		}
		a.release("")
	}
	a.toStart()
	a.toGrid(g, s, func() { a.release("") })
	a.above(g, s, before)
	a.to("straight", g, s, 0)
	a.grip(g.name+" "+g.label(s), mass)
	a.to("straight", g, s, *a.now.approach)
}

// put is steps 8 to 13.
func (a *arm) put(g *simGrid, s spot, before []simStep) {
	a.toStart()
	a.toGrid(g, s, func() {})
	a.above(g, s, before)
	a.asked(true)
	a.to("straight", g, s, *a.now.releaseAbove)
	a.release(g.name + " " + g.label(s))
	a.to("straight", g, s, *a.now.approach)
}

// toGrid goes to the approach point of a slot: out of the grid that the arm is in, by the
// clear pose, into the other grid. What is done halfway comes behind the clear pose.
func (a *arm) toGrid(g *simGrid, s spot, halfway func()) {
	there := a.standsAt(g, s)
	if !there && !(a.in == g && a.now.clear == "none") {
		a.leave("")
		a.clear()
	}
	halfway()
	if !there {
		a.enter(g)
	}
	a.arrive(g)
	a.to("travel", g, s, *a.now.approach)
}

// standsAt reports whether the arm stands at the approach point of a slot.
func (a *arm) standsAt(g *simGrid, s spot) bool {
	return a.known && near(a.at, g.at(s, &a.now, *a.now.approach)) && a.roll == g.roll
}

// arrive notes that the arm is in a grid, and the way out.
func (a *arm) arrive(g *simGrid) {
	a.in, a.inside = g, a.now
	a.out = slices.Clone(a.now.entry)
	slices.Reverse(a.out)
}

// enter passes the entry poses, but for those that the arm has not left by.
func (a *arm) enter(g *simGrid) {
	poses := a.now.entry
	if a.in == g {
		poses = a.inside.entry[len(a.out):]
	}
	for _, p := range poses {
		a.toPose("travel", p, a.travelSpeed(), false)
	}
}

// leave passes the entry poses of the grid that the arm is in, in reverse, by that grid's
// figures. Where it goes to one of them, it stays there.
func (a *arm) leave(to string) {
	if a.in == nil {
		return
	}
	was := a.now
	a.now = a.inside
	for len(a.out) > 0 {
		if a.out[0] == to {
			a.out = a.out[1:]
			a.now = was
			return
		}
		p := a.out[0]
		a.out = a.out[1:]
		a.toPose("travel", p, a.travelSpeed(), false)
	}
	a.in, a.now = nil, was
}

// travelSpeed is that of a travel: another one while a part is held.
func (a *arm) travelSpeed() float64 {
	if a.jaw == "closed" && a.now.loaded != nil {
		return *a.now.loaded
	}
	return *a.now.travel
}

// above does what is asked for at the approach point, where the arm stops, and comes back.
func (a *arm) above(g *simGrid, s spot, steps []simStep) {
	if len(steps) == 0 {
		return
	}
	a.stops()
	a.steps(steps)
	if !a.standsAt(g, s) {
		a.enter(g)
		a.arrive(g)
		a.to("travel", g, s, *a.now.approach)
	} else {
		a.arrive(g)
	}
}

// startPose is where every program begins; "none" for nowhere.
func (p *simPlan) startPose() string {
	if p.start != "" {
		return p.start
	}
	return p.motion.clear
}

// toStart is the first motion, where there is a start pose.
func (a *arm) toStart() {
	if s := a.p.startPose(); s != "none" && !a.known {
		a.toPose("travel", s, *a.now.near, false)
	}
}

func (a *arm) clear() {
	if c := a.now.clear; c != "none" {
		a.toPose("travel", c, a.travelSpeed(), false)
	}
}

func (a *arm) toPose(action, name string, speed float64, asked bool) {
	at := a.p.poses[name]
	a.motion(did{action: action, target: name, frame: "base", x: at[0], y: at[1], z: at[2], speed: speed, asked: asked}, 180)
}

func (a *arm) to(action string, g *simGrid, s spot, lift float64) {
	m := did{action: action, target: g.name + " " + g.label(s), frame: g.frame, speed: *a.now.near}
	if action == "travel" {
		m.speed = a.travelSpeed()
	}
	if lift == *a.now.approach {
		m.target += " approach"
	}
	at := g.at(s, &a.now, lift)
	m.x, m.y, m.z = at[0], at[1], at[2]
	a.motion(m, g.roll)
}

// at is where a slot is in the base, or a place so far off it along the approach.
func (g *simGrid) at(s spot, by *simMotion, lift float64) [3]float64 {
	x := g.offset[0] + g.first[0] + float64(s.col)*g.pitch[0]
	if s.row%2 == 1 {
		x += g.stagger
	}
	y := g.offset[1] + g.first[1] + float64(s.row)*g.pitch[1]
	z := g.offset[2] + g.first[2] + float64(s.layer)*g.layerPitch
	off, way := g.offsets[s], [3]float64{0, 0, 1}
	switch {
	case by.direction != nil:
		d := *by.direction
		length := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2])
		way = [3]float64{d[0] / length, d[1] / length, d[2] / length}
	case by.along == "tool":
		// The tool's +Z, out of the tool, turned about X: (0, -sin, cos). Back along it:
		angle := g.roll * math.Pi / 180
		way = [3]float64{0, math.Sin(angle), -math.Cos(angle)}
	}
	return [3]float64{x + off[0] + lift*way[0], y + off[1] + lift*way[1], z + off[2] + lift*way[2]}
}

// motion leaves out what would repeat the present pose, and selects first.
func (a *arm) motion(m did, roll float64) {
	at := [3]float64{m.x, m.y, m.z}
	if a.known && near(a.at, at) && a.roll == roll {
		return
	}
	if m.round = *a.now.flyBy; a.inSteps {
		m.round = 0
	}
	if !a.known {
		m.speed, m.stops = *a.now.near, true // nobody knows from where
	}
	a.at, a.roll, a.known = at, roll, true
	a.selected(m.frame)
	m.load, m.tool = a.load, a.tool.name
	a.add(m)
}

// selected selects frame and load where others were selected last.
func (a *arm) selected(frame string) {
	if now := [3]any{frame, a.load, a.tool.name}; now != a.chosen {
		a.chosen = now
		a.add(did{action: "select", frame: frame, load: a.load, tool: a.tool.name})
	}
}

func near(p, q [3]float64) bool {
	for i := range p {
		if p[i]-q[i] > 1e-7 || q[i]-p[i] > 1e-7 {
			return false
		}
	}
	return true
}

func (a *arm) grip(target string, mass float64) {
	a.load = a.tool.mass + mass
	if a.jaw != "closed" {
		a.jaw = "closed"
		a.works("grip", target, &a.tool.grips, a.tool.gripSettle)
		a.asked(true)
	}
}

func (a *arm) release(target string) {
	a.load = a.tool.mass
	if a.jaw != "open" {
		a.jaw = "open"
		a.works("release", target, &a.tool.opens, a.tool.openSettle)
	}
}

// works is the gripper's own output, the others in order, the pulses, and the settling.
func (a *arm) works(action, target string, what *simAction, settle float64) {
	for i, s := range what.sets {
		m := did{action: "set", signal: s.number, level: s.level}
		if i == 0 {
			m.action, m.target, m.tool = action, target, a.tool.name
		}
		a.add(m)
	}
	for _, p := range what.pulses {
		a.add(did{action: "set", signal: p.number, level: true})
		a.wait(p.seconds)
		a.add(did{action: "set", signal: p.number})
	}
	a.wait(settle)
}

// asked waits for the input that tells whether a part is held, in its time, or stops.
func (a *arm) asked(held bool) {
	if h := a.tool.holds; h != nil {
		a.add(did{action: "await", signal: h.number, level: h.level == held, seconds: h.within})
	}
}

func (a *arm) wait(seconds float64) {
	if seconds > 0 {
		a.add(did{action: "dwell", seconds: seconds})
	}
}

func (a *arm) steps(steps []simStep) {
	for _, s := range steps {
		switch {
		case s.note != "":
			a.add(did{action: "note", text: s.note})
		case s.pulse > 0:
			a.add(did{action: "set", signal: s.pulse, level: true})
			a.wait(0.2)
			a.add(did{action: "set", signal: s.pulse})
		case s.pose != "":
			a.toStart()
			a.goStep(s)
		default:
			a.wait(s.seconds)
		}
	}
}

// goStep goes to a pose. A travel out of a grid leaves it by its entry poses; a line goes
// there and nowhere else, but the arm knows where it stands then.
func (a *arm) goStep(s simStep) {
	if !s.line {
		a.leave(s.pose)
		a.toPose("travel", s.pose, a.travelSpeed(), true)
		return
	}
	if i := slices.Index(a.out, s.pose); i >= 0 {
		a.out = a.out[i+1:]
	}
	a.toPose("straight", s.pose, *a.now.near, true)
}

// first is what rules the first entry that moves a part, whose tool is on the flange when the
// program begins.
func (p *simPlan) first() simMotion {
	for i := range p.entries {
		e := &p.entries[i]
		if c, rule := e.choose(); rule == "" && c.parts > 0 {
			return ruling(&e.motion, &p.motion)
		}
	}
	return ruling(&p.motion)
}

// mount is a tool on the flange, whose gripper stands anyhow.
func (a *arm) mount(t *simTool) { a.tool, a.load, a.jaw = t, t.mass, "" }

// fit changes the tool at the clear pose: the arm leaves the one and fetches the other; where it
// cannot do both, a person has to.
func (a *arm) fit(name string) {
	old, now := a.tool, a.p.tools[name]
	if old == now || a.now.clear == "none" {
		return
	}
	a.leave("")
	a.clear()
	entry := a.line
	a.line, a.inSteps = a.now.toolLine, true
	a.steps(old.leave)
	var hand []string
	if old.leave == nil {
		hand = append(hand, "take "+old.name+" off")
	}
	if now.fetch == nil {
		hand = append(hand, "fit "+now.name)
	}
	if hand != nil {
		a.clear()
	}
	a.stops()
	if a.roll != 180 {
		panic("a pose that is slanted")
	}
	a.at[2] -= now.length - old.length // the flange stays, and every tool here points down
	a.mount(now)
	a.chosen = [3]any{"base", a.load, now.name}
	a.add(did{action: "select", frame: "base", load: a.load, tool: now.name, text: strings.Join(hand, ", "), x: a.at[0], y: a.at[1], z: a.at[2]})
	a.steps(now.fetch)
	a.asked(false)
	a.line, a.inSteps = entry, false
}

// stops makes the arm stop where the last motion ends.
func (a *arm) stops() {
	for i := len(a.moves) - 1; i >= 0; i-- {
		if a.moves[i].speed > 0 {
			a.moves[i].stops = true
			break
		}
		if a.moves[i].action != "select" && a.moves[i].action != "note" {
			break
		}
	}
}

func (a *arm) add(m did) {
	m.transfer, m.leg, m.line = a.transfer, a.leg, a.line
	a.moves = append(a.moves, m)
}

// ends settles how every motion ends: at a slot in a stop; elsewhere with the
// fly-by radius if another motion comes next, a select or a note not counted.
func (a *arm) ends() {
	var from, at *did // where the motion began, and where it ends
	for i := range a.moves {
		m := &a.moves[i]
		if m.speed > 0 {
			from, at = at, m
		}
		_, pose := a.p.poses[m.target]
		if m.speed == 0 || m.stops || !pose && !strings.HasSuffix(m.target, " approach") {
			continue
		}
		for _, next := range a.moves[i+1:] {
			if next.action == "select" || next.action == "note" {
				continue
			}
			// nobody flies by a point to go back the way he came; a line of a step may lead elsewhere
			back := m.action == "straight" && next.action == "straight" &&
				(!m.asked && !next.asked || from != nil && from.target == next.target)
			if next.speed > 0 && !back {
				m.flyBy = m.round
			}
			break
		}
	}
}
