// Package joints chooses the readings of the arm's joints for every motion of a list: one configuration
// for the whole job if any serves, else one as long as possible, and the turns of each joint by which the
// arm winds up least. It is pure, and sees the list several times.
package joints

import (
	"sync"
	"sync/atomic"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// Choice is what was chosen for one list.
type Choice struct {
	b    *bench
	runs []run                 // in the order of the list
	wind [arm.MaxJoints][]turn // by joint, in the order of the list

	// solved is what passes over the list have found of poses that are settled, by taken, for those that come after
	// or go beside them; at most mostSpots.
	solved sync.Map
	count  atomic.Int32
}

// Choose looks at a list of a layout that has an arm.
func Choose(l *layout.Layout, moves move.Batches) *Choice {
	c := &Choice{b: newBench(l)}
	if c.runs = c.wholly(moves); c.runs == nil {
		c.runs = chosen(c.b, c.spans(moves))
	}
	c.wind = c.leastWinding(moves)
	return c
}

// Fill gives every motion of the same list its readings and its configuration. A motion whose pose the arm
// cannot take as it would have to gets none.
func (c *Choice) Fill(moves move.Batches) move.Batches {
	return func(yield func([]move.Move) bool) {
		w := c.walk()
		for piece := range moves {
			for i := range piece {
				if m := &piece[i]; m.Kind.IsMotion() {
					w.fill(m)
				}
			}
			if !yield(piece) {
				return
			}
		}
	}
}

// bench is the arm and its tools. It is only read, by several passes at once.
type bench struct {
	arm    *arm.Arm
	layout *layout.Layout
	poses  map[string]*arm.Readings // of the cell, as far as it gives them by joints

	// settled says that the configuration alone decides which solution is meant, wherever
	// the joints were before.
	settled bool
}

// spot is where the flange is to go: the pose of a TCP.
type spot struct {
	at   move.Point
	tool int
}

// mostSpots is how many poses are remembered: whoever goes to more pays for each anew.
const mostSpots = 1 << 17

func newBench(l *layout.Layout) *bench {
	b := &bench{arm: l.Arm.Arm, layout: l, poses: map[string]*arm.Readings{}}
	b.settled = len(b.arm.Configurations()) > 0 && !b.arm.Rail()
	for _, p := range l.Poses {
		if p.Joints != nil {
			b.poses[p.Name] = p.Joints
		}
	}
	return b
}

// flange is the pose of the flange at the end of a motion.
func (b *bench) flange(s *spot, near arm.Readings) (flange geom.Pose, off float64) {
	return flangeFor(b.arm, geom.At(s.at.Vec, s.at.RPY), b.layout.Tools[s.tool-1].TCP, near)
}

// flangeFor is the pose of the flange for that of a TCP on it, both in the base. An arm that cannot turn everywhere takes
// the nearest orientation that it can, with the TCP in its place: off degrees off.
func flangeFor(a *arm.Arm, at, tcp geom.Pose, near arm.Readings) (flange geom.Pose, off float64) {
	return a.Nearest(at.Mul(tcp.Inverse()), tcp.T, near)
}

// MostTilt is how far, in degrees, a pose may be turned off what the arm can turn to: a frame that was measured is
// never quite level, and an arm with four axes cannot follow that. Common practice, no source.
const MostTilt = 0.2

// solve is every way in which the arm ends a motion, whatever the ranges; or, of an arm that can be asked so, in the configuration that
// the cell prefers only.
func (b *bench) solve(s *spot, near arm.Readings, preferred bool, out []arm.Solution) []arm.Solution {
	flange, off := b.flange(s, near)
	if off > MostTilt {
		return out
	}
	if preferred {
		return b.arm.SolveIn(b.layout.Arm.Prefer.Index(), flange, near, out)
	}
	return b.arm.Solve(flange, near, out)
}

func spotOf(m *move.Move) spot { return spot{m.Base, m.ToolNumber} }

// asJoints is the readings by which the cell gives the pose that a motion goes to; nil for none.
func (b *bench) asJoints(m *move.Move) *arm.Readings {
	return b.poses[m.Target.Pose]
}
