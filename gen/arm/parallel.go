package arm

import (
	"math"

	"gridferry/gen/geom"
)

// parallels solves six turning joints of which axes 2, 3 and 4 are parallel, and the others are any: up to
// eight solutions in closed form.
//
// Joints 2 to 4 move all that is behind them in a plane: they keep angles to their common direction k, and heights along it.
// So the angle between axis 6 and k and the height of a point of axis 6 are the same before and
// after them: two equations that are linear in sine and cosine of joint 1 and of joint 5. Joint 6 has to
// bring k back to where it was, and a triangle is left for joints 2 and 3.
type parallels struct {
	back   geom.Pose // the base in the flange, with all joints at reading 0
	k      geom.Vec  // along axes 2 to 4, the way axis 2 points
	sense  [3]float64
	joints []Joint
	tip    geom.Vec // a point of axis 6: the one next to axis 5

	swing  swing    // of axis 6 about axis 5, as k sees it
	angle  sinusoid // the cosine between axis 6 and k as joint 5 turns
	height sinusoid // of the tip along k, from the point of axis 1
	level  bool     // the tip is on axis 5, and keeps its height
	fixed  bool     // axis 6 is parallel to axis 5, and keeps its angle
	elbow  circle   // of axis 4 about axis 3
	side   geom.Vec // square to k
	length float64
}

func threeParallel(a *Arm) bool {
	return parallel(&a.Joints[1], &a.Joints[2]) && parallel(&a.Joints[2], &a.Joints[3]) && parallel(&a.Joints[1], &a.Joints[3])
}

func newParallels(a *Arm) *parallels {
	five, six := &a.Joints[4], &a.Joints[5]
	p := &parallels{back: a.Flange.Inverse(), k: a.Joints[1].Axis, joints: a.Joints, length: a.length}
	for i := range p.sense {
		p.sense[i] = math.Copysign(1, a.Joints[1+i].Axis.Dot(p.k))
	}
	on5, on6 := feet(five, six)
	p.tip, p.level, p.fixed = on6, on5.Dist(on6) <= touch, parallel(five, six)
	p.swing = newSwing(five.Axis, p.k, six.Axis)
	p.angle = around(five.Axis, geom.Vec{}, six.Axis).along(p.k, geom.Vec{})
	p.height = around(five.Axis, five.Point, p.tip).along(p.k, a.Joints[0].Point)
	p.elbow = around(p.k, a.Joints[2].Point, a.Joints[3].Point)
	p.side = sideOf(p.k)
	return p
}

func (p *parallels) class() string { return "six axes, of which axes 2, 3 and 4 are parallel" }

func (p *parallels) solve(flange geom.Pose, near Readings, found solutions) solutions {
	one, six := &p.joints[0], &p.joints[5]
	c := candidate{parallels: p, motion: flange.Mul(p.back), near: near}
	c.axis = c.motion.R.Apply(six.Axis)
	// Joint 1 turned back: the angle between axis 6 and k, and the height of the tip.
	angle := around(one.Axis, geom.Vec{}, c.axis).along(p.k, geom.Vec{})
	height := around(one.Axis, one.Point, c.motion.Apply(p.tip)).along(p.k, one.Point)
	angle.s, height.s = -angle.s, -height.s
	switch {
	case p.level:
		height.k -= p.height.k
		return c.first(height, p.length, found)
	case p.fixed:
		angle.k -= p.angle.k
		return c.first(angle, 1, found)
	}
	return c.both(angle, height, found)
}

// candidate is one pose asked for.
type candidate struct {
	*parallels
	motion geom.Pose // of the flange, from all joints at 0
	axis   geom.Vec  // where axis 6 shall point
	near   Readings
}

// first takes joint 1 from one equation that joint 5 has no part in, and joint 5 from the other one.
func (c *candidate) first(f sinusoid, scale float64, found solutions) solutions {
	firsts, n, always := f.zeros(scale)
	if always {
		firsts[0], n = toward(c.near[0]), 1
	}
	for _, first := range firsts[:n] {
		fifths, ok := c.swing.turns(turn(c.joints[0].Axis, first.minus()).Apply(c.axis))
		if c.fixed {
			fifths, ok = c.lifted(first)
		}
		if ok {
			found = c.rest(first, fifths[0], found)
			found = c.rest(first, fifths[1], found)
		}
	}
	return found
}

// lifted returns the turns of joint 5 that give the tip its height, where axis 6 is parallel to it.
func (c *candidate) lifted(first direction) ([2]direction, bool) {
	one := &c.joints[0]
	back := turn(one.Axis, first.minus()).Apply(c.motion.Apply(c.tip).Sub(one.Point))
	f := c.height
	f.k -= c.k.Dot(back)
	fifths, n, always := f.zeros(c.length)
	if always {
		fifths[0], n = toward(c.near[4]), 2
		fifths[1] = fifths[0]
	}
	return fifths, n > 0
}

// both takes joint 1 from both equations: they give the cosine and the sine of joint 5 as sinusoids of joint 1, and the
// sum of their squares is 1.
func (c *candidate) both(angle, height sinusoid, found solutions) solutions {
	angle.k -= c.angle.k
	height.k -= c.height.k
	det := float64(c.angle.c*c.height.s) - float64(c.angle.s*c.height.c)
	cos := angle.times(c.height.s / det).plus(height.times(-c.angle.s / det))
	sin := height.times(c.angle.c / det).plus(angle.times(-c.height.c / det))
	var f series
	f.addSquare(1, cos)
	f.addSquare(1, sin)
	f.a[0]--
	var room [16]direction
	firsts, some := f.roots(room[:0])
	if !some {
		firsts = append(firsts, toward(c.near[0]))
	}
	for _, first := range firsts {
		fifth, _ := direction{cos.at(first), sin.at(first)}.unit(0)
		found = c.rest(first, fifth, found)
	}
	return found
}

// rest takes joint 6, then joints 2 to 4, from joints 1 and 5.
func (c *candidate) rest(first, fifth direction, found solutions) solutions {
	one, five, six := &c.joints[0], &c.joints[4], &c.joints[5]
	unturned := turn(one.Axis, first.minus())
	goal := geom.Pose{R: unturned.Mul(c.motion.R), T: unturned.Apply(c.motion.T.Sub(one.Point)).Add(one.Point)}
	bend := turn(five.Axis, fifth)
	sixth, ok := between(six.Axis, goal.R.T().Apply(c.k), bend.T().Apply(c.k), inLine)
	if !ok {
		sixth = toward(c.near[5])
	}
	// What joints 2 to 4 have to do together: the goal without joints 6 and 5.
	roll := turn(six.Axis, sixth.minus())
	goal = goal.Mul(geom.Pose{R: roll, T: six.Point.Sub(roll.Apply(six.Point))})
	bend = bend.T()
	goal = goal.Mul(geom.Pose{R: bend, T: five.Point.Sub(bend.Apply(five.Point))})
	whole, _ := between(c.k, c.side, goal.R.Apply(c.side), 0)
	r := Readings{0: first.degrees(), 4: fifth.degrees(), 5: sixth.degrees()}
	return c.triangle(goal.Apply(c.joints[3].Point), whole, r, found)
}

// triangle takes joints 2 and 3 from where axis 4 goes, and joint 4 from what they turn together.
func (c *candidate) triangle(to geom.Vec, whole direction, r Readings, found solutions) solutions {
	two := &c.joints[1]
	way := to.Sub(two.Point)
	up := c.k.Dot(way)
	f := c.elbow.distance(two.Point)
	height := c.k.Dot(c.elbow.middle.Sub(two.Point))
	f.k -= float64(height*height) + square(way) - float64(up*up)
	thirds, n, _ := f.zeros(float64(c.length * c.length))
	for _, third := range thirds[:n] {
		second, ok := between(c.k, c.elbow.at(third).Sub(two.Point), way, 1e-12*c.length)
		if !ok {
			second = toward(float64(c.sense[0] * c.near[1]))
		}
		fourth := whole.plus(second.minus()).plus(third.minus())
		r[1], r[2], r[3] = float64(c.sense[0]*second.degrees()), float64(c.sense[1]*third.degrees()), float64(c.sense[2]*fourth.degrees())
		found.add(r, c.near)
	}
	return found
}
