package wordaddress

import (
	"math"
	"strings"
)

// A Setup is what the machine knows before the program starts.
type Setup struct {
	Start       *Position   // where the axes stand, machine coordinates; nil: unknown
	Offsets     [9]Position // origins of G54 … G59.3 in machine coordinates
	SkipDeleted bool        // the block delete switch is on
}

// Run executes blocks and gives what the machine does, up to M2 or M30. The
// first word that is wrong, unknown or has nothing that uses it ends the run
// with an [*Error]; the events before it are returned too.
//
// The state at the start is the one that M2 leaves behind (3.6.1): G54, no G92
// offset, G17, G90, G94, G1. Units are in no state: lengths and feeds before
// G20 or G21 are refused.
func Run(blocks []Block, setup ...Setup) ([]Event, error) {
	m := newMachine(setup)
	for _, b := range blocks {
		if b.Deleted && m.setup.SkipDeleted {
			continue
		}
		if err := m.execute(b); err != nil {
			return m.events, err
		}
		if m.ended {
			break
		}
	}
	return m.events, nil
}

// A machine is the state of Appendix A's canonical machine as far as the
// subset reaches.
type machine struct {
	setup  Setup
	events []Event

	// The block at hand.
	block Block
	used  map[int]bool // indexes of the words that something has used

	// Modal state.
	motion    int // ten times the G number
	plane     int
	scale     float64 // mm per unit; 0 before G20 or G21
	relative  bool    // G91
	inverse   bool    // G93
	exactPath bool    // G61
	system    int
	feed      float64 // as written
	feedScale float64 // the units in force when F was read; 0: there is no feed
	tool      int
	spindle   float64

	// Where it stands, machine coordinates.
	at     axes
	known  [6]bool
	offset axes // G92
	ended  bool
}

func newMachine(setup []Setup) *machine {
	m := &machine{motion: 10, plane: 17, system: 1}
	if len(setup) > 0 {
		m.setup = setup[0]
	}
	if s := m.setup.Start; s != nil {
		m.at = s.axes()
		m.known = [6]bool{true, true, true, true, true, true}
	}
	return m
}

// execute goes through one block in the order of Table 8. Comments (step 1)
// and the steps of words outside the subset are not there; outside refuses
// those words before anything moves.
func (m *machine) execute(b Block) *Error {
	m.block, m.used = b, map[int]bool{}
	steps := []func() *Error{
		m.outside, m.setFeedMode, m.setFeed, m.setSpindle, m.setTool, m.dwell, m.setPlane, m.setUnits,
		m.setSystem, m.setPath, m.setDistance, m.setOffset, m.move, m.clamp, m.stop, m.leftovers,
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// take finds the only word of a letter and marks it used.
func (m *machine) take(letter byte) (Word, bool) {
	for i, w := range m.block.Words {
		if w.Letter == letter {
			m.used[i] = true
			return w, true
		}
	}
	return Word{}, false
}

// takeCode finds the first of some G or M words, given as ten times their
// numbers, and marks it used.
func (m *machine) takeCode(letter byte, codes ...int) (Word, bool) {
	for i, w := range m.block.Words {
		for _, code := range codes {
			if w.Letter == letter && w.code() == code {
				m.used[i] = true
				return w, true
			}
		}
	}
	return Word{}, false
}

func (m *machine) fault(w Word, clause, format string, args ...any) *Error {
	return fault(m.block.Line, w.Column, clause, format, args...)
}

// setFeedMode: a feed written in the other mode means nothing any more (3.5.19).
func (m *machine) setFeedMode() *Error {
	w, ok := m.takeCode('G', 930, 940)
	if !ok {
		return nil
	}
	inverse := w.code() == 930
	if inverse != m.inverse {
		m.feedScale = 0
	}
	m.inverse = inverse
	return nil
}

// setFeed runs before the units of its own block are set (Table 8), so units
// must stand in an earlier block.
func (m *machine) setFeed() *Error {
	if m.inverse {
		m.feedScale = 0 // every block needs its own F (3.5.19)
	}
	w, ok := m.take('F')
	if !ok {
		return nil
	}
	if m.scale == 0 {
		return m.fault(w, "3.8, Table 8", "%s is read before the units are set: G20 or G21 was wanted on an earlier line", w)
	}
	m.feed, m.feedScale = w.Value, m.scale
	return nil
}

func (m *machine) setSpindle() *Error {
	if w, ok := m.take('S'); ok {
		m.spindle = w.Value
	}
	return nil
}

func (m *machine) setTool() *Error {
	if w, ok := m.take('T'); ok {
		m.tool = int(math.Round(w.Value))
	}
	return nil
}

// dwell is G4 with P in seconds (3.5.4), before any motion of the same block.
func (m *machine) dwell() *Error {
	w, ok := m.takeCode('G', 40)
	if !ok {
		return nil
	}
	p, ok := m.take('P')
	if !ok {
		return m.fault(w, "3.5.4", "G4 wants the seconds in P")
	}
	if p.Value < 0 {
		return m.fault(p, "3.5.4", "the dwell %s is negative", p)
	}
	e := m.event(Dwell)
	e.Seconds = p.Value
	m.events = append(m.events, e)
	return nil
}

func (m *machine) setPlane() *Error {
	if w, ok := m.takeCode('G', 170, 180, 190); ok {
		m.plane = w.code() / 10
	}
	return nil
}

func (m *machine) setUnits() *Error {
	w, ok := m.takeCode('G', 200, 210)
	switch {
	case !ok:
	case w.code() == 200:
		m.scale = 25.4
	default:
		m.scale = 1
	}
	return nil
}

func (m *machine) setSystem() *Error {
	if w, ok := m.takeCode('G', 540, 550, 560, 570, 580, 590, 591, 592, 593); ok {
		m.system = systemNumber(w.code())
	}
	return nil
}

// systemNumber gives 1 for G54 … 6 for G59, 7 for G59.1 … 9 for G59.3 (3.5.13).
func systemNumber(code int) int {
	if code > 590 {
		return code - 590 + 6
	}
	return code/10 - 53
}

func (m *machine) setPath() *Error {
	if w, ok := m.takeCode('G', 610, 640); ok {
		m.exactPath = w.code() == 610
	}
	return nil
}

func (m *machine) setDistance() *Error {
	if w, ok := m.takeCode('G', 900, 910); ok {
		m.relative = w.code() == 910
	}
	return nil
}

// setOffset is G92: the present point gets the coordinates that are written (3.5.18).
func (m *machine) setOffset() *Error {
	w, ok := m.takeCode('G', 920)
	if !ok {
		return nil
	}
	values, given, err := m.axisWords()
	if err != nil {
		return err
	}
	if given == ([6]bool{}) {
		return m.fault(w, "3.5.18", "G92 wants at least one axis word")
	}
	for i := range given {
		if given[i] && !m.known[i] {
			return m.fault(w, "3.5.18", "G92 on %c, whose place no block has given", axisLetters[i])
		}
		if given[i] {
			m.offset[i] = m.at[i] - m.setup.Offsets[m.system-1].axes()[i] - values[i]
		}
	}
	return nil
}

// clamp stands outside Table 8, so nothing may move or wait in its block.
func (m *machine) clamp() *Error {
	w, ok := m.takeCode('M', 100, 110)
	if !ok {
		return nil
	}
	if n := len(m.events); n > 0 && m.events[n-1].Line == m.block.Line {
		return m.fault(w, "ISO 6983-1", "%s shares its line with a motion or a dwell: no standard says which comes first", w)
	}
	kind := Clamp
	if w.code() == 110 {
		kind = Unclamp
	}
	m.events = append(m.events, m.event(kind))
	return nil
}

// stop comes last in a block (Table 8): M0 on a motion line stops after the motion.
func (m *machine) stop() *Error {
	w, ok := m.takeCode('M', 0, 20, 300)
	if !ok {
		return nil
	}
	kind := End
	if w.code() == 0 {
		kind = Stop
	}
	m.ended = kind == End
	m.events = append(m.events, m.event(kind))
	return nil
}

// subset holds the G and M words that Run knows, as ten times their numbers.
var subset = map[byte]map[int]bool{
	'G': codes(0, 10, 20, 30, 40, 170, 180, 190, 200, 210, 530, 540, 550, 560, 570, 580, 590, 591, 592, 593,
		610, 640, 900, 910, 920, 930, 940),
	'M': codes(0, 20, 100, 110, 300),
}

func codes(list ...int) map[int]bool {
	set := map[int]bool{}
	for _, code := range list {
		set[code] = true
	}
	return set
}

// outside refuses G and M words that Run does not know.
func (m *machine) outside() *Error {
	for _, w := range m.block.Words {
		if known, coded := subset[w.Letter]; coded && !known[w.code()] {
			return m.fault(w, "3.3", "%s is in the language but outside the subset that is run here", w)
		}
	}
	return nil
}

// leftovers refuses words that nothing in the block has used.
func (m *machine) leftovers() *Error {
	for i, w := range m.block.Words {
		if !m.used[i] {
			return m.fault(w, "3.3", "nothing on this line uses %s", w)
		}
	}
	return nil
}

// event fills in what is in force now.
func (m *machine) event(kind Kind) Event {
	return Event{
		Line: m.block.Line, Kind: kind, At: m.at.minus(m.origin()).position(), Machine: m.at.position(),
		Unknown: m.unknown(), System: m.system, ExactPath: m.exactPath, Tool: m.tool, Spindle: m.spindle,
	}
}

// origin is the place of the present coordinate system's zero, machine coordinates.
func (m *machine) origin() axes {
	return m.setup.Offsets[m.system-1].axes().plus(m.offset)
}

func (m *machine) unknown() string {
	var b strings.Builder
	for i, known := range m.known {
		if !known {
			b.WriteByte(axisLetters[i])
		}
	}
	return b.String()
}
