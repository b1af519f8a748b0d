package move

import (
	"io"
	"strconv"

	"gridferry/gen/geom"
	"gridferry/plan/wording"
)

// lines makes a line of each move. Most of what stands in a line stood in one
// before it, so texts are remembered: without that it takes 1.8 times as long.
type lines struct {
	style *style
	text  []byte
	col   int // the next column

	quoted []byte // a text before it was quoted

	owner   remembered[owner]
	frame   remembered[string]
	figures [figures]figure
	tails   [NumRoles]ending // moves of a role mostly end alike
}

// enough is how many bytes are written at once.
const enough = 1 << 15

func (l *lines) write(w io.Writer, moves Batches) error {
	for piece := range moves {
		for i := range piece {
			l.move(&piece[i])
		}
		if len(l.text) < enough {
			continue
		}
		if _, err := w.Write(l.text); err != nil {
			return err
		}
		l.text = l.text[:0]
	}
	_, err := w.Write(l.text)
	return err
}

func (l *lines) move(m *Move) {
	l.col = 0
	l.whole(m.N)
	l.ownerOf(m)
	l.name(m.Kind.String())
	l.target(&m.Target)
	if m.Kind.IsMotion() {
		l.frameOf(m)
		l.motion(m)
	}
	l.tailOf(m)
	if l.style.joints != nil {
		l.style.joints(l, m)
	}
	l.text = append(l.text, l.style.end...)
}

// owner is what a move belongs to.
type owner struct{ transfer, leg int }

func (l *lines) ownerOf(m *Move) {
	now := owner{m.Transfer, m.Leg}
	if l.owner.again(l, &now) {
		return
	}
	from := len(l.text)
	l.whole(m.Transfer)
	l.wholeIf(m.Leg > 0, m.Leg)
	l.owner.keep(l, &now, from)
}

func (l *lines) target(t *Target) {
	if t.IsZero() {
		l.absent(1)
		return
	}
	from := l.open()
	l.text = t.Append(l.text)
	l.close(from)
}

func (l *lines) frameOf(m *Move) {
	if l.frame.again(l, &m.Frame) {
		return
	}
	from := len(l.text)
	l.name(m.Frame)
	l.frame.keep(l, &m.Frame, from)
}

// figures is how many columns only motions fill: those from x to fly-by.
const figures = 14

func (l *lines) motion(m *Move) {
	for i, v := range [figures]float64{
		m.At.X, m.At.Y, m.At.Z, m.At.Roll, m.At.Pitch, m.At.Yaw,
		m.Base.X, m.Base.Y, m.Base.Z, m.Base.Roll, m.Base.Pitch, m.Base.Yaw,
		m.Speed, m.FlyBy,
	} {
		l.figure(&l.figures[i], v)
	}
}

// tail is what the columns behind those of motions depend on and, of a move that is
// not a motion, the frame before them too.
type tail struct {
	kind              Kind
	level, goOn       bool
	signal, line      int
	load, seconds     float64
	centre, inertia   geom.Vec
	frame, tool, text string
}

// ending is the text of a tail without the part's id, which is another one in every transfer
// and stands in the midst of it.
type ending struct {
	remembered[tail]
	before int // so many bytes of the text stand before the id
}

func (l *lines) tailOf(m *Move) {
	now := tail{m.Kind, m.Level, m.GoOn, m.Signal, m.Line(), m.Load, m.Seconds, m.Centre(), m.Inertia(), m.Frame, m.Tool, m.Text}
	memory := &l.tails[m.Role]
	if memory.key == now && len(memory.text) > 0 {
		l.text = append(l.text, memory.text[:memory.before]...)
		l.col = idColumn
		l.id(m)
		l.text = append(l.text, memory.text[memory.before:]...)
		return
	}
	from, fills := len(l.text), &kinds[m.Kind]
	if !m.Kind.IsMotion() {
		l.name(m.Frame)
		l.absent(figures)
	}
	l.name(m.Tool)
	limited := fills.timeOut && m.Seconds > 0
	l.numberIf(fills.load, m.Load)
	l.wholeIf(fills.signal, m.Signal)
	l.nameIf(fills.signal, wording.Level(m.Level))
	l.numberIf(fills.seconds || limited, m.Seconds)
	l.nameIf(fills.text || m.ByHand, m.Text)
	l.wholeIf(m.Line() > 0, m.Line())
	l.nameIf(limited, afterTimeOut(m.GoOn))
	before := len(l.text)
	l.id(m)
	behind := len(l.text)
	for _, v := range [...]geom.Vec{m.Centre(), m.Inertia()} {
		known := fills.load && v != geom.Vec{}
		l.numberIf(known, v.X)
		l.numberIf(known, v.Y)
		l.numberIf(known, v.Z)
	}
	memory.key, memory.before = now, before-from
	memory.text = append(append(memory.text[:0], l.text[from:before]...), l.text[behind:]...)
}

// jointColumns writes a column for each joint and one for the configuration, empty where a move has none.
func (l *lines) jointColumns(m *Move, joints int) {
	for i := range joints {
		l.text = append(l.text, ',')
		if m.Joints != nil {
			l.text = appendNumber(l.text, m.Joints[i])
		}
	}
	l.text = append(append(l.text, ','), m.Configuration.String()...)
}

// jointList writes the readings as a list, and their configuration as a text, if there are any.
func (l *lines) jointList(m *Move, joints int) {
	if m.Joints == nil {
		return
	}
	l.text = append(l.text, `,"joints":[`...)
	for i := range joints {
		if i > 0 {
			l.text = append(l.text, ',')
		}
		l.text = appendNumber(l.text, m.Joints[i])
	}
	l.text = append(l.text, ']')
	if m.Configuration != 0 {
		l.text = append(append(append(l.text, `,"configuration":"`...), m.Configuration.String()...), '"')
	}
}

// id writes which part it is.
func (l *lines) id(m *Move) {
	if m.ID == nil {
		l.absent(1)
		return
	}
	l.name(*m.ID)
}

// afterTimeOut is the plan's word for what an await does when its time is up.
func afterTimeOut(goOn bool) string {
	if goOn {
		return "go-on"
	}
	return "stop"
}

// before begins the next column.
func (l *lines) before() {
	l.text = append(l.text, l.style.before[l.col]...)
	l.col++
}

// absent passes over columns that do not apply.
func (l *lines) absent(columns int) {
	for range columns {
		l.text = append(l.text, l.style.absent...)
	}
	l.col += columns
}

func (l *lines) whole(v int) {
	l.before()
	l.text = strconv.AppendInt(l.text, int64(v), 10)
}

func (l *lines) number(v float64) {
	l.before()
	l.text = appendNumber(l.text, v)
}

// name writes a text that applies if there is one.
func (l *lines) name(text string) { l.nameIf(text != "", text) }

func (l *lines) wholeIf(applies bool, v int) {
	if applies {
		l.whole(v)
	} else {
		l.absent(1)
	}
}

func (l *lines) numberIf(applies bool, v float64) {
	if applies {
		l.number(v)
	} else {
		l.absent(1)
	}
}

func (l *lines) nameIf(applies bool, text string) {
	if !applies {
		l.absent(1)
		return
	}
	from := l.open()
	l.text = l.style.inert(l.text, text)
	l.close(from)
}

// open begins a text and returns where; close ends it, and quotes it if needed.
func (l *lines) open() (from int) {
	l.before()
	l.text = append(l.text, l.style.around...)
	return len(l.text)
}

func (l *lines) close(from int) {
	for _, c := range l.text[from:] {
		if l.style.odd[c] {
			l.quoted = append(l.quoted[:0], l.text[from:]...)
			l.text = l.style.quote(l.text[:from-len(l.style.around)], l.quoted)
			return
		}
	}
	l.text = append(l.text, l.style.around...)
}

// remembered is the text of one value or of several that belong together, with
// what stands before them.
type remembered[K comparable] struct {
	key  K
	text []byte
	next int // the column behind
}

// again writes the text once more; false where it is that of something else.
func (r *remembered[K]) again(l *lines, key *K) bool {
	if len(r.text) == 0 || r.key != *key {
		return false
	}
	l.text = append(l.text, r.text...)
	l.col = r.next
	return true
}

// keep remembers what was written from there on.
func (r *remembered[K]) keep(l *lines, key *K, from int) {
	r.key, r.text, r.next = *key, append(r.text[:0], l.text[from:]...), l.col
}

// figure is a number that is remembered. Its text is copied as a whole whatever its
// size, which is done in a few instructions.
type figure struct {
	value float64
	size  int // of the text; 0 where there is none
	text  [48]byte
}

func (l *lines) figure(f *figure, v float64) {
	if f.value == v && f.size > 0 {
		end := len(l.text) + f.size
		l.text = append(l.text, f.text[:]...)[:end]
		l.col++
		return
	}
	from := len(l.text)
	l.number(v)
	f.value, f.size = v, 0
	if text := l.text[from:]; len(text) <= len(f.text) {
		f.size = copy(f.text[:], text)
	}
}
