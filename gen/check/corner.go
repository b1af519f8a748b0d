package check

import (
	"math"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/move"
)

// corner is a point that is passed without a stop, as it is known before the way behind it is. The arm leaves the way to
// the point where its TCP is the fly-by radius away from that, and is on the next one the radius behind it. Between
// these two places its readings are taken to be means of three: those at both places, and those at the point. That holds where all joints
// go over from one way to the other by one law, such as the parabolas of J. Craig, Introduction to Robotics, chapter on
// trajectories (from memory).
type corner struct {
	passed move.Move     // the motion to it, as far as a finding asks for it
	at     *arm.Readings // nil where there is no corner
	before arc           // on the way to it
}

// arc is a part of a way: from its end at a corner on, to where the TCP is a radius away from there.
type arc struct {
	corner, end Station
	between     move.Path
	tool        int
	radius      float64
}

func (s *Scene) arc(m *move.Move, corner, end *Station, radius float64) arc {
	return arc{*corner, *end, s.between, m.ToolNumber, radius}
}

// comesTo keeps the corner at the end of a motion, where that has one.
func (w *armWatcher) comesTo(m *move.Move, s *Scene) {
	c := &w.corner
	if c.at = nil; m.FlyBy <= 0 || s.between == move.AxesPath || w.c.said("fly-by-too-long") {
		return
	}
	p := &c.passed // not all of the move, which is large
	p.Transfer, p.Figures, p.FlyBy, p.Target, p.Place, p.ToolNumber = m.Transfer, m.Figures, m.FlyBy, m.Target, m.Place, m.ToolNumber
	c.at, c.before = s.To.Joints, s.arc(m, &s.To, &s.From, m.FlyBy)
}

// pass looks at all that the arm may meet in a corner, where the way behind it is seen.
func (w *armWatcher) pass(c *corner, m *move.Move, s *Scene) {
	l, end := look{w: w, s: s}, s.arc(m, &s.From, &s.To, c.passed.FlyBy)
	if first, ok := w.nearly(&c.before); ok {
		last, ok := w.nearly(&end)
		if p := w.space(s, allLimbs); ok && p.corner(&first, c.at, &last, 0) {
			return
		}
	}
	before, after := w.away(&c.before), w.away(&end)
	if l.travels = true; l.among(&before, c.at, &after) && l.hit == nil {
		return
	}
	l.hit, l.open = nil, nil
	// What is carried and in something where a way leads is no matter of the corner.
	l.travels = !l.begins(&before) && !l.begins(c.at) && !l.begins(&after)
	l.triangle(&before, c.at, &after)
	if h := l.hit; h != nil {
		w.found[c.passed.Target.Below()] = true
		free := l.free(c, before, after)
		l.hit = h
		l.cuts(c, free)
	}
}

// triangle looks at all means of three readings, and halves them by the longest side where that is not certain.
func (l *look) triangle(a, b, c *arm.Readings) {
	l.within(func() bool { return l.among(a, b, c) }, func() { l.parts(a, b, c) })
}

// parts looks at the halves of a triangle.
func (l *look) parts(a, b, c *arm.Readings) {
	a, b, c = longestFirst(a, b, c, l.side)
	middle := mean(a, b, 0.5)
	if l.triangle(a, &middle, c); l.hit == nil {
		l.triangle(&middle, b, c)
	}
}

// longestFirst is three readings in such a turn that the longest side is between the first two.
func longestFirst(a, b, c *arm.Readings, side func(from, to *arm.Readings) float64) (_, _, _ *arm.Readings) {
	switch ab, bc, ca := side(a, b), side(b, c), side(c, a); {
	case bc >= ab && bc >= ca:
		return b, c, a
	case ca >= ab:
		return c, a, b
	}
	return a, b, c
}

// among is certain for all means of three readings.
func (l *look) among(a, b, c *arm.Readings) bool {
	var lo, hi, middle arm.Readings
	for i := range l.w.a.Joints {
		lo[i], hi[i] = min(a[i], b[i], c[i]), max(a[i], b[i], c[i])
		middle[i] = (a[i] + b[i] + c[i]) / 3
	}
	return l.about(&middle, &lo, &hi)
}

// side bounds how far the outermost limb goes between two readings.
func (l *look) side(a, b *arm.Readings) float64 {
	var off arm.Readings
	for i := range l.w.a.Joints {
		off[i] = l.w.inner(i, math.Abs(b[i]-a[i]))
	}
	return l.w.limbs[len(l.w.limbs)-1].moved(l.w.a, &off, 0)
}

// mean is the readings a share of the way from some to others.
func mean(from, to *arm.Readings, share float64) (r arm.Readings) {
	for i := range r {
		r[i] = from[i] + float64((to[i]-from[i])*share)
	}
	return r
}

// away is the readings at the end of an arc, to a part in a thousand of its radius; those at the other end of the way where that is no
// farther.
func (w *armWatcher) away(a *arc) arm.Readings {
	corner, end, radius := &a.corner, &a.end, a.radius
	if a.between == move.LinePath {
		return w.awayOnLine(a)
	}
	long := corner.At.Dist(end.At)
	if long <= radius {
		return *end.Joints
	}
	// The way bulges, so that its shares are not those of the line between its ends.
	const rounds, near = 20, 1e-3
	point := w.tcp(a.tool, corner.Joints)
	in, out, share := 0.0, 1.0, radius/long
	for range rounds {
		at := mean(corner.Joints, end.Joints, share)
		far := point.Dist(w.tcp(a.tool, &at))
		switch {
		case far < radius:
			in = share
		case far <= radius*(1+2*near):
			return at
		default:
			out = share
		}
		share *= radius * (1 + near) / far
		if !(share > in && share < out) {
			share = (in + out) / 2
		}
	}
	return mean(corner.Joints, end.Joints, out)
}

func (w *armWatcher) awayOnLine(a *arc) arm.Readings {
	at, _ := a.follow(w.c.follower(a.tool).Follow, w)
	return at
}

// nearly is the same but for rounding; false where the arm does not get there. It is remembered: mostly the arm goes there and back.
func (w *armWatcher) nearly(a *arc) (arm.Readings, bool) {
	which := arcEnd{way{a.corner.Joints, a.end.Joints}, a.between, a.tool, a.radius}
	if at := w.arcs[which]; at != nil {
		return *at, true
	}
	var at arm.Readings
	came := 1.0
	if a.between == move.LinePath {
		at, came = a.follow(w.c.follower(a.tool).Stride, w)
	} else {
		at = w.away(a)
	}
	if len(w.arcs) >= mostLines {
		clear(w.arcs)
	}
	if came == 1 {
		w.arcs[which] = &at
	}
	return at, came == 1
}

// arcEnd is what the end of an arc depends on.
type arcEnd struct {
	way
	between move.Path
	tool    int
	radius  float64
}

// follow goes along an arc that is a line.
func (a *arc) follow(along func(*arm.Line, arm.Readings, arm.Readings, func(*arm.Stretch) bool) (arm.Readings, float64), w *armWatcher) (arm.Readings, float64) {
	corner, end := &a.corner, &a.end
	line := arm.LineTo(geom.Pose{R: corner.Turn, T: corner.At}, geom.Pose{R: end.Turn, T: end.At})
	if long := line.Way.Norm(); long > a.radius {
		line.Way, line.Turn = line.Way.Scale(a.radius/long), line.Turn.Scale(a.radius/long)
	}
	return along(&line, *corner.Joints, *end.Joints, func(*arm.Stretch) bool {
		w.c.effort.made += effortPerStretch
		return true
	})
}

// tcp is where the TCP of a tool is.
func (w *armWatcher) tcp(tool int, at *arm.Readings) geom.Vec {
	return w.a.Pose(*at).Apply(w.c.Layout.Tools[tool-1].TCP.T)
}

// free is a radius by which the corner can be passed, 0 for none that is worth while: half of the plan's, or half of that, and so on.
func (l *look) free(c *corner, before, after arm.Readings) float64 {
	const least = 1 // mm
	w, point := l.w, l.w.tcp(c.passed.ToolNumber, c.at)
	for {
		before, after = mean(c.at, &before, 0.5), mean(c.at, &after, 0.5)
		radius := min(point.Dist(w.tcp(c.passed.ToolNumber, &before)), point.Dist(w.tcp(c.passed.ToolNumber, &after)))
		if radius < least {
			return 0
		}
		l.hit, l.open = nil, nil
		if l.triangle(&before, c.at, &after); l.hit == nil {
			return radius
		}
	}
}

// cuts finds what may be hit in a corner.
func (l *look) cuts(c *corner, free float64) {
	h, w, p := l.hit, l.w, &c.passed
	tcp := w.tcp(p.ToolNumber, &h.at)
	r := w.c.find("corner-hits", p.Place, "%swhile it passes %q by up to %g mm, %s may be %.1f mm deep in %s, with the TCP at %.0f, %.0f, %.0f", during(p), p.Target, p.FlyBy, h.limb.name, h.deep, h.what, tcp.X, tcp.Y, tcp.Z).
		note(w.c.Layout.FiguresOf(p).FlyBy.Place, "the fly-by is given here")
	if !h.place.IsZero() {
		r.note(h.place, "the box is defined here")
	}
	if free == 0 {
		r.hint("let the arm stop there (\"fly_by: 0\" of the grid or the entry), or move the point")
		return
	}
	r.hint("a fly-by of up to %.3g mm is free of it; or let the arm stop there (\"fly_by: 0\" of the grid or the entry)", math.Floor(10*free)/10)
}
