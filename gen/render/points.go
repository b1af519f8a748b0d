package render

import (
	"strconv"

	"gridferry/gen/arm"
	"gridferry/gen/family/blocks"
	"gridferry/gen/move"
)

// points is every pose that some move goes to, once, with a name of its own. They are
// found in a pass over the list before its moves are written, and then only read, by
// all workers: there are at most two for each slot, and the poses of the cell.
type points struct {
	family *blocks.Blocks
	arm    bool                // some block asks how the arm stands
	first  map[move.Target]int // of the points of a target
	all    []point
}

// point is one of them. A target can be gone to at different coordinates, as where two
// entries of the plan come down from different heights, or with a whole turn more.
type point struct {
	target  move.Target
	at      move.Point
	turn    float64 // what the orientation leaves open, as of a motion
	negated bool
	frame   int
	joints  *arm.Readings // as of a motion; nil where no block asks for them
	holds   arm.Configuration
	name    string
	next    int // point of the same target; 0 for none
}

// posture is the readings of a motion's joints, as far as points depend on them.
func (p *points) posture(m *move.Move) (*arm.Readings, arm.Configuration) {
	if !p.arm {
		return nil, 0
	}
	return m.Joints, m.Configuration
}

// sameJoints reports whether two readings are the same; those of one pose mostly stand in one place.
func sameJoints(a, b *arm.Readings) bool { return a == b || a != nil && b != nil && *a == *b }

// usesPoints reports whether some block asks for points.
func usesPoints(f *blocks.Blocks) bool {
	return f.Mentions("Points", "Point", "PointNumber")
}

func pointsOf(v *viewer, job move.Job, moves move.Batches) *points {
	p := &points{family: v.family, arm: v.family.UsesArm(), first: map[move.Target]int{}}
	var labels []string
	winding := p.family.NewWinding(job.Turns)
	for piece := range moves {
		for i := range piece {
			if m := &piece[i]; m.Kind.IsMotion() {
				winding.Follow(m)
				labels = p.see(m, labels)
			}
		}
	}
	taken := []string{v.family.Names.Make(titleOf(job))}
	for _, known := range [][]named{v.frames, v.tools} {
		for _, k := range known {
			taken = append(taken, k.name)
		}
	}
	for i, name := range v.family.Names.Table(labels, taken...) {
		p.all[i].name = name
	}
	return p
}

// see adds the point of a motion if it is a new one, and its label to the others.
func (p *points) see(m *move.Move, labels []string) []string {
	if p.find(m) > 0 {
		return labels
	}
	last, count := 0, 1
	for k := p.first[m.Target]; k > 0; k = p.all[k-1].next {
		last, count = k, count+1
	}
	joints, holds := p.posture(m)
	p.all = append(p.all, point{joints: joints, holds: holds, target: m.Target, at: *p.family.Coordinates(m), turn: m.Turn, negated: m.Negated, frame: p.frame(m)})
	label := m.Target.String()
	if last == 0 {
		p.first[m.Target] = len(p.all)
	} else {
		p.all[last-1].next = len(p.all)
		label += " " + strconv.Itoa(count)
	}
	return append(labels, label)
}

// frame is the frame that a point is written in; 0 where every one is in the base.
func (p *points) frame(m *move.Move) int {
	if p.family.BaseCoordinates {
		return 0
	}
	return m.FrameNumber
}

// find is the number of a motion's point, from 1; 0 for none.
func (p *points) find(m *move.Move) int {
	at, frame := p.family.Coordinates(m), p.frame(m)
	joints, _ := p.posture(m)
	for k := p.first[m.Target]; k > 0; k = p.all[k-1].next {
		if q := &p.all[k-1]; sameJoints(q.joints, joints) && q.at == *at && q.frame == frame && q.turn == m.Turn && q.negated == m.Negated {
			return k
		}
	}
	return 0
}

// of is the name and the number of a motion's point.
func (p *points) of(m *move.Move) (string, int) {
	if p == nil {
		return "", 0
	}
	if k := p.find(m); k > 0 {
		return p.all[k-1].name, k
	}
	return "", 0
}

// pointTable is the list of points as the head gets it.
func (v *viewer) pointTable() []blocks.Point {
	if v.points == nil || !v.family.Mentions("Points") {
		return nil
	}
	table := make([]blocks.Point, len(v.points.all))
	for i := range v.points.all {
		p, row := &v.points.all[i], &table[i]
		row.Number, row.Name, row.Label, row.Above = i+1, p.name, blocks.NewText(p.target.String()), p.target.Approach
		row.FramePlace = max(p.frame, 1) // the base is the first
		frame := numbered(v.frames, row.FramePlace, "")
		row.Frame, row.FrameNumber = frame.name, frame.known
		row.X, row.Y, row.Z = v.figures.vector(p.at.Vec)
		row.Turn, row.Rotation = v.turned(p.at.RPY, p.turn, p.negated)
		v.posture.fill(&row.Posture, &v.figures, p.joints, p.holds)
	}
	return table
}
