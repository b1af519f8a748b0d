package joints

import (
	"cmp"
	"math"
	"slices"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/margin"
	"gridferry/gen/slot"
)

// Stand is one way in which the arm stands at a pose, inside its ranges or not.
type Stand struct {
	Readings      arm.Readings
	Configuration arm.Configuration
	Free          uint8 // joints, from bit 0, that may be turned against each other while the flange stays
	// Joint is the one that is nearest to an end of its range, or furthest outside, and Margin how far: degrees
	// or mm, negative outside.
	Joint  int
	Margin float64
}

// standsWith is every way in which the arm stands with a TCP at a pose, each joint on the turn that is nearest to the middle
// of its range; the one with most margin first, of equals in the order of the solutions. Where the arm can only turn it off
// degrees off, and that is more than MostTilt, it does not stand there.
func standsWith(a *arm.Arm, at, tcp geom.Pose) (stands []Stand, off float64) {
	flange, off := flangeFor(a, at, tcp, arm.Readings{})
	if off > MostTilt {
		return nil, off
	}
	for _, s := range a.Solve(flange, arm.Readings{}, nil) {
		stands = append(stands, standing(a, s))
	}
	slices.SortStableFunc(stands, func(a, b Stand) int { return cmp.Compare(b.Margin, a.Margin) })
	return stands, off
}

func standing(a *arm.Arm, s arm.Solution) Stand {
	stand := Stand{Readings: s.Readings, Free: s.Free, Margin: math.Inf(1)}
	for i := range a.Joints {
		j := &a.Joints[i]
		if r, ok := j.Nearest(s.Readings[i], (j.Lo+j.Hi)/2); ok {
			stand.Readings[i] = r
		}
		if margin := j.Margin(stand.Readings[i]); margin < stand.Margin {
			stand.Joint, stand.Margin = i, margin
		}
	}
	stand.Configuration, _ = a.Configuration(stand.Readings)
	return stand
}

// Reach is how the arm reaches the slots of a grid, and by which figures.
type Reach struct {
	Slots []At
	By    *layout.Figures
	*margin.Meter
}

// At is how the arm reaches one slot of a grid: with its tool at the slot itself, and at its approach point.
type At struct {
	Slot  slot.Slot
	Label string
	// Best is the configuration, inside all ranges at both ends of the straight between them, with most margin.
	Best           arm.Configuration
	Reached        bool
	Margins        margin.Margins
	Least          margin.Margin
	Configurations []arm.Configuration // all in which it is reached
}

// reach is how the arm reaches the slots of a grid as a plan does that works there by some figures.
func reach(l *layout.Layout, g *layout.Grid, f *layout.Figures) *Reach {
	all := &Reach{By: f, Meter: margin.NewMeter(l)}
	if begin := atStart(l, f.Tool); begin != nil {
		all.Begin(begin)
	}
	for i := range g.Size() {
		s := g.Slot(i)
		if !g.Has(s) {
			continue
		}
		at := At{Slot: s, Label: g.Label(s)}
		_, below := g.Points(s)
		_, above := f.Above(g, s)
		down, _ := standsWith(l.Arm.Arm, geom.At(below.Vec, below.RPY), f.Tool.TCP)
		up, _ := standsWith(l.Arm.Arm, geom.At(above.Vec, above.RPY), f.Tool.TCP)
		all.fill(&at, l.Arm.Arm, down, up)
		all.Slots = append(all.Slots, at)
	}
	return all
}

// atStart is how the arm stands at the start pose; nil where there is none that it gets to.
func atStart(l *layout.Layout, tool *layout.Tool) *arm.Readings {
	p := l.Figures(nil, nil).Start
	switch {
	case p == nil:
		return nil
	case p.Joints != nil:
		return p.Joints
	}
	at := p.Base(tool)
	stands, _ := standsWith(l.Arm.Arm, geom.At(at.Vec, at.RPY), tool.TCP)
	if len(stands) == 0 || stands[0].Margin < 0 {
		return nil
	}
	return &stands[0].Readings
}

// fill finds the configurations that serve at both ends.
func (all *Reach) fill(at *At, a *arm.Arm, down, up []Stand) {
	for _, d := range down {
		for _, u := range up {
			if d.Margin < 0 || u.Margin < 0 || d.Configuration != u.Configuration || long(a, &d.Readings, &u.Readings) {
				continue
			}
			if !slices.Contains(at.Configurations, d.Configuration) {
				at.Configurations = append(at.Configurations, d.Configuration)
			}
			margins, above := all.Of(&d.Readings, all.By.Tool), all.Of(&u.Readings, all.By.Tool)
			all.Worst(&margins, &above)
			if least := all.Least(&margins); !at.Reached || all.Less(at.Least, least) {
				at.Best, at.Reached, at.Margins, at.Least = d.Configuration, true, margins, least
			}
		}
	}
}

// long says whether a joint has to go the long way round from one place to the other, because its range ends on the short one.
func long(a *arm.Arm, from, to *arm.Readings) bool {
	for i := range a.Joints {
		if !a.Joints[i].Slides && math.Abs(a.Joints[i].Way(from[i], to[i])) > StraightMost {
			return true
		}
	}
	return false
}
