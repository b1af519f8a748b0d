package arm

import (
	"math"

	"gridferry/gen/geom"
)

// mostSlides is how many joints can slide without being to spare.
const mostSlides = 3

// stretch is a vector that changes with the joints that slide.
type stretch struct {
	at    geom.Vec
	along [mostSlides]geom.Vec // what a mm of each slide adds
}

// by returns the vector at readings of the slides.
func (v *stretch) by(slides *[mostSlides]float64) geom.Vec {
	sum := v.at
	for i, s := range slides {
		sum = sum.Add(v.along[i].Scale(s))
	}
	return sum
}

// add adds a multiple of another one, turned.
func (v *stretch) add(times float64, r *geom.Rot, w *stretch) {
	v.at = v.at.Add(r.Apply(w.at).Scale(times))
	for i := range v.along {
		v.along[i] = v.along[i].Add(r.Apply(w.along[i]).Scale(times))
	}
}

// spoke is a stretch that turns about an axis, a unit vector, by an angle that is not known.
type spoke struct {
	axis geom.Vec
	stretch
	near float64 // the angle that it takes where it is free
}

// turned returns where the spoke is at an angle.
func (s *spoke) turned(degrees float64, slides *[mostSlides]float64) geom.Vec {
	r := turn(s.axis, toward(degrees))
	return r.Apply(s.by(slides))
}

// loop is what is left of a pose when all turns are known that it gives away: up to three spokes
// and what slides have to come to an end,
//
//	Σ spoke, turned = end.
//
// It has solutions in closed form for no spokes and three slides, one and two, two and one, or three and none, if
// the axes of two of them are parallel. Where nothing is a solution, the nearest miss is taken for one, as
// far as that is easy to say: rounding makes misses of solutions.
type loop struct {
	spokes [3]spoke
	n      int
	end    stretch
	slides int
	near   [mostSlides]float64 // what slides take where they are free
}

// closing is a solution of a loop.
type closing struct {
	angles [3]float64
	slides [mostSlides]float64
}

// closings holds solutions; more than there is room for are none.
type closings struct {
	list [16]closing
	n    int
}

func (c *closings) add(one closing) {
	if c.n < len(c.list) {
		c.list[c.n] = one
		c.n++
	}
}

const (
	// flush is the sine between two axes below which they count as parallel within a loop.
	flush = 1e-7
	// nothing is a length or a share below which nothing can be told from it.
	nothing = 1e-9
	// steep is how much of a slide has to go along an axis to be found from that.
	steep = 3e-5
)

// close finds all solutions.
func (l *loop) close(out *closings) {
	switch l.n {
	case 0:
		l.slide(out)
	case 1:
		l.closeOne(out)
	case 2:
		l.closeTwo(out)
	case 3:
		l.closeThree(out)
	}
}

// slide closes a loop of slides alone: the least squares, nearest to where they were, by Gram and Schmidt's way with the
// longest vector first.
func (l *loop) slide(out *closings) {
	c := closing{slides: l.near}
	miss := l.end.by(&c.slides)
	var square, change [mostSlides]geom.Vec // directions made square; and the slides' change for each
	left := l.end.along
	var mix [mostSlides][mostSlides]float64
	for i := range l.slides {
		mix[i][i] = 1
	}
	for k := range l.slides {
		longest := k
		for i := k; i < l.slides; i++ {
			if left[i].Norm() > left[longest].Norm() {
				longest = i
			}
		}
		left[k], left[longest], mix[k], mix[longest] = left[longest], left[k], mix[longest], mix[k]
		long := left[k].Norm()
		if long < nothing {
			break
		}
		square[k] = left[k].Scale(1 / long)
		change[k] = geom.Vec{X: mix[k][0], Y: mix[k][1], Z: mix[k][2]}.Scale(1 / long)
		for i := k + 1; i < l.slides; i++ {
			share := left[i].Dot(square[k])
			left[i] = left[i].Sub(square[k].Scale(share))
			for j := range mix[i] {
				mix[i][j] -= float64(share / long * mix[k][j])
			}
		}
	}
	for k := range l.slides {
		share := miss.Dot(square[k])
		c.slides[0] -= float64(share * change[k].X)
		c.slides[1] -= float64(share * change[k].Y)
		c.slides[2] -= float64(share * change[k].Z)
	}
	out.add(c)
}

// closeOne closes a loop with one spoke. Along its axis nothing depends on the angle, and neither does the distance from the axis:
// an equation of the first and one of the second degree for the slides.
func (l *loop) closeOne(out *closings) {
	s := &l.spokes[0]
	rise := s.axis.Dot(l.end.at.Sub(s.at))
	var slope [mostSlides]float64
	for i := range l.slides {
		slope[i] = s.axis.Dot(s.along[i].Sub(l.end.along[i]))
	}
	switch steepness := math.Hypot(slope[0], slope[1]); {
	case l.slides == 0:
		l.aim([mostSlides]float64{}, out)
	case l.slides == 1 && math.Abs(slope[0]) > 0.5:
		l.aim([mostSlides]float64{rise / slope[0]}, out)
	case l.slides == 1:
		l.reach([mostSlides]float64{}, [mostSlides]float64{1}, out)
	case steepness > nothing:
		rise /= steepness
		x, y := slope[0]/steepness, slope[1]/steepness
		l.reach([mostSlides]float64{float64(x * rise), float64(y * rise)}, [mostSlides]float64{-y, x}, out)
	default:
		l.reach([mostSlides]float64{l.near[0]}, [mostSlides]float64{0, 1}, out)
	}
}

// reach finds where on a line of slide readings both sides of a loop with one spoke are equally far from its axis.
func (l *loop) reach(from, way [mostSlides]float64, out *closings) {
	s := &l.spokes[0]
	ahead := from
	for i := range ahead {
		ahead[i] += way[i]
	}
	u, v := across(s.axis, s.by(&from)), across(s.axis, l.end.by(&from))
	du, dv := across(s.axis, s.by(&ahead)).Sub(u), across(s.axis, l.end.by(&ahead)).Sub(v)
	at, n := quadratic(du.Dot(du)-dv.Dot(dv), u.Dot(du)-v.Dot(dv), u.Dot(u)-v.Dot(v))
	if n == 0 { // the slides go along the axis
		for i := range way {
			at[0] += float64((l.near[i] - from[i]) * way[i])
		}
		n = 1
	}
	for _, times := range at[:n] {
		slides := from
		for i := range slides {
			slides[i] += float64(times * way[i])
		}
		l.aim(slides, out)
	}
}

// quadratic returns the roots of a·x² + 2b·x + c, both times the same where there is none but nearly one; none
// where a and b are nothing.
func quadratic(a, b, c float64) (x [2]float64, n int) {
	if math.Abs(a) < nothing {
		if math.Abs(b) < nothing {
			return x, 0
		}
		return [2]float64{-c / (2 * b)}, 1
	}
	root := rootOf(float64(b*b)-float64(a*c), float64(b*b))
	if root == 0 {
		return [2]float64{-b / a}, 1
	}
	far := -(b + math.Copysign(root, b)) // no difference of two nearly equal numbers
	return [2]float64{far / a, c / far}, 2
}

// rootOf returns the square root, and 0 where rounding could have made two solutions of one or none: of less than a hair
// of what it is the difference of.
func rootOf(x, of float64) float64 {
	if x < 1e-14*of {
		return 0
	}
	return math.Sqrt(x)
}

// aim turns the one spoke to the end.
func (l *loop) aim(slides [mostSlides]float64, out *closings) {
	s := &l.spokes[0]
	c := closing{slides: slides}
	c.angles[0] = s.aimed(s.by(&slides), l.end.by(&slides))
	out.add(c)
}

// aimed returns the angle at which one vector points where another one does, seen along the axis.
func (s *spoke) aimed(from, to geom.Vec) float64 {
	if across(s.axis, from).Norm() < nothing || across(s.axis, to).Norm() < nothing {
		return s.near
	}
	return angleAbout(s.axis, from, to)
}

// closeTwo closes a loop with two spokes.
func (l *loop) closeTwo(out *closings) {
	a, b := &l.spokes[0], &l.spokes[1]
	switch {
	case a.axis.Cross(b.axis).Norm() < flush:
		l.closeFlat(out)
	case l.slides == 0:
		l.closeAcross(out)
	case b.along[0] == geom.Vec{}:
		l.closeSliding(0, 1, out)
	default:
		l.closeSliding(1, 0, out)
	}
}

// closeFlat closes two spokes about parallel axes: along these a slide is found, and then there is a triangle of which
// all sides are known.
func (l *loop) closeFlat(out *closings) {
	a, b := &l.spokes[0], &l.spokes[1]
	var slides [mostSlides]float64
	if l.slides > 0 {
		slope := a.axis.Dot(a.along[0].Add(b.along[0]).Sub(l.end.along[0]))
		slides[0] = l.near[0]
		if math.Abs(slope) > nothing {
			slides[0] = a.axis.Dot(l.end.at.Sub(a.at).Sub(b.at)) / slope
		}
	}
	u, v, q := across(a.axis, a.by(&slides)), across(a.axis, b.by(&slides)), across(a.axis, l.end.by(&slides))
	hand := math.Copysign(1, a.axis.Dot(b.axis))
	// the angle from one spoke to the other is bent; at angle 0 of both it is rest
	rest := angleAbout(a.axis, u, v)
	bent := rest + float64(hand*b.near) - a.near
	sides := 2 * u.Norm() * v.Norm()
	n := 1
	if sides > nothing {
		cos := (q.Dot(q) - u.Dot(u) - v.Dot(v)) / sides
		bent = geom.Atan2(rootOf(1-float64(cos*cos), 1), cos)
		if bent != 0 && bent != 180 {
			n = 2
		}
	}
	for range n {
		r := turn(a.axis, toward(bent-rest))
		c := closing{slides: slides}
		c.angles[0] = a.aimed(u.Add(r.Apply(v)), q)
		c.angles[1] = float64(hand * (bent - rest + c.angles[0]))
		out.add(c)
		bent = -bent
	}
}

// closeAcross closes two spokes about axes that are not parallel: seen along the axis of one of them only the other
// one rises and falls. That one is the longer of the two.
func (l *loop) closeAcross(out *closings) {
	none := [mostSlides]float64{}
	i, k := 0, 1
	if across(l.spokes[1].axis, l.spokes[1].at).Norm() > across(l.spokes[0].axis, l.spokes[0].at).Norm() {
		i, k = 1, 0
	}
	a, b := &l.spokes[i], &l.spokes[k]
	angles, n := a.rising(b.axis, b.axis.Dot(l.end.at.Sub(b.at)))
	for _, angle := range angles[:n] {
		var c closing
		c.angles[i] = angle
		c.angles[k] = b.aimed(b.at, l.end.at.Sub(a.turned(angle, &none)))
		out.add(c)
	}
}

// rising returns the angles at which a spoke that does not change has a height along a direction; where it never
// has, that of the nearest height.
func (s *spoke) rising(up geom.Vec, height float64) (angles [2]float64, n int) {
	v := s.at
	high := float64(up.Dot(s.axis) * s.axis.Dot(v))
	cos, sin := up.Dot(v)-high, up.Dot(s.axis.Cross(v))
	most := math.Hypot(cos, sin)
	if most < nothing {
		return [2]float64{s.near}, 1
	}
	height -= high
	top := geom.Atan2(sin, cos)
	side := geom.Atan2(rootOf(float64((most-height)*(most+height)), float64(most*most)), height)
	if side == 0 || side == 180 {
		return [2]float64{top + side}, 1
	}
	return [2]float64{top + side, top - side}, 2
}

// closeSliding closes two spokes about axes that are not parallel, and a slide that is not in spoke k. Along the axis of spoke i
// the slide is found for every angle of spoke k, and then both sides have to be equally far from that axis: a series of the
// second degree. A slide that is square to that axis is found the other way round.
func (l *loop) closeSliding(i, k int, out *closings) {
	a, b := &l.spokes[i], &l.spokes[k]
	slope := a.axis.Dot(a.along[0].Sub(l.end.along[0]))
	rise := a.axis.Dot(l.end.at.Sub(a.at))
	if math.Abs(slope) < steep {
		angles, n := b.rising(a.axis, rise)
		for _, angle := range angles[:n] {
			l.closeBehind(i, k, angle, out)
		}
		return
	}
	slideAt := func(angle float64) (x geom.Vec, slides [mostSlides]float64) {
		x = b.turned(angle, &slides)
		slides[0] = (rise - a.axis.Dot(x)) / slope
		return x, slides
	}
	f := sampled(2, func(angle float64) float64 {
		x, slides := slideAt(angle)
		u, v := across(a.axis, a.by(&slides)), across(a.axis, l.end.by(&slides).Sub(x))
		return u.Dot(u) - v.Dot(v)
	})
	var room [16]direction
	roots, some := f.roots(room[:0])
	if !some {
		roots = append(roots, toward(b.near))
	}
	for _, root := range roots {
		angle := root.degrees()
		x, slides := slideAt(angle)
		c := closing{slides: slides}
		c.angles[i], c.angles[k] = a.aimed(a.by(&slides), l.end.by(&slides).Sub(x)), angle
		out.add(c)
	}
}

// closeBehind closes what is left of two spokes when the angle of spoke k is known.
func (l *loop) closeBehind(i, k int, angle float64, out *closings) {
	left := loop{n: 1, end: l.end, slides: l.slides, near: l.near}
	left.spokes[0] = l.spokes[i]
	by := turn(l.spokes[k].axis, toward(angle))
	left.end.add(-1, &by, &l.spokes[k].stretch)
	var inner closings
	left.reach([mostSlides]float64{}, [mostSlides]float64{1}, &inner)
	for _, found := range inner.list[:inner.n] {
		c := closing{slides: found.slides}
		c.angles[i], c.angles[k] = found.angles[0], angle
		out.add(c)
	}
}

// closeThree closes three spokes of which two have parallel axes: seen along these only the third rises and falls.
func (l *loop) closeThree(out *closings) {
	i, j, k := 0, 1, 2
	if !l.parallel(i, j) {
		if j, k = 2, 1; !l.parallel(i, j) {
			i, k = 1, 0
		}
	}
	a, b, c := &l.spokes[i], &l.spokes[j], &l.spokes[k]
	angles, n := c.rising(a.axis, a.axis.Dot(l.end.at.Sub(a.at).Sub(b.at)))
	for _, angle := range angles[:n] {
		left := loop{n: 2, end: l.end}
		left.spokes[0], left.spokes[1] = *a, *b
		by := turn(c.axis, toward(angle))
		left.end.add(-1, &by, &c.stretch)
		var inner closings
		left.closeFlat(&inner)
		for _, found := range inner.list[:inner.n] {
			var one closing
			one.angles[i], one.angles[j], one.angles[k] = found.angles[0], found.angles[1], angle
			out.add(one)
		}
	}
}

// parallel says whether two spokes turn about parallel axes.
func (l *loop) parallel(i, k int) bool {
	return l.spokes[i].axis.Cross(l.spokes[k].axis).Norm() < flush
}

// sampled returns the series of degree n that has the values of f, which has to be one.
func sampled(n int, f func(degrees float64) float64) (s series) {
	s.n = n
	count := 2*n + 1
	for i := range count {
		angle := 360 * float64(i) / float64(count)
		value := f(angle) / float64(count)
		s.a[0] += value
		for k := 1; k <= n; k++ {
			sin, cos := geom.SinCos(float64(k) * angle)
			s.a[k] += float64(2 * value * cos)
			s.b[k] += float64(2 * value * sin)
		}
	}
	return s
}

// angleAbout returns the angle about an axis from one vector to another, seen along it, in degrees.
func angleAbout(axis, from, to geom.Vec) float64 {
	return geom.Atan2(axis.Dot(from.Cross(to)), from.Dot(to)-float64(axis.Dot(from)*axis.Dot(to)))
}

// twist returns how far a rotation turns about an axis, when the rest of it is about axes square to that.
func twist(axis geom.Vec, r geom.Rot) float64 {
	w, x, y, z := r.Quaternion()
	return 2 * geom.Atan2(axis.Dot(geom.Vec{X: x, Y: y, Z: z}), w)
}
