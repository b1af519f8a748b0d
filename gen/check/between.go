package check

import (
	"cmp"
	"math"
	"slices"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// Blocked is the travels between two places, there and back, of which one is not free, and poses that make both halves of it free. Where
// the arm hits something at one of these places already, they are poses that may take its place.
type Blocked struct {
	From, To move.Target     // of the first one
	Hits     move.Target     // the place where it hits something already; zero for none
	Findings []*diag.Finding // in which such travels stand
	Between  []Between       // the shortest detour first; none where none was found
	Tried    int             // so many poses

	searches, asked int
}

// Between is a pose of the TCP in the base, in round figures, at which the arm can stand between two others.
type Between struct {
	At     move.Point
	Joints arm.Readings
}

// endOf is where a travel begins or ends, as far as poses on the way depend on it: all slots of a grid are one.
func endOf(t move.Target) move.Target { return move.Target{Pose: t.Pose, Grid: t.Grid} }

// Joins says whether it is the travels between two places, or those to and from one of them at which something is hit already.
func (b *Blocked) Joins(from, to move.Target) bool {
	one, other := endOf(b.From), endOf(b.To)
	from, to = endOf(from), endOf(to)
	if hits := endOf(b.Hits); !hits.IsZero() {
		return from == hits || to == hits
	}
	return one == from && other == to || one == to && other == from
}

// How many blocked ways are kept, searches made in all and for each way, and how often what was found is held to another travel.
const (
	mostBlocked  = 100
	mostSearches = 4
	searchesEach = 2
	mostAsked    = 40
)

// between looks for poses that free a travel on which something was hit, and holds those that were found for one to others between the same
// places. What that costs does not count as looks of the check.
func (c *Context) between(l *look, m *move.Move, found *diag.Finding) {
	b := c.blockedBetween(l.w.last, m.Target, found != nil)
	if b == nil {
		return
	}
	if found != nil && !slices.Contains(b.Findings, found) {
		b.Findings = append(b.Findings, found)
	}
	may := b.searches < searchesEach && c.searches < mostSearches
	if !c.seeks || b.asked > mostAsked && (len(b.Between) > 0 || !may) {
		return
	}
	counted := *c.effort
	*c.effort = effort{most: math.MaxInt} // else nothing would be looked at any more where the check has few left
	defer func() { *c.effort = counted }()
	s := seeker{look: l, m: m, from: l.s.From.Joints, to: l.s.To.Joints}
	s.leaveRoom()
	switch {
	case !b.Hits.IsZero() && endOf(b.Hits) == endOf(l.w.last): // it is that place that has to move, though nothing may be hit at it now
		s.hits = s.from
	case !b.Hits.IsZero():
		s.hits = s.to
	case s.hits != nil:
		b.Hits, b.Between = s.hitsAt(l.w.last), nil
	}
	if b.asked++; b.asked <= mostAsked {
		b.Between = slices.DeleteFunc(b.Between, func(p Between) bool {
			q, ok := s.stands(p.At)
			return !ok || !s.frees(&q)
		})
	}
	if len(b.Between) == 0 && may {
		b.searches++
		c.searches++
		s.seek(b)
	}
}

// blockedBetween is what is known of the travels between two places, from the first one on that is not free; nil for nothing.
func (c *Context) blockedBetween(from, to move.Target, begin bool) *Blocked {
	for _, b := range c.blocked {
		if b.Joins(from, to) {
			return b
		}
	}
	if !begin || len(c.blocked) >= mostBlocked || from.IsZero() {
		return nil
	}
	b := &Blocked{From: from, To: to}
	c.blocked = append(c.blocked, b)
	return b
}

// seeker looks for poses between the ends of one travel.
type seeker struct {
	*look
	m        *move.Move
	from, to *arm.Readings
	hits     *arm.Readings // the one of the two at which something is hit already; nil for neither
	room     float64       // mm that are left to what stands
}

// roomy is how much room a pose between leaves, and the ways to it, mm, if the ends of the travel leave as much (common practice, no source).
const roomy = 5

func (s *seeker) leaveRoom() {
	s.room = roomy
	if s.free(s.from) && s.free(s.to) {
		return
	}
	s.room = 0
	for _, end := range []*arm.Readings{s.from, s.to} {
		if !s.free(end) {
			s.hits = end
		}
	}
}

// hitsAt is the end of the travel at which something is hit.
func (s *seeker) hitsAt(from move.Target) move.Target {
	if s.hits == s.from {
		return from
	}
	return s.m.Target
}

// anew is a look at nothing yet.
func (s *seeker) anew() *look { return &look{w: s.w, s: s.s, travels: s.travels, air: s.room} }

func (s *seeker) free(at *arm.Readings) bool {
	l := s.anew()
	l.q = *at
	l.certain()
	return l.hit == nil
}

// frees says whether both halves of the travel are free if it leads by some readings.
func (s *seeker) frees(by *arm.Readings) bool {
	if !s.free(by) {
		return false
	}
	for _, half := range [][2]*arm.Readings{{s.from, by}, {by, s.to}} {
		l := s.anew()
		if half[0] == s.hits || half[1] == s.hits {
			continue
		}
		if l.halves(half[0], half[1], 0, 1); l.hit != nil {
			return false
		}
	}
	return true
}

// stands is how the arm stands at a pose, with room to the ends of all ranges.
func (s *seeker) stands(at move.Point) (arm.Readings, bool) {
	q, ok := s.w.asker.Nearest(at, s.m.ToolNumber, s.from, s.m.Configuration)
	return q, ok && !s.w.a.Short(&q, NearEnd)
}

const (
	mostTried   = 800        // poses
	mostFree    = 10         // of them that are kept
	apart       = 50         // mm that these are apart
	effortASeek = 30_000_000 // looks
)

// seek tries poses about the straight line between the ends, or about the end at which something is hit, in the order of the detours that
// they mean.
func (s *seeker) seek(b *Blocked) {
	made := s.w.c.effort.made
	for _, at := range s.candidates() {
		if s.w.c.effort.made-made > effortASeek || len(b.Between) == mostFree {
			return
		}
		near := slices.ContainsFunc(b.Between, func(p Between) bool { return p.At.Dist(at.Vec) < apart })
		if near {
			continue
		}
		b.Tried++
		if q, ok := s.stands(at); ok && s.frees(&q) {
			b.Between = append(b.Between, Between{at, q})
		}
	}
}

// candidates are poses in figures of 5 mm and whole degrees, turned as at one of the ends.
func (s *seeker) candidates() []move.Point {
	begin, end := s.s.From.At, s.s.To.At
	switch s.hits {
	case s.from:
		end = begin
	case s.to:
		begin = end
	}
	turns := slices.Compact([]geom.RPY{wholeTurn(s.s.To.Turn), wholeTurn(s.s.From.Turn)})
	wide := max(250, begin.Dist(end))
	var all []move.Point
	for n := range mostTried {
		u := geom.Scattered(n + 1)
		at := begin.Add(end.Sub(begin).Scale(u[3]))
		at = at.Add(geom.Vec{X: float64(wide * (u[0] - 0.5) * 2), Y: float64(wide * (u[1] - 0.5) * 2), Z: float64(wide * (u[2] - 0.3) * 1.4)})
		all = append(all, move.Point{Vec: geom.Vec{X: toFive(at.X), Y: toFive(at.Y), Z: toFive(at.Z)}, RPY: turns[n%len(turns)]})
	}
	// A pose that is lower than both ends counts as a longer detour: mostly more stands below.
	detour := func(p *move.Point) float64 {
		return begin.Dist(p.Vec) + p.Dist(end) + float64(4*max(0, min(begin.Z, end.Z)-p.Z))
	}
	slices.SortStableFunc(all, func(a, b move.Point) int { return cmp.Compare(detour(&a), detour(&b)) })
	return all
}

func toFive(v float64) float64 { return float64(5*math.Round(v/5)) + 0 }

// wholeTurn is an orientation in whole degrees.
func wholeTurn(r geom.Rot) geom.RPY {
	a := r.RPY()
	return geom.RPY{Roll: math.Round(a.Roll) + 0, Pitch: math.Round(a.Pitch) + 0, Yaw: math.Round(a.Yaw) + 0}
}
