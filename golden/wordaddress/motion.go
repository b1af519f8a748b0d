package wordaddress

import (
	"math"
	"strings"
)

// axisWords takes the axis words of the block, in millimetres and degrees.
func (m *machine) axisWords() (values axes, given [6]bool, err *Error) {
	for i := range len(axisLetters) {
		w, ok := m.take(axisLetters[i])
		if !ok {
			continue
		}
		given[i] = true
		values[i] = w.Value
		if i < 3 {
			if values[i], err = m.length(w); err != nil {
				return values, given, err
			}
		}
	}
	return values, given, nil
}

// length gives a word in millimetres.
func (m *machine) length(w Word) (float64, *Error) {
	if m.scale == 0 {
		return 0, m.fault(w, "3.5.7", "%s is a length before any G20 or G21", w)
	}
	return w.Value * m.scale, nil
}

// move runs the motion of the block, if it has one: a motion word, or axis
// words under the motion that is in force (3.4).
func (m *machine) move() *Error {
	word, written := m.takeCode('G', 0, 10, 20, 30)
	if written {
		m.motion = word.code()
	}
	machineCoordinates, g53 := m.takeCode('G', 530)
	values, given, err := m.axisWords()
	if err != nil {
		return err
	}
	if _, offset := m.block.g(920); offset {
		return nil // G92 has used the axis words; the motion waits (3.4)
	}
	if given == ([6]bool{}) {
		return m.noAxes(word, written, machineCoordinates, g53)
	}
	if g53 && m.motion > 10 {
		return m.fault(machineCoordinates, "3.5.12", "G53 wants G0 or G1 in force")
	}
	return m.perform(m.firstAxis(), values, given, g53)
}

// g finds a G word, given as ten times its number.
func (b Block) g(code int) (Word, bool) {
	for _, w := range b.Words {
		if w.Letter == 'G' && w.code() == code {
			return w, true
		}
	}
	return Word{}, false
}

func (m *machine) noAxes(word Word, written bool, g53Word Word, g53 bool) *Error {
	switch {
	case written:
		return m.fault(word, "3.5.1-3.5.3", "%s wants at least one axis word", word)
	case g53:
		return m.fault(g53Word, "3.5.12", "G53 wants at least one axis word")
	}
	return nil
}

// firstAxis is the word at which faults of the motion are reported.
func (m *machine) firstAxis() Word {
	for _, w := range m.block.Words {
		if strings.IndexByte(axisLetters, w.Letter) >= 0 {
			return w
		}
	}
	return Word{Column: 1}
}

func (m *machine) perform(at Word, values axes, given [6]bool, g53 bool) *Error {
	target, err := m.target(at, values, given, g53)
	if err != nil {
		return err
	}
	start, knew := m.at, m.known
	var a arc
	if m.motion >= 20 {
		if a, err = m.arc(at, target, given); err != nil {
			return err
		}
	}
	if err := m.wantFeed(at); err != nil {
		return err
	}
	m.arrive(target, given)
	m.events = append(m.events, m.motionEvent(start, knew, a))
	return nil
}

// target is the end point in machine coordinates.
func (m *machine) target(at Word, values axes, given [6]bool, g53 bool) (axes, *Error) {
	target, origin := m.at, m.origin()
	for i := range given {
		switch {
		case !given[i]:
		case g53:
			target[i] = values[i]
		case !m.relative:
			target[i] = origin[i] + values[i]
		case !m.known[i]:
			return target, m.fault(at, "3.5.17", "an incremental move of %c, whose place no block has given", axisLetters[i])
		default:
			target[i] += values[i]
		}
	}
	return target, nil
}

func (m *machine) arrive(target axes, given [6]bool) {
	m.at = target
	for i := range given {
		m.known[i] = m.known[i] || given[i]
	}
}

// wantFeed refuses a feed motion without a rate that is good for it.
func (m *machine) wantFeed(at Word) *Error {
	switch {
	case m.motion == 0:
		return nil
	case m.feedScale == 0 && m.inverse:
		return m.fault(at, "3.5.19", "with G93 every feed motion wants an F on its own line")
	case m.feedScale == 0:
		return m.fault(at, "3.5.2", "a feed motion before any F of this feed mode")
	case m.feed == 0:
		return m.fault(at, "3.5.2", "a feed motion at F0 never arrives")
	case !m.inverse && m.feedScale != m.scale:
		return m.fault(at, "3.5.7", "F was written in other units than those now in force")
	}
	return nil
}

func (m *machine) motionEvent(start axes, knew [6]bool, a arc) Event {
	kind := map[int]Kind{0: Traverse, 10: Feed, 20: Arc, 30: Arc}[m.motion]
	e := m.event(kind)
	if kind == Traverse {
		return e
	}
	linear, angular := pathLength(m.at.minus(start), a)
	moved := linear
	if linear == 0 && angular > 0 {
		e.Rotary, moved = true, angular
	}
	m.timeFeed(&e, moved)
	if m.known != knew {
		e.Seconds = math.NaN()
	}
	if kind == Arc {
		e.Center, e.Plane, e.Clockwise = a.center.minus(m.origin()).position(), m.plane, m.motion == 20
	}
	return e
}

// pathLength gives the length that F applies to: millimetres of X, Y, Z, and
// degrees of A, B, C (2.1.2.5).
func pathLength(d axes, a arc) (linear, angular float64) {
	angular = math.Sqrt(float64(d[3]*d[3]) + float64(d[4]*d[4]) + float64(d[5]*d[5]))
	if a.length > 0 {
		return math.Hypot(a.length, a.rise), angular
	}
	return math.Sqrt(float64(d[0]*d[0]) + float64(d[1]*d[1]) + float64(d[2]*d[2])), angular
}

// timeFeed sets rate and duration: F is units per minute, or under G93 the
// number of such moves in a minute (3.5.19).
func (m *machine) timeFeed(e *Event, moved float64) {
	if m.inverse {
		e.Seconds = 60 / m.feed
		e.Rate = moved * m.feed
		return
	}
	e.Rate = m.feed
	if !e.Rotary {
		e.Rate *= m.feedScale
	}
	e.Seconds = moved / e.Rate * 60
}
