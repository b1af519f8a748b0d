package joints

import (
	"math"
	"slices"

	"gridferry/gen/arm"
	"gridferry/gen/move"
)

// turn is where a joint does not go to the nearest reading in its range, but to another one, a
// whole turn off: because it would later have to turn all the way back.
type turn struct {
	motion int // from 1
	turn   int // of the readings in its range the lowest is 0
	before *turn
}

// leastWinding finds, for each joint by itself, the turns by which it goes the least way in all: the shortest
// path through the readings that each motion leaves it (Bellman's principle). What is kept of a
// path is only where it departs from going to the nearest reading, so that a long list needs no more
// memory than a short one.
func (c *Choice) leastWinding(moves move.Batches) (chosen [arm.MaxJoints][]turn) {
	w := c.walk()
	all := make([]paths, len(c.b.arm.Joints))
	for i := range all {
		all[i].joint = &c.b.arm.Joints[i]
		all[i].now = []path{{at: w.at[i]}}
	}
	for piece := range moves {
		for i := range piece {
			if m := &piece[i]; m.Kind.IsMotion() {
				c.goOn(w, m, all)
			}
		}
	}
	for i := range all {
		chosen[i] = all[i].shortest()
	}
	return chosen
}

// goOn adds a motion to the paths of all joints.
func (c *Choice) goOn(w *walk, m *move.Move, all []paths) {
	p, exact, ok := w.solution(m)
	w.motions++
	if !ok {
		return
	}
	for i := range all {
		all[i].add(p.readings[i], w.motions, m.Kind == move.Straight, exact)
		w.at[i] = all[i].now[0].at
	}
}

// paths is the shortest way of a joint to each of the readings that the last motion leaves it.
type paths struct {
	joint *arm.Joint
	begun bool
	now   []path
	next  []path
}

// firstWeight is what the way to the first pose counts: hardly anything, since a person brings the
// arm there, but of turns that are as good as others the one about 0 is taken.
const firstWeight = 1e-3

// outWeight is what a reading counts for each degree that it is out of the middle of its range: hardly anything, but of turns
// that are as far the one with most room is taken.
const outWeight = 1e-7

// path is one of them.
type path struct {
	at   float64 // where it has led
	way  float64 // how far it is
	last *turn   // where it last did not go to the nearest reading
}

// StraightMost is how far a joint may turn along a straight line: on a line it goes where it is led, not
// once round. Degrees.
const StraightMost = 180 + 1e-6

// add goes on to the readings that a motion leaves the joint: of each, by the shortest way.
func (p *paths) add(reading float64, motion int, straight, exact bool) {
	lowest, count := p.joint.Within(reading)
	if exact || count == 0 {
		lowest, count = reading, 1
	}
	p.next = p.next[:0]
	for k := range count {
		at := lowest + float64(360*k)
		if best, ok := p.shortestTo(at, straight && p.begun); ok || count == 1 {
			p.next = append(p.next, p.gone(best, at, k, motion, exact))
		}
	}
	if len(p.next) == 0 { // the joint goes the long way, whatever it does: it is found at this motion
		best, _ := p.shortestTo(lowest, false)
		p.next = append(p.next, p.gone(best, lowest, 0, motion, exact))
	}
	p.now, p.next, p.begun = p.next, p.now, true
}

// shortestTo is the path so far from which a reading is reached at the least cost; false where none
// leads there along a straight.
func (p *paths) shortestTo(at float64, straight bool) (best *path, ok bool) {
	least := math.Inf(1)
	best = &p.now[0]
	for i := range p.now {
		from := &p.now[i]
		if straight && math.Abs(at-from.at) > StraightMost {
			continue
		}
		if way := from.way + math.Abs(at-from.at); way < least {
			best, least, ok = from, way, true
		}
	}
	return best, ok
}

// gone is a path that was gone on to a reading.
func (p *paths) gone(from *path, at float64, k, motion int, exact bool) path {
	way := math.Abs(at - from.at)
	if !p.begun {
		way = float64(way * firstWeight)
	}
	way += float64(outWeight * math.Abs(at-(p.joint.Lo+p.joint.Hi)/2))
	next := path{at, from.way + way, from.last}
	if nearest, _ := p.joint.Nearest(at, from.at); !exact && math.Abs(nearest-at) > 1 {
		next.last = &turn{motion, k, from.last}
	}
	return next
}

// shortest is the departures of the shortest of all paths, in their order.
func (p *paths) shortest() (turns []turn) {
	best := &p.now[0]
	for i := range p.now {
		if p.now[i].way < best.way-1e-12 {
			best = &p.now[i]
		}
	}
	for t := best.last; t != nil; t = t.before {
		turns = append(turns, *t)
	}
	slices.Reverse(turns)
	return turns
}

// onTurn is a reading on one of the turns in its joint's range: the lowest is 0.
func onTurn(j *arm.Joint, reading float64, turn int) float64 {
	lowest, count := j.Within(reading)
	return lowest + float64(360*max(0, min(turn, count-1)))
}
