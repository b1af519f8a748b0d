package compare

import (
	"slices"

	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// haul is the groups of the parts that the arm carries at once, mostly of one. They are made out
// of the same steps: what is done for all of them belongs to the first.
type haul struct {
	by     grouping
	groups []group
	all    [][]Step // room for the steps of groups, used again
	unit   int      // by transfer: the first of its transfers

	at      geom.Vec // where the arm stands
	counted int      // groups that were, by grip or by step

	// by grip
	waiting        []Step // since the last descent: they belong to the one that comes
	place          int    // the part of the present descent, to which its steps belong
	begun          bool   // a descent has begun, and the arm has not gone on from it
	gripped, freed int    // parts
	held           []int  // the outputs by which parts are held, in the order of their grips
	motions        int
	since          int  // motions since the gripper worked last
	straight       bool // the last motion was a straight, and is one in every family
}

// ends reports whether a step begins another haul.
func (h *haul) ends(s *Step) bool {
	switch {
	case len(h.groups)+len(h.waiting) == 0:
		return false
	case h.by == byStep:
		return true
	case h.by == byTransfer:
		return h.unit != s.Unit()
	}
	// After the release the arm goes up again; with the next motion something
	// else begins.
	return h.freed > 0 && len(h.held) == 0 && s.Kind.IsMotion() && h.since > 0
}

// give hands on the groups, and begins again.
func (h *haul) give(yield func(*group) bool) bool {
	h.settle(h.place)
	for i := range h.groups {
		g := &h.groups[i]
		h.number(g)
		if !yield(g) {
			return false
		}
	}
	for i := range h.groups {
		h.all[i] = h.groups[i].steps[:0]
	}
	*h = haul{by: h.by, groups: h.groups[:0], all: h.all, at: h.at, counted: h.counted, waiting: h.waiting[:0]}
	return true
}

// number gives a group its number where the steps have none.
func (h *haul) number(g *group) {
	g.line = h.groups[0].line
	if len(g.steps) > 0 { // of a part that its neighbour alone tells of there are none
		g.line = g.steps[0].Line
		if h.by != byTransfer {
			g.transfer = g.steps[0].Carries()
		}
	}
	if h.by == byTransfer {
		return
	}
	if h.by == byStep || h.gripped+h.freed > 0 {
		h.counted++
		if g.transfer == 0 || h.by == byStep {
			g.transfer = h.counted
		}
	}
}

// opening is how many motions may come before the gripper is opened at the start: the
// one to the clear pose.
const opening = 1

func (h *haul) add(s *Step) {
	if s.Kind.IsMotion() {
		h.at = s.Base.Vec
	}
	switch h.by {
	case byStep:
		h.group(0).take(s)
	case byTransfer:
		h.toTransfer(s)
	case byGrip:
		h.toDescent(s)
	}
}

// group is the group of a part by its place among those that are carried at once.
func (h *haul) group(place int) *group {
	for n := len(h.groups); n <= place; n++ {
		if n == len(h.all) {
			h.all = append(h.all, nil)
		}
		h.groups = append(h.groups, group{steps: h.all[n], place: n})
	}
	return &h.groups[place]
}

func (g *group) take(s *Step) { g.steps = append(g.steps, *s) }

// toTransfer adds a step to the transfer of its part.
func (h *haul) toTransfer(s *Step) {
	if len(h.groups) == 0 {
		h.unit = s.Unit()
	}
	g := h.transfer(s.Carries())
	if s.Role == move.DownSource || s.Role == move.DownDestination {
		for n := 1; n < s.Zones; n++ { // where no gripper works, nothing else tells of these
			h.transfer(s.Transfer + n)
		}
		g = h.transfer(s.Transfer)
	}
	g.take(s)
	if g.id == nil {
		g.id = s.ID
	}
	switch {
	case s.Kind == move.Grip, s.Role == move.DownSource:
		g.begin(s.Target, h.at)
	case s.Kind == move.Release && !s.Target.IsZero(), s.Role == move.DownDestination:
		g.end(s.Target, h.at)
	}
}

// transfer is the group of a transfer by its number.
func (h *haul) transfer(number int) *group {
	for i := range h.groups {
		if g := &h.groups[i]; g.transfer == number {
			return g
		}
	}
	g := h.group(len(h.groups))
	g.transfer = number
	return g
}

// toDescent adds a step to the part of the descent that it belongs to: which that is shows when
// the gripper works. The parts are put down in the order in which they were taken.
func (h *haul) toDescent(s *Step) {
	switch {
	case s.Kind == move.Grip:
		if i := slices.Index(h.held, s.Signal); i >= 0 { // nobody said how that part was let go
			h.held = slices.Delete(h.held, i, i+1)
			h.freed++
		}
		h.held = append(h.held, s.Signal)
		h.works(s, h.gripped).begin(s.Target, h.at)
		h.gripped++
	case s.Kind == move.Release && h.isDrop():
		h.held = h.held[min(1, len(h.held)):]
		h.works(s, h.freed).end(s.Target, h.at)
		h.freed++
	default:
		if s.Kind.IsMotion() {
			h.motions, h.straight = h.motions+1, s.Kind == move.Straight && !s.Changed
			if h.since++; h.begun && h.since > 1 { // it has gone up before
				h.settle(h.place)
				h.begun = false
			}
		}
		h.waiting = append(h.waiting, *s)
	}
}

// isDrop reports whether a release lets a part go that is held: one that was gripped, or one that a
// resumed job begins with, over which the arm went down. Any other opens an empty gripper.
func (h *haul) isDrop() bool { return len(h.held) > 0 || h.motions > opening && h.straight }

// works is the group of the part for which the gripper works. Without a motion between, it is in
// the descent of the one before.
func (h *haul) works(s *Step, place int) *group {
	if !h.begun || h.since > 0 {
		h.place = place
	}
	h.settle(h.place)
	h.begun, h.since = true, 0
	g := h.group(place)
	g.take(s)
	return g
}

// settle gives the steps that wait to a part.
func (h *haul) settle(place int) {
	if len(h.waiting) > 0 {
		g := h.group(place)
		g.steps = append(g.steps, h.waiting...)
		h.waiting = h.waiting[:0]
	}
}

// partID is the id of a group's part; "" where it has none.
func (g *group) partID() string {
	if g.id == nil {
		return ""
	}
	return *g.id
}

// part is the step by which the group's part comes to where it goes, with nothing but that.
func (g *group) part() *Step {
	return &Step{Move: move.Move{Target: g.to, ID: g.id}, Line: g.line}
}

func (g *group) begin(target move.Target, at geom.Vec) {
	if !g.hasFrom {
		g.hasFrom, g.fromAt = true, at
	}
	if g.from.IsZero() {
		g.from = target
	}
}

func (g *group) end(target move.Target, at geom.Vec) {
	if !g.hasTo {
		g.hasTo, g.toAt = true, at
	}
	if g.to.IsZero() {
		g.to = target
	}
}
