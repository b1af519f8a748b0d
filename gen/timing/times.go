package timing

import (
	"iter"

	"gridferry/gen/move"
)

// Timed is a move and how long it takes.
type Timed struct {
	Move    *move.Move // holds until the next is asked for
	Seconds float64
	Length  float64 // mm of a motion
	Turn    float64 // degrees
	Unknown Unknown // what the seconds do not hold
	Limit   int     // the joint that slows the motion down, from 1; 0 for none
}

// Unknown says what is missing in the seconds of a move.
type Unknown uint8

const (
	Nothing Unknown = iota
	Start           // where the arm comes from before its first motion
	Wait            // for an input
	Hand            // a person changes the tool
	Turning         // on the spot, where the machine's turning speed is not known
)

// Times is every move with its time, in the list's order. Motions are kept back
// until the arm stops, since the speed of a fly-by depends on what comes after it.
func Times(moves move.Batches, m Machine) iter.Seq[Timed] {
	return func(yield func(Timed) bool) {
		c := clock{run: run{machine: m}, yield: yield}
		for piece := range moves {
			for i := range piece {
				if !c.see(&piece[i]) {
					return
				}
			}
			c.keep()
		}
		c.flush()
	}
}

// Stopwatch is how long all moves that go by take together.
type Stopwatch struct {
	Seconds float64
	clock   clock
}

// NewStopwatch begins with nothing.
func NewStopwatch(m Machine) *Stopwatch {
	s := &Stopwatch{clock: clock{run: run{machine: m}}}
	s.clock.yield = func(t Timed) bool {
		s.Seconds += t.Seconds
		return true
	}
	return s
}

// See takes the next move, and does not hold it.
func (s *Stopwatch) See(m *move.Move) { s.clock.see(m) }

// Done says that no more come: the last motions count from here on.
func (s *Stopwatch) Done() { s.clock.flush() }

// longestRun bounds how many moves are held back. A plan stops at every slot,
// a few motions on; a list from elsewhere may not.
const longestRun = 1 << 12

type clock struct {
	run   run
	held  []Timed
	kept  []move.Move // copies of the first ones of those held
	yield func(Timed) bool

	at    Stand
	known bool // where the arm is
}

func (c *clock) see(m *move.Move) bool {
	t := Timed{Move: m}
	switch m.Kind {
	case move.Travel, move.Straight:
		c.motion(&t)
		c.held = append(c.held, t)
		return m.FlyBy > 0 && len(c.held) < longestRun || c.flush()
	case move.Select, move.Note:
		if m.Shifts {
			return c.shift(t)
		}
		if len(c.held) > 0 && len(c.held) < longestRun && !c.run.machine.Between {
			c.held = append(c.held, t) // the arm goes on meanwhile
			return true
		}
	case move.Dwell:
		t.Seconds = m.Seconds
	case move.Await:
		t.Unknown = Wait
	case move.Grip, move.Release, move.Set:
	}
	return c.flush() && c.yield(t)
}

// shift is a select with another tool, or another zone of it, whose TCP stands elsewhere. A
// person who changes the tool takes as long as that takes.
func (c *clock) shift(t Timed) bool {
	if t.Move.ByHand {
		t.Unknown = Hand
	}
	if !c.flush() {
		return false
	}
	c.at.TCP = t.Move.Base
	return c.yield(t)
}

// keep copies the moves that are held, whose piece of the list ends here.
func (c *clock) keep() {
	for i := len(c.kept); i < len(c.held); i++ {
		c.kept = append(c.kept, *c.held[i].Move)
		c.held[i].Move = &c.kept[i]
	}
}

// motion takes a motion into the run.
func (c *clock) motion(t *Timed) {
	from := c.at
	c.at = Stand{t.Move.Base, t.Move.Joints, t.Move.Turn}
	if !c.known {
		c.known, t.Unknown = true, Start
		return
	}
	l := c.run.machine.legOf(&from, t.Move)
	l.timed = len(c.held)
	t.Length, t.Turn, t.Limit = l.length, l.turn, l.slowest
	if l.way() > 0 && l.limits.Speed == 0 {
		t.Unknown = Turning
	}
	c.run.legs = append(c.run.legs, l)
}

// flush ends the run with a stop and lets its moves go.
func (c *clock) flush() bool {
	if len(c.held) == 0 {
		return true
	}
	c.run.settle()
	for i := range c.run.legs {
		l := &c.run.legs[i]
		c.held[l.timed].Seconds = l.seconds
	}
	for i := range c.held {
		if !c.yield(c.held[i]) {
			return false
		}
	}
	c.run.legs, c.held, c.kept = c.run.legs[:0], c.held[:0], c.kept[:0]
	return true
}
