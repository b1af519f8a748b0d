package remedy

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gridferry/gen/check"
	"gridferry/gen/geom"
	"gridferry/gen/joints"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// outside is the errors for which a frame is moved: the arm does not get to a slot as it would have to.
var outside = []string{"joint-out-of-range", "arm-out-of-reach", "configuration-not-possible"}

// mostFrames is how many frames are looked at.
const mostFrames = 2

// frames proposes where to move the frames in which slots are out of range.
func (b *bench) frames() {
	type said struct {
		first  *diag.Finding
		serves bool
	}
	looked := map[*layout.Frame]said{}
	for _, f := range b.first.Findings.All() {
		frame := b.frameOf(f)
		if frame == nil || frame.Parent == nil {
			continue
		}
		if known, is := looked[frame]; is {
			f.WithHint("%s", elsewhere(known.first, known.serves))
			continue
		}
		if len(looked) == mostFrames {
			continue
		}
		hint, serves := b.frame(frame)
		if looked[frame] = (said{f, serves}); hint != "" {
			f.WithHint("%s", hint)
		}
	}
}

// frameOf is the frame of the first slot that an error says is out of range; nil for none.
func (b *bench) frameOf(f *diag.Finding) *layout.Frame {
	if !slices.Contains(outside, f.Rule) || len(f.Slots) == 0 {
		return nil
	}
	for _, g := range b.first.Layout.Grids {
		if g.Name == f.Slots[0].Grid {
			return g.Frame
		}
	}
	return nil
}

// frame is a hint for one frame, and whether it is a place that serves; "" where no more can be tried.
func (b *bench) frame(f *layout.Frame) (hint string, serves bool) {
	s := newSurvey(b.first, f)
	worse := ""
	for _, by := range s.search() {
		p, how := s.moved(b.first.Plan, by)
		t := b.tried(p)
		if t == nil {
			break
		}
		if worse = b.worse(t, true); worse == "" && !b.stillOutside(t, f) {
			return how + "; that was tried: the arm reaches every slot then with 5° to spare, and no new error comes up", true
		}
	}
	switch {
	case len(s.found) == 0 && s.left <= 0:
		return fmt.Sprintf("no place of the frame %q was found at which the arm reaches every slot with 5° to spare: %d were tried, and no more are", f.Name, s.tried), false
	case len(s.found) == 0:
		return fmt.Sprintf("no place of the frame %q was found at which the arm reaches every slot with 5° to spare, up to %.0f mm off along %s: %d were tried", f.Name, s.wide, s.freely(), s.tried), false
	case worse != "":
		_, how := s.moved(b.first.Plan, s.found[0])
		return how + "; the arm reaches every slot then with 5° to spare, but other errors come up (" + worse + ")", false
	}
	return "", false
}

// stillOutside says whether a slot of a frame is out of range, or nearly.
func (b *bench) stillOutside(t *Trial, f *layout.Frame) bool {
	for _, found := range t.Findings.All() {
		if (slices.Contains(outside, found.Rule) || found.Rule == "joint-near-end") && slices.ContainsFunc(found.Slots, func(s diag.Slot) bool {
			return slices.ContainsFunc(t.Layout.Grids, func(g *layout.Grid) bool { return g.Name == s.Grid && g.Frame.Name == f.Name })
		}) {
			return true
		}
	}
	return false
}

// shift is how a frame is moved in its parent, in whole mm, and turned about the parent's Z, in whole degrees.
type shift struct{ x, y, z, turn float64 }

// cost weighs a shift: a turn by a degree as much as 4 mm.
func (s shift) cost() float64 {
	return geom.Vec{X: s.x, Y: s.y, Z: s.z}.Norm() + float64(4*math.Abs(s.turn))
}

// survey looks for places of one frame.
type survey struct {
	frame    *layout.Frame
	measured bool // it is moved by hand, along the bench, and touched anew
	turned   bool // its turn is written as angles
	machine  *plan.Machine
	asker    joints.Asker
	spots    []spot
	groups   int
	wide     float64 // mm that it is moved at the most
	left     int     // poses that may still be worked out
	tried    int
	found    []shift
}

// spot is where a TCP goes to in the frame.
type spot struct {
	at     geom.Pose
	tool   int
	group  int // those of one group are made in one configuration
	admits uint8
}

// What is looked at: spots of a grid, and poses that are worked out; fewer where that takes long.
const (
	mostSpots  = 40
	mostWorked = 40_000
	mostHunted = 3_000
)

func newSurvey(t *Trial, f *layout.Frame) *survey {
	a := t.Layout.Arm
	s := &survey{frame: f, measured: f.Fit != nil, machine: &t.Layout.Cell.Machine, asker: joints.NewAsker(t.Layout), left: mostWorked}
	s.wide = 100 * math.Ceil(a.Length()/100)
	if a.Searches() {
		s.left = mostHunted
	}
	for _, written := range t.Plan.Cell.Frames {
		if written.Name.V == f.Name {
			s.turned = !s.measured && !written.Pose.Quaternion.IsSet()
		}
	}
	s.collect(t)
	return s
}

// collect takes in where the list leads to in the frame.
func (s *survey) collect(t *Trial) {
	type key struct {
		at    move.Point
		tool  int
		group string
	}
	seen, group, into := map[key]bool{}, map[string]int{}, s.frame.Base.Inverse()
	grids := map[string]*layout.Frame{}
	for _, g := range t.Layout.Grids {
		grids[g.Name] = g.Frame
	}
	for _, p := range t.Layout.Poses {
		if p.Joints == nil {
			grids[" "+p.Name] = p.Frame
		}
	}
	byGroup := map[int][]spot{}
	for piece := range t.Moves {
		for i := range piece {
			m := &piece[i]
			name := m.Target.Grid
			if name == "" {
				name = " " + m.Target.Pose
			}
			if k := (key{m.Base, m.ToolNumber, name}); m.Kind.IsMotion() && s.holds(grids[name]) && !seen[k] {
				if _, known := group[name]; !known {
					group[name] = len(group)
				}
				seen[k] = true
				byGroup[group[name]] = append(byGroup[group[name]], spot{into.Mul(geom.At(m.Base.Vec, m.Base.RPY)), m.ToolNumber, group[name], s.asker.Admits(m)})
			}
		}
	}
	s.groups = len(group)
	for n := range s.groups {
		s.spots = append(s.spots, outermost(byGroup[n])...)
	}
}

// holds says whether a frame is the one that is moved, or lies in it.
func (s *survey) holds(f *layout.Frame) bool {
	for ; f != nil; f = f.Parent {
		if f == s.frame {
			return true
		}
	}
	return false
}

// outermost is the spots of a group that lie outermost in many directions, and some of the others.
func outermost(all []spot) []spot {
	if len(all) <= mostSpots {
		return all
	}
	var some []spot
	in := map[int]bool{}
	take := func(i int) {
		if !in[i] {
			in[i] = true
			some = append(some, all[i])
		}
	}
	for which := range 27 {
		way := geom.Vec{X: float64(which%3 - 1), Y: float64(which/3%3 - 1), Z: float64(which/9 - 1)}
		far := 0
		for i := range all {
			if all[i].at.T.Dot(way) > all[far].at.T.Dot(way) {
				far = i
			}
		}
		take(far)
	}
	for i := 0; len(some) < mostSpots && i < mostSpots; i++ {
		take(i * len(all) / mostSpots)
	}
	return some
}

// in is where the frame is in its parent after a shift, in whole figures as far as that changes them.
func (s *survey) in(by shift) (at, rpy [3]float64) {
	angles := s.frame.In.R.RPY()
	at, rpy = [3]float64{s.frame.In.T.X, s.frame.In.T.Y, s.frame.In.T.Z}, [3]float64{angles.Roll, angles.Pitch, angles.Yaw}
	for i, d := range [3]float64{by.x, by.y, by.z} {
		switch {
		case s.measured:
			at[i] += d
		case d != 0:
			at[i] = math.Round(at[i]+d) + 0
		}
	}
	for i := range rpy {
		rpy[i] = math.Round(rpy[i]*1e6)/1e6 + 0
	}
	if by.turn != 0 {
		rpy[2] = math.Remainder(math.Round(rpy[2]+by.turn), 360) + 0
	}
	return at, rpy
}

// moved is the plan with the frame shifted, and how to say that.
func (s *survey) moved(p *plan.Plan, by shift) (*plan.Plan, string) {
	at, rpy := s.in(by)
	way := figures(at[0]-s.frame.In.T.X, at[1]-s.frame.In.T.Y, at[2]-s.frame.In.T.Z)
	switch {
	case s.measured:
		return p.WithFrameMoved(s.frame.Name, [3]float64{by.x, by.y, by.z}),
			fmt.Sprintf("move what stands in the frame %q by %s mm along X and Y of %q, and touch the frame there anew", s.frame.Name, figures(by.x, by.y), s.frame.Parent.Name)
	case by.turn == 0:
		return p.WithFrameAt(s.frame.Name, at, rpy), fmt.Sprintf("move the frame %q by %s mm, to at: %s", s.frame.Name, way, figures(at[:]...))
	}
	return p.WithFrameAt(s.frame.Name, at, rpy), fmt.Sprintf("move the frame %q by %s mm and turn it by %g° about Z, to at: %s, rpy: %s", s.frame.Name, way, by.turn, figures(at[:]...), figures(rpy[:]...))
}

// freely says in which ways the frame was moved.
func (s *survey) freely() string {
	switch {
	case s.measured:
		return "X and Y"
	case s.turned:
		return "each axis, turned about Z or not"
	}
	return "each axis, not turned"
}

// serves says whether the arm gets to every spot, all of a group in one configuration, if the frame is shifted so. The spot at
// which it does not is looked at first the next time.
func (s *survey) serves(by shift) bool {
	s.tried++
	at, rpy := s.in(by)
	in := geom.Pose{T: geom.Vec{X: at[0], Y: at[1], Z: at[2]}, R: s.frame.In.R}
	if by.turn != 0 {
		in.R = geom.RPY{Roll: rpy[0], Pitch: rpy[1], Yaw: rpy[2]}.Rot()
	}
	base := s.frame.Parent.Base.Mul(in)
	serve := slices.Repeat([]uint8{0xff}, s.groups)
	for i := range s.spots {
		p := &s.spots[i]
		pose := base.Mul(p.at)
		if s.left--; s.within(pose.T) {
			serve[p.group] &= p.admits & s.asker.Serve(pose, p.tool, check.NearEnd)
		} else {
			serve[p.group] = 0
		}
		if serve[p.group] == 0 {
			s.spots[0], s.spots[i] = s.spots[i], s.spots[0]
			return false
		}
	}
	return true
}

// within says whether a place is in reach, as far as the cell gives one.
func (s *survey) within(at geom.Vec) bool {
	in := func(limit plan.Pair, v float64) bool { return !limit.IsSet() || limit.V[0] <= v && v <= limit.V[1] }
	return in(s.machine.Radius, math.Hypot(at.X, at.Y)) && in(s.machine.Height, at.Z)
}

// search finds shifts that serve, the least first: places scattered about the frame's own, those near to it first, and from the first few
// that serve step by step back.
func (s *survey) search() []shift {
	const starts = 5
	most := 0.0
	for _, by := range s.scattered() {
		if s.left <= 0 || len(s.found) >= 2*starts {
			break
		}
		if by.cost() < 1.2*most || !s.serves(by) {
			continue
		}
		most = by.cost()
		s.found = append(s.found, s.back(by), by)
	}
	slices.SortStableFunc(s.found, func(a, b shift) int { return cmp.Compare(a.cost(), b.cost()) })
	s.found = slices.Compact(s.found)
	return s.found
}

// scattered is shifts to try, the least first: half of them along X and Y alone.
func (s *survey) scattered() (all []shift) {
	const places = 4000
	spread := func(share, wide float64) float64 { return math.Round(float64(2*wide*share) - wide) }
	for n := range places {
		u := geom.Scattered(n + 1)
		by := shift{x: spread(u[0], s.wide), y: spread(u[1], s.wide)}
		if n%4 > 1 && s.turned {
			by.turn = spread(u[2], 180)
		}
		if n%4 > 2 && !s.measured {
			by.z = spread(u[3], s.wide)
		}
		all = append(all, by)
	}
	slices.SortStableFunc(all, func(a, b shift) int { return cmp.Compare(a.cost(), b.cost()) })
	return all
}

// back makes a shift that serves smaller as long as it still serves, by ever finer steps.
func (s *survey) back(by shift) shift {
	for step := 64.0; step >= 1; {
		smaller := false
		for _, next := range steps(by, step, s.turned, !s.measured) {
			if next.cost() < by.cost() && s.left > 0 && s.serves(next) {
				by, smaller = next, true
				break
			}
		}
		if !smaller {
			step /= 2
		}
	}
	return by
}

// steps is shifts beside one.
func steps(by shift, step float64, turns, lifts bool) []shift {
	toZero := func(v float64) float64 { return v - math.Copysign(min(step, math.Abs(v)), v) }
	all := []shift{{toZero(by.x), toZero(by.y), toZero(by.z), toZero(by.turn)}, {toZero(by.x), toZero(by.y), by.z, by.turn}}
	for _, d := range []float64{step, -step} {
		all = append(all, shift{by.x + d, by.y, by.z, by.turn}, shift{by.x, by.y + d, by.z, by.turn},
			shift{by.x + d, toZero(by.y), by.z, by.turn}, shift{toZero(by.x), by.y + d, by.z, by.turn})
		if lifts {
			all = append(all, shift{by.x, by.y, by.z + d, by.turn}, shift{by.x, by.y, by.z + d, toZero(by.turn)})
		}
		if turns {
			all = append(all, shift{by.x, by.y, by.z, by.turn + d}, shift{toZero(by.x), toZero(by.y), by.z, by.turn + d})
		}
	}
	return all
}
