package arm

import "gridferry/gen/geom"

// sums solves arms whose joints turn about up to three directions, one after the other: the orientation tells how much
// they turn about each, and what is left is a loop.
type sums struct {
	*chain
	home geom.Rot // the flange's, with all joints at 0
}

// summed returns the guesser where an arm is of that kind.
func summed(a *Arm) (sums, bool) {
	c := chainOf(a.Joints, a.Flange.T)
	unknown := len(c.turning) - len(c.groups) // angles that the orientation does not tell
	inOne := 0
	for _, g := range c.groups {
		inOne = max(inOne, g.last-g.first)
	}
	return sums{c, a.Flange.R}, len(c.groups) <= 3 && unknown+len(c.sliding) <= 3 && (unknown < 3 || inOne == 2)
}

func (s sums) class() string {
	turning, sliding := len(s.turning), len(s.sliding)
	words := count(turning+sliding, "axis", "axes")
	if sliding > 0 {
		words += ", " + numbers[sliding] + " sliding"
	}
	if turning > 0 {
		words += ", " + numbers[turning] + " turning about " + count(len(s.groups), "direction", "directions")
	}
	return words
}

// numbers in words.
var numbers = [...]string{"no", "one", "two", "three", "four", "five", "six", "seven"}

// count says how many of a thing there are; more has its plural.
func count(n int, one, more string) string {
	if n == 1 {
		return numbers[1] + " " + one
	}
	return numbers[n] + " " + more
}

func (s sums) guess(flange geom.Pose, near Readings) (out guesses) {
	whole := flange.R.Mul(s.home.T())
	ways, n := turnsOf(s.groups, whole)
	for i := range n {
		w := &ways[i]
		if len(s.groups) < 3 {
			s.guessTurned(flange, w.angles, &near, &out)
			continue
		}
		if w.level > unturned {
			s.guessTurned(flange, w.angles, &near, &out)
		}
		if w.level < shaky {
			s.guessLevel(flange, whole, *w, &near, &out)
		}
	}
	return out
}

// guessTurned guesses when the angles of all groups are known.
func (s sums) guessTurned(flange geom.Pose, angles [3]float64, near *Readings, out *guesses) {
	l := loop{slides: len(s.sliding), near: s.nearSlides(near)}
	l.end.at = flange.T
	before := geom.IdentityRot()
	for i := range s.steps {
		if i == 0 || !s.lay(&l, i, &before, angles, near) {
			l.end.add(-1, &before, &s.steps[i])
		}
	}
	var found closings
	l.close(&found)
	for k := range found.n {
		c := &found.list[k]
		s.read(c, c.angles[:l.n], angles, 0, out)
	}
}

// lay goes on to step i. Behind the last joint of a group, all is turned as far as the group is; behind another one, the step is
// laid as a spoke.
func (s sums) lay(l *loop, i int, before *geom.Rot, angles [3]float64, near *Readings) (laid bool) {
	t := i - 1
	g := s.groupOf[t]
	if s.ends(t) {
		*before = before.Mul(turn(s.groups[g].axis, toward(angles[g])))
		return false
	}
	one := &l.spokes[l.n]
	one.axis, one.near = before.Apply(s.groups[g].axis), s.sum(near, t)
	one.add(1, before, &s.steps[i])
	l.n++
	return true
}

// guessLevel guesses when the axes of the first group and the third are parallel, so that the orientation tells only how their
// angles add up. All in between swings with the first group by an angle more than the one that it is
// laid out at, which is where the joints are; seen from there, the rest is a spoke that swings back.
func (s sums) guessLevel(flange geom.Pose, whole geom.Rot, w turns, near *Readings, out *guesses) {
	last := len(s.steps) - 1
	w.angles[0] = s.sum(near, s.groups[0].last)
	w.angles[2] = third(s.groups, w.angles[0], w.angles[1], whole)
	if len(s.turning)-len(s.groups)+len(s.sliding) == 3 { // more unknown than can be: the angle is free
		if w.level <= unturned {
			s.guessTurned(flange, w.angles, near, out)
		}
		return
	}
	l := loop{slides: len(s.sliding), near: s.nearSlides(near), n: 1}
	before := geom.IdentityRot()
	back := &l.spokes[0]
	back.axis = s.groups[0].axis
	back.at = flange.T.Scale(-1)
	back.add(1, &before, &s.steps[0])
	back.add(1, &whole, &s.steps[last])
	for i := 1; i < last; i++ {
		if !s.lay(&l, i, &before, w.angles, near) {
			l.end.add(-1, &before, &s.steps[i])
		}
	}
	var found closings
	l.close(&found)
	for k := range found.n {
		c := &found.list[k]
		angles := w.angles
		more := -c.angles[0]
		angles[0] += more
		angles[2] = third(s.groups, angles[0], angles[1], whole)
		s.read(c, c.angles[1:l.n], angles, more, out)
	}
}

// read turns a closing into readings. The spokes of the first group swing by an angle more.
func (s sums) read(c *closing, spokes []float64, angles [3]float64, more float64, out *guesses) {
	var r Readings
	before := 0.0
	for t, joint := range s.turning {
		sum := angles[s.groupOf[t]]
		if !s.ends(t) {
			sum = spokes[0]
			spokes = spokes[1:]
			if s.groupOf[t] == 0 {
				sum += more
			}
		}
		r[joint] = float64(s.hand[t] * (sum - before))
		if before = sum; s.ends(t) {
			before = 0
		}
	}
	for i, joint := range s.sliding {
		r[joint] = c.slides[i]
	}
	out.add(r)
}
