package arm

import "gridferry/gen/geom"

// slidingThree solves six joints of which the last three turn about axes that meet in a point, and of the first three some
// slide: these bring the point to where it has to be, and the others turn the flange (Pieper, 1968; from memory).
type slidingThree struct {
	arm   *Arm
	front *chain // the first three joints, up to the point where the others meet
	wrist []group
	point geom.Vec // that point in the flange
}

// slidingWrist returns the guesser where an arm is of that kind, or is when looked at from the flange.
func slidingWrist(a *Arm) (guesser, bool) {
	if s, ok := threeMeet(a); ok {
		return s, true
	}
	s, ok := threeMeet(a.backwards())
	return fromFlange{s}, ok
}

func threeMeet(a *Arm) (s slidingThree, ok bool) {
	if len(a.Joints) != 6 {
		return s, false
	}
	point, ok := allMeet(&a.Joints[3], &a.Joints[4], &a.Joints[5])
	if !ok {
		return s, false
	}
	c := chainOf(a.Joints[3:], geom.Vec{})
	if len(c.groups) != 3 {
		return s, false
	}
	s = slidingThree{a, chainOf(a.Joints[:3], point), c.groups, a.Flange.Inverse().Apply(point)}
	return s, len(s.front.sliding) > 0
}

// allMeet returns the point in which the axes of three joints meet.
func allMeet(a, b, c *Joint) (point geom.Vec, ok bool) {
	if a.Slides || b.Slides || c.Slides {
		return point, false
	}
	point, ok = twoMeet(a, b)
	also, ok2 := twoMeet(b, c)
	return point, ok && ok2 && point.Dist(also) <= touch
}

// twoMeet returns the point in which the axes of two joints meet.
func twoMeet(a, b *Joint) (point geom.Vec, ok bool) {
	onA, onB := feet(a, b)
	return onB, !parallel(a, b) && onA.Dist(onB) <= touch
}

func (s slidingThree) class() string {
	return "six axes with a spherical wrist, of the first three " + numbers[len(s.front.sliding)] + " sliding"
}

func (s slidingThree) guess(flange geom.Pose, near Readings) (out guesses) {
	l := s.toPoint(flange.Apply(s.point), &near)
	var found closings
	l.close(&found)
	for k := range found.n {
		r := s.read(&found.list[k])
		whole := flange.R
		for i := range 3 {
			if j := &s.arm.Joints[i]; !j.Slides {
				whole = turn(j.Axis, toward(-r[i])).Mul(whole)
			}
		}
		s.guessWrist(r, whole.Mul(s.arm.Flange.R.T()), &near, &out)
	}
	return out
}

// toPoint is the loop from the base to where the axes of the wrist meet. With two joints that turn it is seen from behind the first,
// so that the way from that to the point swings back.
func (s slidingThree) toPoint(point geom.Vec, near *Readings) loop {
	f, still := s.front, geom.IdentityRot()
	n := len(f.turning)
	l := loop{slides: len(f.sliding), near: f.nearSlides(near), n: n}
	for i := range n {
		l.spokes[i].axis, l.spokes[i].near = s.arm.Joints[f.turning[i]].Axis, near[f.turning[i]]
	}
	if n < 2 {
		l.end.at = point
		l.end.add(-1, &still, &f.steps[0])
		if n == 1 {
			l.spokes[0].stretch = f.steps[1]
		}
		return l
	}
	back := &l.spokes[0]
	back.near = -back.near
	back.at = point.Scale(-1)
	back.add(1, &still, &f.steps[0])
	l.spokes[1].stretch = f.steps[2]
	l.end.add(-1, &still, &f.steps[1])
	return l
}

// read turns a closing into readings of the first three joints.
func (s slidingThree) read(c *closing) (r Readings) {
	for i, joint := range s.front.turning {
		r[joint] = c.angles[i]
	}
	if len(s.front.turning) == 2 {
		r[s.front.turning[0]] *= -1
	}
	for i, joint := range s.front.sliding {
		r[joint] = c.slides[i]
	}
	return r
}

// guessWrist adds the readings of the wrist for a turn that is left to it.
func (s slidingThree) guessWrist(r Readings, whole geom.Rot, near *Readings, out *guesses) {
	ways, n := turnsOf(s.wrist, whole)
	for i := range n {
		w := &ways[i]
		if w.level < unturned {
			w.angles[0] = near[3]
			w.angles[2] = third(s.wrist, w.angles[0], w.angles[1], whole)
		}
		copy(r[3:6], w.angles[:])
		out.add(r)
	}
}

// fromFlange guesses for an arm by what is known of it when it is looked at from the flange.
type fromFlange struct{ slidingThree }

func (s fromFlange) class() string {
	return "six axes, the first three turning about axes that meet, of the others " + numbers[len(s.front.sliding)] + " sliding"
}

func (s fromFlange) guess(flange geom.Pose, near Readings) guesses {
	out := s.slidingThree.guess(flange.Inverse(), reversed(&near))
	for i := range out.n {
		out.list[i] = reversed(&out.list[i])
	}
	return out
}
