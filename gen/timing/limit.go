package timing

import (
	"fmt"
	"strings"

	"gridferry/gen/arm"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// tcp is what limits a motion that no joint slows down: what the plan and the cell say of the TCP.
const tcp = "TCP"

// LimitTime is all motions that one thing limits.
type LimitTime struct {
	Joint     string // "" for what is said of the TCP
	Travels   int
	Straights int
	Seconds   float64
}

// limited is seconds of motions, by what limits them: the TCP first, and the joints.
type limited [arm.MaxJoints + 1]float64

// most is the joint that slows motions down for the longest time, from 1; 0 where none does.
func (l *limited) most() (joint int) {
	longest := 0.0
	for i, seconds := range l[1:] {
		if slower(seconds, longest) {
			longest, joint = seconds, i+1
		}
	}
	return joint
}

// jointed is a joint's name by its number from 1; "" for 0.
func (m *Machine) jointed(joint int) string {
	if joint == 0 {
		return ""
	}
	return m.Joints.Arm.Joints[joint-1].Name
}

// limit counts a motion to what limits it, where the arm is known.
func (g *gatherer) limit(t *Timed) {
	if g.limits == nil || !t.Move.Kind.IsMotion() || t.Unknown == Start {
		return
	}
	l := &g.limits[t.Limit]
	l.Seconds += t.Seconds
	if t.Move.Kind == move.Travel {
		l.Travels++
	} else {
		l.Straights++
	}
}

// slowed reports whether any joint slows a motion down.
func (r *Report) slowed() bool { return len(r.Limits) > 1 }

// Limiting says in a line which joints slow motions down; "" where the cell does not say what the arm is.
func (r *Report) Limiting() string {
	if len(r.Limits) == 1 {
		return "no joint slows a motion down"
	}
	said := r.limiting(nil, "travel", func(l *LimitTime) int { return l.Travels })
	said = r.limiting(said, "straight", func(l *LimitTime) int { return l.Straights })
	return strings.Join(said, "; ")
}

// limiting adds how many motions of a kind each joint limits, if any does.
func (r *Report) limiting(said []string, kind string, of func(*LimitTime) int) []string {
	all, text := 0, ""
	for i := range r.Limits {
		all += of(&r.Limits[i])
	}
	for i := range r.Limits {
		l := &r.Limits[i]
		switch n := of(l); {
		case n == 0 || l.Joint == "":
		case text == "":
			text = fmt.Sprintf("%s limits %d of %s", l.Joint, n, wording.Count(all, kind))
		default:
			text += fmt.Sprintf(", %s %d", l.Joint, n)
		}
	}
	if text == "" {
		return said
	}
	return append(said, text)
}
