package check

import (
	"fmt"
	"math"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/joints"
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/gen/solid"
	"gridferry/plan/diag"
)

// armWay holds all that the arm moves against all that stands, on ways of the joints, along lines, and in corners.
var armWay = Rule{
	Finds: []manual.Page{{
		Name:     "link-hits",
		Severity: diag.Error,
		Doc: `A link of the arm reaches into a keep-out box, a standing part, another link, or the tool, on its way: between the ends of a travel, along
which all joints go evenly from one reading to the other, or along a straight line. A family whose travels are lines
("travel_path") is held to those when its program is written. How the links are shaped the cell says ("links", or the
URDF file). Nothing that is 1 mm deep or deeper is missed, and nothing is reported that is not half a millimetre
deep. A box in which the first link stands counts as the arm's own foot: the first two links may be in it.`,
		Do:   `Let the arm pass a pose that is clear of it: "entry" of the grid, or another clear pose.`,
		Bad:  linked + "-  keep_out: {}\n+  keep_out: {shelf: {from: [100, -60, 560], to: [200, 60, 600]}}\n",
		Good: linked + "-  keep_out: {}\n+  keep_out: {shelf: {from: [100, -60, 860], to: [200, 60, 900]}}\n",
	}, {
		Name:     "way-hits",
		Severity: diag.Error,
		Doc: `Between the ends of a travel the tool, or the part in it, reaches into a keep-out box or a standing part, as the joints go evenly from one
reading to the other. The TCP does not go straight then: its way bulges. The same depths count as for "link-hits".`,
		Do:   `Let the arm pass a pose that is clear of it: "entry" of the grid, or another clear pose.`,
		Bad:  anArm() + "-  keep_out: {}\n+  keep_out: {lamp: {from: [300, -60, 180], to: [360, -40, 260]}}\n",
		Good: anArm() + "-  keep_out: {}\n+  keep_out: {lamp: {from: [300, -20, 340], to: [360, 20, 400]}}\n",
	}, {
		Name:     "corner-hits",
		Severity: diag.Error,
		Doc: `At a point that is passed without a stop, a link, the tool or the part in it may reach into a keep-out box, a standing part
or another link: both ways there are free, but not what the arm may cut off between them. It is taken to leave the one
way where its TCP is "fly_by" away from the point, to be on the other one as far behind it, and to be anywhere between
these two places and the point meanwhile, as its joints read. The same depths count as for "link-hits".`,
		Do:   `Let the arm stop there ("fly_by: 0" of the grid or the entry), pass it with a smaller fly-by, or move the point.`,
		Bad:  anArm() + besideTheRack + "-  fly_by: 10\n+  fly_by: 28\n",
		Good: anArm() + besideTheRack,
	}},
	Watch: func(c *Context) Watcher {
		if c.Layout.Arm == nil {
			return nil
		}
		return newArmWatcher(c)
	},
}

// besideTheRack is a box in the middle of what is cut off between the way to the rack and the line down to it.
const besideTheRack = "-  keep_out: {}\n+  keep_out: {lamp: {from: [280, -210, 80], to: [294, -196, 94]}}\n"

// deep is how deep something has to be to be reported, mm, and sure how much more to be found for certain.
const deep, sure = 0.5, 0.5

type armWatcher struct {
	still
	motions
	c      *Context
	a      *layout.Arm
	links  int      // of the limbs, so many are the arm's own
	limbs  []limb   // now
	pairs  [][2]int // of limbs that may hit each other
	boxes  forbiddenBoxes
	found  map[move.Target]bool
	berths *berths // while the same is carried
	corner corner  // at the end of the last motion
	arcs   map[arcEnd]*arm.Readings

	rooms *solid.Index // of the grids that berths reckon with,
	puts  int          // as they were after so many parts that were put down,
	tops  []int        // and up to which layer each of them

	// foot is the boxes that stand for the arm's own foot, up to its shoulder: those in which the first link is where the
	// job begins. The first two links may be in them.
	foot  map[*layout.Box]bool
	now   carrying // that limbs stand for
	known map[carrying]carriedLimbs

	asker joints.Asker
	last  move.Target // of the last motion
}

// carriedLimbs is the limbs while something is carried, their pairs, and what is known of readings.
type carriedLimbs struct {
	limbs  []limb
	pairs  [][2]int
	berths *berths
}

// carrying is what the limbs behind the links depend on.
type carrying struct {
	tool, held int
	open       bool
}

func newArmWatcher(c *Context) *armWatcher {
	w := &armWatcher{c: c, a: c.Layout.Arm, limbs: linksOf(c.Layout.Arm), found: map[move.Target]bool{}, known: map[carrying]carriedLimbs{}, arcs: map[arcEnd]*arm.Readings{}, asker: joints.NewAsker(c.Layout)}
	w.links, w.berths = len(w.limbs), new(berths)
	w.boxes = boxesOf(c.Layout)
	return w
}

func (w *armWatcher) See(m *move.Move, s *Scene) {
	w.look(m, s)
	w.last = m.Target
}

func (w *armWatcher) look(m *move.Move, s *Scene) {
	if s.From.Joints == nil || s.To.Joints == nil {
		w.corner.at = nil
		return
	}
	if w.foot == nil {
		w.stand(s.From.Joints)
	}
	w.carry(m, s)
	if w.sound(m) {
		w.along(m, s)
	}
	if c := &w.corner; c.at != nil && w.sound(&c.passed) && w.sound(m) {
		w.pass(c, m, s)
	}
	w.comesTo(m, s)
}

// sound says whether nothing was found yet where a motion leads.
func (w *armWatcher) sound(m *move.Move) bool { return !w.found[m.Target.Below()] }

// along looks at the way of a motion.
func (w *armWatcher) along(m *move.Move, s *Scene) {
	l := look{w: w, s: s}
	switch {
	case s.byJoints(m):
		l.way(s.From.Joints, s.To.Joints)
	case s.between == move.LinePath && w.links > 0:
		l.line(m)
	}
	var found *diag.Finding
	if l.hit != nil {
		w.found[m.Target.Below()] = true
		found = l.report(m)
	}
	if s.byJoints(m) && (found != nil || len(w.c.blocked) > 0) {
		w.c.between(&l, m, found)
	}
}

// stand finds the boxes that stand for the arm's foot.
func (w *armWatcher) stand(at *arm.Readings) {
	w.foot = map[*layout.Box]bool{}
	for i := range w.boxes.all {
		box := &w.boxes.all[i]
		w.foot[box.Box] = w.a.StandsIn(&box.room, at)
	}
}

// carry makes limbs of what is carried now.
func (w *armWatcher) carry(m *move.Move, s *Scene) {
	now := carrying{m.ToolNumber, s.hands.load, s.open}
	if now == w.now {
		return
	}
	const most = 64
	all, known := w.known[now]
	if !known {
		all.limbs = s.carried(w.a, append([]limb(nil), w.limbs[:w.links]...))
		all.pairs, all.berths = w.pairsOf(all.limbs, s.From.Joints), new(berths)
		if len(w.known) >= most {
			clear(w.known)
		}
		w.known[now] = all
	}
	w.now, w.limbs, w.pairs, w.berths = now, all.limbs, all.pairs, all.berths
}

// pairsOf finds which limbs may hit each other: not those with at most one joint between them, nor those that overlap where they are
// first seen, as links do that are joined.
func (w *armWatcher) pairsOf(limbs []limb, at *arm.Readings) (pairs [][2]int) {
	links := w.a.Links(*at)
	for i := range limbs[:w.links] {
		for k := i + 1; k < len(limbs); k++ {
			a, b := &limbs[i], &limbs[k]
			first, second := a.at(&links), b.at(&links)
			if b.behind-a.behind > 1 && solid.Gap(&first, &second, a.radius+b.radius) > 0 {
				pairs = append(pairs, [2]int{i, k})
			}
		}
	}
	return pairs
}

// look is a look along one motion.
type look struct {
	w *armWatcher
	s *Scene

	travels bool // all limbs are looked at; along a line only the links
	// open is what is not certain where some readings were looked at, which is all that has to be looked at among fewer of them:
	// limbs by their numbers, and behind them pairs. Nil is everything.
	open   []int
	q      arm.Readings
	off    arm.Readings // how far each joint may be from q: radians or mm
	links  [arm.MaxJoints]geom.Pose
	air    float64 // mm that have to be left to what stands, beyond what touches
	widest float64 // of all limbs that are not certain, how far one may have moved
	hit    *hit
}

// hit is one thing in another.
type hit struct {
	limb  *limb
	what  string
	place diag.Place // where the box is given
	deep  float64
	at    arm.Readings
}

// begins says whether something that is carried is in something that stands, at an end of a travel, which other rules report.
func (l *look) begins(at *arm.Readings) bool {
	l.q, l.off, l.links = *at, arm.Readings{}, l.w.a.Links(*at)
	for i := l.w.links; i < len(l.w.limbs) && l.hit == nil; i++ {
		l.stands(&l.w.limbs[i])
	}
	in := l.hit != nil
	l.hit = nil
	return in
}

// way looks at a way of the joints.
func (l *look) way(from, to *arm.Readings) {
	if p := l.w.space(l.s, allLimbs); p.free(from, to) {
		l.travels = true
		return
	}
	l.travels = !l.begins(from) && !l.begins(to)
	l.halves(from, to, 0, 1)
}

// halves looks at a part of a way of the joints, and at its halves where that is not certain.
func (l *look) halves(from, to *arm.Readings, begin, end float64) {
	first, last := mean(from, to, begin), mean(from, to, end)
	for i := range l.w.a.Joints {
		first[i], last[i] = min(first[i], last[i]), max(first[i], last[i])
	}
	l.within(func() bool { return l.between(&first, &last) }, func() {
		middle := (begin + end) / 2
		if l.halves(from, to, begin, middle); l.hit == nil {
			l.halves(from, to, middle, end)
		}
	})
}

// within looks among some readings, and goes on to fewer of them with what is not certain.
func (l *look) within(among func() bool, fewer func()) {
	before := l.open
	if !among() && l.widest > sure {
		fewer()
	}
	l.open = before
}

// inner is a change of a joint in radians or mm.
func (w *armWatcher) inner(joint int, way float64) float64 {
	if w.a.Joints[joint].Slides {
		return way
	}
	return way * math.Pi / 180
}

// line goes along a straight, or a travel on one.
func (l *look) line(m *move.Move) {
	w, s := l.w, l.s
	if s.sound != nil {
		between, h := &s.sound.spread, s.sound.spread.hull()
		if p := w.space(s, onlyLinks); p.holds(&h, 0) || l.between(&between.lo, &between.hi) && l.hit == nil {
			return
		}
	}
	l.hit = nil // in the middle of all readings the arm need not be on the line
	way := s.line()
	w.c.follower(m.ToolNumber).Follow(&way, *s.From.Joints, *s.To.Joints, func(p *arm.Stretch) bool {
		if l.hit != nil {
			return true
		}
		var lo, hi arm.Readings
		for i := range w.a.Joints {
			lo[i], hi[i] = p.Bounds(i)
		}
		known := true
		l.within(func() bool { return l.about(&p.At, &lo, &hi) }, func() { known = false })
		return known
	})
}

// between is certain for all readings between some, about the middle of them.
func (l *look) between(lo, hi *arm.Readings) bool {
	var middle arm.Readings
	for i := range l.w.a.Joints {
		middle[i] = (lo[i] + hi[i]) / 2
	}
	return l.about(&middle, lo, hi)
}

// about is certain for all readings between some, about one of them.
func (l *look) about(at, lo, hi *arm.Readings) bool {
	l.q = *at
	for i := range l.w.a.Joints {
		l.off[i] = l.w.inner(i, max(hi[i]-at[i], at[i]-lo[i]))
	}
	return l.certain()
}

// certain looks at the arm at q: true where nothing is hit as far as the joints may be from there, or something is
// hit at q. What is not certain stays open.
func (l *look) certain() bool {
	l.links, l.widest = l.w.a.Links(l.q), 0
	if l.open == nil {
		l.open = l.everything()
	}
	left := l.open[len(l.open):] // behind what is open further out
	for _, k := range l.open {
		free := l.isFree(k)
		if l.hit != nil {
			return true
		}
		if !free {
			left = append(left, k)
		}
	}
	l.open = left
	return len(left) == 0
}

// everything is the numbers of all limbs that are looked at, and of all pairs.
func (l *look) everything() (all []int) {
	w := l.w
	for i := range w.limbs {
		if w.limbs[i].behind > 0 && (l.travels || i < w.links) {
			all = append(all, i)
		}
	}
	for i := range w.pairs {
		all = append(all, len(w.limbs)+i)
	}
	return all
}

// isFree looks at a limb or a pair; where it is not certain that it hits nothing, widest covers how far it may have moved.
func (l *look) isFree(k int) bool {
	w := l.w
	if k >= len(w.limbs) {
		p := w.pairs[k-len(w.limbs)]
		return l.against(&w.limbs[p[0]], &w.limbs[p[1]])
	}
	b := &w.limbs[k]
	if l.stands(b) {
		return true
	}
	l.widest = max(l.widest, b.moved(w.a, &l.off, 0))
	return false
}

// closeBy is how far a limb may move, mm, for parts to be looked at one by one.
const closeBy = 2

// effortPerLook is what it costs to place a limb, in looks.
const effortPerLook = 5

// stands looks at one limb among all that stands.
func (l *look) stands(b *limb) bool {
	w, moved := l.w, b.moved(l.w.a, &l.off, 0)
	w.c.effort.made += effortPerLook
	middle := b.middle(&l.links)
	bounds := solid.Bounds{Lo: middle, Hi: middle}
	if bounds = bounds.Wider(b.ball + moved + l.air); len(w.boxes.index.Overlapping(&bounds)) == 0 && len(l.s.near(&bounds)) == 0 {
		return true
	}
	core, free := b.at(&l.links), true
	bounds = core.Bounds()
	bounds = bounds.Wider(b.radius + moved + l.air)
	meet := func(room *solid.Solid, what func() (string, diag.Place)) bool {
		w.c.effort.made += effortPerBody
		g := solid.Gap(room, &core, b.radius)
		free = free && g-moved >= l.air-deep
		if g < l.air-deep {
			text, place := what()
			l.hit = &hit{limb: b, what: text, place: place, deep: -g, at: l.q}
		}
		return l.hit != nil
	}
	for _, k := range w.boxes.index.Overlapping(&bounds) {
		box := &w.boxes.all[k]
		if b.behind <= 2 && w.foot[box.Box] {
			continue
		}
		if meet(&box.room, func() (string, diag.Place) { return fmt.Sprintf("the keep-out box %q", box.Name), box.Place }) {
			return false
		}
	}
	for _, k := range l.s.near(&bounds) {
		g := l.s.Grids[k]
		if g.empty() {
			continue
		}
		room := g.solid(g.top)
		w.c.effort.made += effortPerBody
		if solid.Gap(&room, &core, b.radius)-moved >= l.air-deep {
			continue
		}
		if moved > closeBy {
			return false // whether it meets a part shows when less is looked at
		}
		if g.around(&bounds, func(at slot.Slot, part *solid.Solid) bool {
			return meet(part, func() (string, diag.Place) {
				return l.s.partAt(move.Target{Grid: g.Grid.Name, Slot: at, Layered: g.Grid.Layered()}), diag.Place{}
			})
		}) {
			return false
		}
	}
	return free
}

// against looks at two limbs: only the joints between them count.
func (l *look) against(a, b *limb) bool {
	moved := b.moved(l.w.a, &l.off, a.behind)
	l.w.c.effort.made += effortPerBody
	if a.middle(&l.links).Dist(b.middle(&l.links))-a.ball-b.ball >= moved {
		return true
	}
	first, second := a.at(&l.links), b.at(&l.links)
	g := solid.Gap(&first, &second, a.radius+b.radius)
	switch {
	case g < -deep:
		l.hit = &hit{limb: b, what: a.name, deep: -g, at: l.q}
	case g-moved < -deep:
		l.widest = max(l.widest, moved)
	default:
		return true
	}
	return false
}

// solid is the room in which all parts of the grid stand up to a layer.
func (s *Standing) solid(layer int) solid.Solid {
	top := s.room.Hi
	_, level := s.Grid.Pattern.Level(layer)
	top.Z = min(top.Z, s.upTo(level))
	return solid.Box(s.Grid.Frame.Base, s.room.Lo, top)
}

// around shows the parts that stand near a box, in the base, until one is what is wanted.
func (s *Standing) around(bounds *solid.Bounds, wanted func(at slot.Slot, part *solid.Solid) bool) bool {
	box := solid.Box(geom.Identity, bounds.Lo, bounds.Hi)
	box = box.In(&s.inGrid)
	room := box.Bounds()
	w := window{lo: room.Lo.Sub(s.half).Sub(s.lift), hi: room.Hi.Add(s.half).Sub(s.lift), own: -1}
	return s.find(&w, func(at slot.Slot) bool {
		part := s.box(at)
		part = part.In(&s.Grid.Frame.Base)
		return wanted(at, &part)
	})
}

// report finds what was hit: the finding in which that stands, nil where nobody is told any more.
func (l *look) report(m *move.Move) *diag.Finding {
	h, w := l.hit, l.w
	name := "way-hits"
	if !l.carried() {
		name = "link-hits"
	}
	tcp := w.tcp(m.ToolNumber, &h.at)
	r := w.c.find(name, m.Place, "%son the way to %q %s is %.1f mm deep in %s, with the TCP at %.0f, %.0f, %.0f", during(m), m.Target, h.limb.name, h.deep, h.what, tcp.X, tcp.Y, tcp.Z)
	if !h.place.IsZero() {
		r.note(h.place, "the box is defined here")
	}
	switch {
	case m.Kind == move.Straight:
		r.hint("move or turn what stands there, or the tool there, so that the straight line is clear of it")
	case l.s.byJoints(m):
		r.hint("let the arm pass a pose that is clear of it (\"entry\" of the grid, or a clear pose that is higher or nearer)")
	default:
		l.s.advise(r, m)
	}
	return w.c.found.at(name, m.Place)
}

// carried says whether what was hit is the tool's.
func (l *look) carried() bool {
	for i := range l.w.limbs[:l.w.links] {
		if &l.w.limbs[i] == l.hit.limb {
			return false
		}
	}
	return true
}
