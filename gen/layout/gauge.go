package layout

import (
	"cmp"
	"math"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/gen/timing"
)

// Weight is by what ways between slots are told apart.
type Weight uint8

const (
	ByLength Weight = iota // mm
	ByTime                 // ms, from stop to stop
)

// More is what an order is that weighs less, and Most what one is that weighs least.
func (w Weight) More() string { return [...]string{"shorter", "quicker"}[w] }
func (w Weight) Most() string { return [...]string{"shortest", "quickest"}[w] }

// gauge weighs the ways of an entry, in whole thousandths of a mm or of a ms, so that sums are exact and orders can be
// compared. A way weighs the same in both directions: where the arm is slower with a part in the gripper, and goes there
// with one and back without, it is the mean of both.
type gauge struct {
	by    Weight
	tool  *Tool // of the entry, which has one
	clock timing.Machine
	arm   *Arm // nil where ways are weighed by length, or the cell does not say what the arm is
	// near and holds are how the arm stands over the first slot of the entry's first grid: elsewhere it stands as much like
	// that as it can, whatever comes after what.
	near  arm.Readings
	holds arm.Configuration
	found []arm.Solution
}

// paces are the speeds on a way, there and back, mm/s.
type paces struct{ there, back float64 }

func (l *Layout) gauge(e *Entry, by Weight) *gauge {
	grid := e.Stops[0].Grid
	figures := l.Figures(e, grid)
	g := &gauge{by: by, tool: figures.Tool}
	if by == ByLength {
		return g
	}
	if g.clock = l.Clock(); l.Arm == nil {
		return g
	}
	g.arm, g.holds = l.Arm, l.Arm.Prefer
	if !figures.ConfigurationPlace.IsZero() {
		g.holds = figures.Configuration
	}
	for i, j := range g.arm.Joints {
		g.near[i] = min(max(0, j.Lo), j.Hi)
	}
	_, first := figures.Above(grid, slot.Slot{})
	if r := g.reads(&first); r != nil {
		g.near = *r
		g.holds, _ = g.arm.Configuration(*r)
	}
	return g
}

// reads is the readings with the TCP somewhere; nil where the arm cannot take it there, which is found elsewhere.
func (g *gauge) reads(at *move.Point) (best *arm.Readings) {
	flange, _ := g.arm.Nearest(geom.At(at.Vec, at.RPY).Mul(g.tool.TCP.Inverse()), g.tool.TCP.T, g.near)
	g.found = g.arm.Solve(flange, g.near, g.found[:0])
	least := math.Inf(1)
	for i := range g.found {
		r, ok := g.arm.InRange(g.found[i].Readings, g.near)
		if !ok {
			continue
		}
		far := 0.0
		for k := range g.arm.Joints {
			far += math.Abs(r[k] - g.near[k])
		}
		if holds, _ := g.arm.Configuration(r); holds != g.holds {
			far += 1e6 // the least of its kind is better than any other
		}
		if far < least {
			best, least = &r, far
		}
	}
	return best
}

// perTime is how many lengths one time of an arm costs as much as.
const perTime = 100

// work is what it costs to weigh all ways of a round, as package route counts it.
func (g *gauge) work(r *round) int {
	n := r.parts * len(r.stops)
	if g.arm == nil {
		return 0
	}
	return perTime * n * n / 2
}

// stand is how the arm stands with the TCP somewhere.
func (g *gauge) stand(at *move.Point) timing.Stand {
	s := timing.Stand{TCP: *at}
	if g.arm != nil {
		s.Reads = g.reads(at)
	}
	return s
}

// over is how the arm stands at poses on the way.
func (g *gauge) over(poses []*NamedPose) (stands []timing.Stand) {
	for _, p := range poses {
		s := timing.Stand{TCP: *p.Base(g.tool), Reads: p.Joints}
		if s.Reads == nil {
			s = g.stand(&s.TCP)
		}
		stands = append(stands, s)
	}
	return stands
}

// way is what a way over some poses weighs.
func (g *gauge) way(from *timing.Stand, over []timing.Stand, to *timing.Stand, v paces) int64 {
	sum := int64(0)
	for i := range over {
		sum += g.apart(from, &over[i], v)
		from = &over[i]
	}
	return sum + g.apart(from, to, v)
}

// apart is what a way between two poses weighs.
func (g *gauge) apart(a, b *timing.Stand, v paces) int64 {
	if g.by == ByLength {
		return int64(math.Round(a.TCP.Dist(b.TCP.Vec) * 1000))
	}
	if before(&b.TCP, &a.TCP) { // so that there and back weigh the same to the last bit
		a, b = b, a
	}
	to := *b
	if a.Reads != nil && b.Reads != nil {
		to.Reads = g.toward(a.Reads, b.Reads)
	}
	seconds := g.clock.Travel(a, &to, v.there)
	if v.back != v.there {
		seconds = (seconds + g.clock.Travel(a, &to, v.back)) / 2
	}
	return int64(math.Round(seconds * 1e6))
}

// before is some order of places.
func before(a, b *move.Point) bool {
	return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y), cmp.Compare(a.Z, b.Z)) < 0
}

// toward is readings on the turns by which each joint goes the least way to them, from whichever turn it is on.
func (g *gauge) toward(from, to *arm.Readings) *arm.Readings {
	r := *from
	for i := range g.arm.Joints {
		r[i] += g.arm.Joints[i].Way(from[i], to[i])
	}
	return &r
}

// Clock is what limits how fast the machine moves, as far as the cell says it.
func (l *Layout) Clock() timing.Machine {
	m := &l.Cell.Machine
	clock := timing.Machine{
		Acceleration: m.Acceleration.V, Jerk: m.Jerk.V,
		TurnSpeed: m.Rotation.Speed.V, TurnAcceleration: m.Rotation.Acceleration.V,
	}
	if a := l.Arm; a != nil {
		clock.Joints = &timing.Joints{Arm: a.Arm, Speeds: a.Speeds, Accelerations: a.Accelerations, Lead: true}
	}
	return clock
}
