package check

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gridferry/gen/arm"
	"gridferry/gen/joints"
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

const (
	// NearEnd is how near a joint may come to an end of its range before that is said: degrees or mm.
	NearEnd = 5
	// bestKnown is how well a pace that is too fast gets to be known, as a part of itself, and closely how
	// well a reading that leaves its range does: degrees or mm.
	bestKnown, closely = 0.02, 0.02
	// mostTurn is how many degrees a joint may turn for a mm of the way before the place counts as nearly
	// singular (common practice, no source).
	mostTurn = 4
	// mostLines is how many lines are remembered as sound.
	mostLines = 1 << 15
)

// alongLine holds the joints to their ranges, speeds and ways between the ends of lines.
var alongLine = Rule{
	Finds: []manual.Page{{
		Name:     "joint-long-way",
		Severity: diag.Error,
		Doc: `On a straight line a joint would have to go round by more than half a turn, because its range ends on the short way. The arm
cannot do that and stay on the line.`,
		Do: `Move or turn the frame, or the grid, so that the line does not lead past the end of the
range.`,
		Bad:  anArm("[-170, 170]", "[0, 360]") + acrossTheEnd,
		Good: anArm() + acrossTheEnd,
	}, {
		Name:     "joint-too-fast",
		Severity: diag.Error,
		Doc: `On a straight line a joint would have to turn or slide faster than it can ("speed" of the joint), for the TCP to go as fast as
the plan says: mostly because the line leads close to a singular place, where two axes come into line. The message says
where, which joint, and how fast the TCP could go.`,
		Do:   `Write a slower "near" speed, or move the line away from the singular place.`,
		Bad:  anArm("range: [-100, 130]", "range: [-100, 130], speed: 4"),
		Good: anArm("range: [-100, 130]", "range: [-100, 130], speed: 40"),
	}, {
		Name:     "straight-not-possible",
		Severity: diag.Error,
		Doc: `On a straight line the arm comes to a singular place: its joints would have to jump there, or it would arrive with
other readings than those with which it goes on.`,
		Do: `Move or turn the frame, or the tool there, so that the line does not lead through that
place.`,
		Bad:  anArm() + overTheAxis("0"),
		Good: anArm() + overTheAxis("60"),
	}, {
		Name:     "nearly-singular",
		Severity: diag.Warning,
		Doc: `On a straight line a joint turns by more than 4 degrees for a mm of the way, as it does close to a singular place. There a small
error of a frame or a tool becomes a large one of a joint.`,
		Do:   `Move or turn the frame, or the tool there, so that the line keeps away from that place.`,
		Bad:  anArm() + overTheAxis("2"),
		Good: anArm() + overTheAxis("60"),
	}, {
		Name:     "joint-near-end",
		Severity: diag.Warning,
		Doc: `Somewhere on a motion a joint comes within 5 degrees, or 5 mm, of an end of its range: a frame that is touched anew
may be out of reach.`,
		Do:   `Move the frame so that the joint has more room, or leave it if the machine takes it.`,
		Bad:  anArm("[-200, 70]", "[-40, 60]"),
		Good: anArm("[-200, 70]", "[-40, 70]"),
	}},
	Watch: func(c *Context) Watcher {
		if c.Layout.Arm == nil {
			return nil
		}
		return &lineWatcher{c: c, sound: map[way]*soundLine{}, found: map[move.Target]diag.Severity{}}
	},
}

// acrossTheEnd leads the middle of the wrist across the plane y = 0 on the way to the tray.
const acrossTheEnd = `-    left:  {at: [250, 60, 40]}
+    left:  {at: [250, 85, 40]}
-    clear: {at: [330, 0, 300]}
+    clear: {at: [330, 100, 300]}
-  tray: {frame: left,  rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, filled: all}
+  tray: {frame: left,  rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, filled: all, rpy: [-150, 0, 0]}
-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
+  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, rpy: [-150, 0, 0]}
-  pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0], layers: 2, layer_pitch: 30, first: [30, 160, 15], part: block}
+  pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0], layers: 2, layer_pitch: 30, first: [30, 160, 15], part: block, rpy: [-150, 0, 0]}
-  approach: 60
+  approach: 160
+  along: tool
`

// overTheAxis has the tool lean as the forearm does, so many mm beside the middle of the bench, where axes 4 and 6 come
// into line shortly before the tray is reached.
func overTheAxis(beside string) manual.Example {
	return manual.Example(strings.ReplaceAll(`-    left:  {at: [250, 60, 40]}
+    left:  {at: [250, BESIDE, 40]}
-    clear: {at: [330, 0, 300]}
+    clear: {at: [400, BESIDE, 300], rpy: [180, -20, 0]}
-  tray: {frame: left,  rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, filled: all}
+  tray: {frame: left, rows: 1, columns: 3, pitch: [50, 60], first: [230, 0, 15], part: block, filled: "A1, A2", rpy: [180, -20, 0]}
-  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
-  pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0], layers: 2, layer_pitch: 30, first: [30, 160, 15], part: block}
-  approach: 60
+  approach: 60
+  along: tool
-  - {from: "tray A1:A3", to: "rack A1:A3"}
-  - {from: "tray B1:B2", to: "pile A1.1, A1.2"}
+  - {from: "tray A1", to: "tray A3"}
`, "BESIDE", beside))
}

// way is a line by the readings at its ends, of which there is one of a kind, whichever comes first: it is the same there and back.
type way struct{ from, to *arm.Readings }

// soundLine is a line on which no error was found: the greatest speed at which it was gone, mm/s, and between
// which readings.
type soundLine struct {
	speed  float64
	spread spread
}

// spread is the least and the greatest reading of each joint.
type spread struct{ lo, hi arm.Readings }

func (w *spread) widen(a *layout.Arm, s *arm.Stretch) {
	for i := range a.Joints {
		lo, hi := s.Bounds(i)
		w.lo[i], w.hi[i] = min(w.lo[i], lo), max(w.hi[i], hi)
	}
}

// hull is all readings between.
func (w *spread) hull() (h hull) {
	h.n = 1
	for i := range h.off {
		h.at[0][i], h.off[i] = (w.lo[i]+w.hi[i])/2, (w.hi[i]-w.lo[i])/2
	}
	return h
}

type lineWatcher struct {
	still
	motions
	c     *Context
	sound map[way]*soundLine
	found map[move.Target]diag.Severity // the worst that was found at a slot or on the line to it, its approach included
}

// failed says whether an error was found at a slot: then no line there is followed any more.
func (w *lineWatcher) failed(m *move.Move) bool { return w.found[m.Target.Below()] == diag.Error }

// tell says whether a finding is news: at a slot one error is said, and one warning before it.
func (w *lineWatcher) tell(m *move.Move, severity diag.Severity) bool {
	slot := m.Target.Below()
	if said := w.found[slot]; said == diag.Error || said == severity {
		return false
	}
	w.found[slot] = severity
	return true
}

func (w *lineWatcher) See(m *move.Move, s *Scene) {
	s.sound = nil
	if m.Joints != nil {
		w.along(m, s)
		w.end(m)
	}
}

// along follows a line, if the motion is one.
func (w *lineWatcher) along(m *move.Move, s *Scene) {
	from := s.From.Joints
	if from == nil || !s.From.Known || s.between != move.LinePath || w.failed(m) {
		return
	}
	known := w.sound[way{from, m.Joints}]
	if known == nil || m.Speed > known.speed {
		l := line{Line: s.line(), w: w, m: m, from: from, spread: spread{*from, *from}}
		if f := w.c.follower(m.ToolNumber); !l.plain(f) {
			l.follow(f)
		}
		if l.failed() {
			return
		}
		known = w.keep(from, m, l.spread)
	}
	s.sound = known
}

// keep remembers a line without errors, there and back.
func (w *lineWatcher) keep(from *arm.Readings, m *move.Move, between spread) *soundLine {
	if len(w.sound) >= mostLines {
		clear(w.sound)
	}
	known := &soundLine{m.Speed, between}
	w.sound[way{from, m.Joints}], w.sound[way{m.Joints, from}] = known, known
	return known
}

// end finds a joint that is near an end of its range where a motion ends. Between the ends of a travel of the joints none
// comes nearer.
func (w *lineWatcher) end(m *move.Move) {
	for i := range w.c.Layout.Arm.Joints {
		j := &w.c.Layout.Arm.Joints[i]
		if j.Short(m.Joints[i], NearEnd) {
			w.near(m, j, j.Margin(m.Joints[i]), "at")
			return
		}
	}
}

func (w *lineWatcher) near(m *move.Move, j *arm.Joint, margin float64, where string) {
	if w.c.said("joint-out-of-range") || w.c.said("joint-long-way") || !w.tell(m, diag.Warning) {
		return // something has to be moved anyway, or is known to be near
	}
	w.c.find("joint-near-end", m.Place, "%s%s %q the joint %s is %.1f%s from the end of its range of %g to %g", during(m), where, m.Target, j.Name, max(0, margin), j.Unit(), j.Lo, j.Hi).
		note(w.c.Layout.Arm.Place, "the arm is given here").
		hint("move or turn the frame, or the tool there, so that the arm has room to spare")
}

// line is one on the way of being followed, and the worst of what was met on it.
type line struct {
	arm.Line
	w    *lineWatcher
	m    *move.Move
	from *arm.Readings

	end    arm.Readings
	spread spread
	came   float64 // the share to which the arm comes

	fast, beyond, near, steep worst
}

// worst is the worst place of one kind: the share of the line, the joint, and how bad it is there, 0 for not at all.
type worst struct {
	share float64
	joint int
	bad   float64
}

func (v *worst) meet(share float64, joint int, bad float64) {
	if bad > v.bad {
		*v = worst{share, joint, bad}
	}
}

// effortPerStretch is what a stretch costs, in looks.
const effortPerStretch = 50

// plain goes along the line in long stretches, and says whether nothing can be met on it that follow would find: by more than
// what that takes for certain. Most lines are plain.
func (l *line) plain(f *arm.Follower) bool {
	const shortest = 1. / 32
	spread, plain := l.spread, true
	l.end, l.came = f.Stride(&l.Line, *l.from, *l.m.Joints, func(s *arm.Stretch) bool {
		l.w.c.effort.made += effortPerStretch
		if !l.quiet(s) {
			if s.To-s.From > shortest {
				return false
			}
			plain = false
		}
		l.spread.widen(l.w.c.Layout.Arm, s)
		return true
	})
	plain = plain && l.came == 1 && !l.elsewhere()
	if !plain {
		l.spread = spread
	}
	return plain
}

// quiet says whether no joint goes too fast on a stretch, and none comes near an end of its range.
func (l *line) quiet(s *arm.Stretch) bool {
	const most = 1 - 2*bestKnown
	long := l.Way.Norm()
	for i := range l.w.c.Layout.Arm.Joints {
		j, can, pace := &l.w.c.Layout.Arm.Joints[i], l.w.c.Layout.Arm.Speeds[i], s.Most(i)
		if long >= touch && (pace > most*mostTurn*long || can > 0 && pace*l.m.Speed > most*can*long) {
			return false
		}
		if lo, hi := s.Bounds(i); max(j.Lo-lo, hi-j.Hi) > -NearEnd {
			return false
		}
	}
	return true
}

// follow goes along the line, by stretches so short that what is wrong on them is certain.
func (l *line) follow(f *arm.Follower) {
	l.end, l.came = f.Follow(&l.Line, *l.from, *l.m.Joints, func(s *arm.Stretch) bool {
		l.w.c.effort.made += effortPerStretch
		certain := true
		for i := range l.w.c.Layout.Arm.Joints {
			certain = l.pace(s, i) && l.reading(s, i) && certain
		}
		if certain || s.Least {
			l.spread.widen(l.w.c.Layout.Arm, s)
		}
		return certain
	})
}

// pace looks at how fast a joint goes on a stretch; false where that is not known well enough.
func (l *line) pace(s *arm.Stretch, i int) bool {
	long := l.Way.Norm()
	if long < touch {
		return true // it turns on the spot, at a pace that nobody says
	}
	most, can := s.Most(i)/long, l.w.c.Layout.Arm.Speeds[i]
	steep, fast := most > mostTurn, can > 0 && most*l.m.Speed > can
	switch {
	case !steep && !fast:
		return true
	case s.Off[i] > bestKnown*s.Most(i) && !s.Least:
		return false
	case steep:
		l.steep.meet(s.From, i, most)
	}
	if fast {
		l.fast.meet(s.From, i, most*l.m.Speed/can)
	}
	return true
}

// reading looks at where a joint is on a stretch, likewise.
func (l *line) reading(s *arm.Stretch, i int) bool {
	j := &l.w.c.Layout.Arm.Joints[i]
	lo, hi := s.Bounds(i)
	beyond := max(j.Lo-lo, hi-j.Hi)
	if beyond <= -NearEnd {
		return true
	}
	if hi-lo > closely && !s.Least {
		return false
	}
	l.beyond.meet(s.From, i, beyond-closely)
	l.near.meet(s.From, i, NearEnd+beyond-closely)
	return true
}

// failed finds the worst that was met, one thing for a line, and says whether that is an error.
func (l *line) failed() bool {
	m, a := l.m, l.w.c.Layout.Arm
	away := "move or turn the frame, or the tool there, so that the line does not lead through that place"
	if m.Kind == move.Travel {
		away = fmt.Sprintf("put the clear pose where the line from it does not lead through that place: with %q a travel is a straight line", l.w.c.travel.Family)
	}
	joint := func(v *worst) *arm.Joint { return &a.Joints[v.joint] }
	say := func(name, format string, args ...any) *report {
		if !l.w.tell(m, severities()[name]) {
			return nil
		}
		return l.w.c.find(name, m.Place, "%son the straight line to %q, "+format, append([]any{during(m), m.Target}, args...)...).
			note(a.Place, "the arm is given here").
			hint("%s", away)
	}
	wrong := l.beyond.bad > 0 || l.came < 1 || l.elsewhere()
	switch round := l.longWay(); {
	case wrong && round >= 0:
		j := &a.Joints[round]
		say("joint-long-way", "the joint %s would have to go from %.1f° to %.1f°, the long way round: its range of %g to %g ends on the short one", j.Name, l.from[round], m.Joints[round], j.Lo, j.Hi)
	case l.beyond.bad > 0:
		j := joint(&l.beyond)
		say("joint-out-of-range", "%s, the joint %s would have to leave its range of %g to %g by %.1f%s", l.place(&l.beyond), j.Name, j.Lo, j.Hi, l.beyond.bad, j.Unit())
	case l.came < 1:
		say("straight-not-possible", "%s, the arm comes to a singular place, or too near to one to pass it: its joints would have to jump", l.place(&worst{share: l.came}))
	case l.elsewhere():
		say("straight-not-possible", "the arm arrives with other readings of its joints than those with which it goes on")
	case l.fast.bad > 0:
		j := joint(&l.fast)
		can := a.Speeds[l.fast.joint]
		say("joint-too-fast", "%s, the joint %s would have to go at %.0f%s/s for %g mm/s of the TCP; it can go at %g", l.place(&l.fast), j.Name, l.fast.bad*can, j.Unit(), m.Speed, can).
			hint("go at %s mm/s at the most, or %s", slowly(m.Speed/l.fast.bad), away)
	case l.steep.bad > mostTurn:
		say("nearly-singular", "%s, the joint %s turns by %.1f%s for a mm of the way", l.place(&l.steep), joint(&l.steep).Name, l.steep.bad, joint(&l.steep).Unit())
	case l.near.bad > 0:
		l.w.near(m, joint(&l.near), NearEnd-l.near.bad, l.place(&l.near)+" on the straight line to")
	}
	return l.w.failed(m)
}

// longWay is the first joint that has to go by more than half a turn from the one end to the other, whichever turn in its range it
// ends on; -1 for none.
func (l *line) longWay() int {
	for i := range l.w.c.Layout.Arm.Joints {
		j := &l.w.c.Layout.Arm.Joints[i]
		if nearest, _ := j.Nearest(l.m.Joints[i], l.from[i]); !j.Slides && math.Abs(nearest-l.from[i]) > joints.StraightMost {
			return i
		}
	}
	return -1
}

// elsewhere says whether the arm arrives with other readings than those of the list.
func (l *line) elsewhere() bool {
	const rounding = 1e-3
	for i := range l.w.c.Layout.Arm.Joints {
		if math.Abs(l.end[i]-l.m.Joints[i]) > rounding {
			return true
		}
	}
	return false
}

// place says where on the line something is.
func (l *line) place(v *worst) string {
	left := float64((1 - v.share) * l.Way.Norm())
	if left < 0.05 {
		return "at its end"
	}
	return fmt.Sprintf("%.1f mm before its end", left)
}

// slowly is a speed in three figures, rounded down.
func slowly(speed float64) string {
	unit := math.Pow(10, math.Floor(math.Log10(speed))-2)
	return strconv.FormatFloat(math.Floor(speed/unit)*unit, 'g', 3, 64)
}
