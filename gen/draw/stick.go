package draw

import (
	"fmt"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// Stand is the arm as it stands at the end of a motion.
type Stand struct {
	Readings      arm.Readings
	Configuration arm.Configuration
	Tool          *layout.Tool
	At            move.Target
}

// StandsIn is how the arm stands in a picture: at the pick and the place of the one transfer that it shows, else when the
// transfers are made that it shows as made, else where the job begins. The moves have the readings of its joints; they are
// asked for only where there is an arm to show, and none behind those that tell. A picture of one grid has no arm.
func (o Options) StandsIn(l *layout.Layout, moves func() move.Seq) []Stand {
	if l.Arm == nil || o.Grid != "" {
		return nil
	}
	if o.Transfer > 0 {
		return standsOf(l, moves(), o.Transfer)
	}
	var last *Stand
	for m := range moves() {
		if !m.Kind.IsMotion() {
			continue
		}
		if last != nil && (o.After == 0 || m.Transfer > o.After) {
			break
		}
		last = standAt(l, &m)
	}
	if last == nil {
		return nil
	}
	return []Stand{*last}
}

// standsOf is how the arm stands where the part of one transfer is taken, and where it is put down.
func standsOf(l *layout.Layout, moves move.Seq, transfer int) (stands []Stand) {
	var last *Stand
	for m := range moves {
		switch {
		case m.Kind.IsMotion():
			last = standAt(l, &m)
		case (m.Takes() || m.Puts()) && m.Carries() == transfer:
			if last != nil {
				stands = append(stands, *last)
			}
			if m.Puts() {
				return stands
			}
		}
	}
	return stands
}

// standAt is how the arm stands at the end of a motion; nil where it does not get there.
func standAt(l *layout.Layout, m *move.Move) *Stand {
	if m.Joints == nil {
		return nil
	}
	return &Stand{*m.Joints, m.Configuration, l.Tools[m.ToolNumber-1], m.Target}
}

// stick is an arm as lines and points, in the base.
type stick struct {
	rods        [][2]geom.Vec
	joints      []geom.Vec
	flange, tip geom.Pose
}

func (s *scene) stick(at *Stand) (f stick) {
	a := s.l.Arm
	links := a.Links(at.Readings)
	placed := func(behind int, p geom.Vec) geom.Vec {
		if behind == 0 {
			return p
		}
		return links[behind-1].Apply(p)
	}
	rods, joints := a.Rods()
	for i := range a.Joints {
		f.joints = append(f.joints, placed(i+1, joints[i]))
	}
	for _, r := range rods {
		to := placed(r.Behind, r.To)
		if r.Rail && r.Behind > 0 { // one that moves with the arm is drawn as far as what slides on it
			to = f.joints[r.Behind]
		}
		f.rods = append(f.rods, [2]geom.Vec{placed(r.Behind, r.From), to})
	}
	f.flange = a.Pose(at.Readings)
	f.tip = f.flange.Mul(at.Tool.TCP)
	return f
}

// stickPoints are all that a view needs room for.
func (s *scene) stickPoints() (points []geom.Vec) {
	for i := range s.o.Stands {
		f := s.stick(&s.o.Stands[i])
		for _, r := range f.rods {
			points = append(points, r[0], r[1])
		}
		points = append(points, f.tip.T)
	}
	return points
}

// Sizes of a stick figure on paper, mm: the radius of a joint, and half the flange.
const (
	jointSize  = 0.9
	flangeSize = 1.5
)

// sticks draws the arm, behind all that stands on the bench.
func (d *drawing) sticks() {
	for i := range d.s.o.Stands {
		at := &d.s.o.Stands[i]
		f := d.s.stick(at)
		d.open("g", "data-arm", at.At.String())
		d.words("title", d.s.standWords(at))
		for _, r := range f.rods {
			d.rod("rod", d.v.at(r[0]), d.v.at(r[1]))
		}
		flange := d.v.at(f.flange.T)
		d.rod("grasp", flange, d.v.at(f.tip.T))
		d.crossbar(flange, &f.flange)
		for k, p := range f.joints {
			d.pivot(d.v.at(p), d.s.l.Arm.Joints[k].Slides)
		}
		d.close("g")
	}
}

// rod draws a line of the arm, and keeps labels off it.
func (d *drawing) rod(class string, a, b pt) {
	if d.segment(class, a, b) {
		d.has(signArm)
		if a, b, ok := clipLine(a, b, d.v.on); ok {
			d.labels.led(leader{a, b})
		}
	}
}

// crossbar is the flange: a line square to its axis, where that is not seen end on.
func (d *drawing) crossbar(at pt, flange *geom.Pose) {
	along := d.v.flat(flange.R.Column(2))
	if long := along.length(); long > ahead {
		half := pt{along.y, along.x}.times(flangeSize / long)
		d.segment("rod", at.plus(half), at.minus(half))
	}
}

// pivot is a joint: round where it turns, square where it slides.
func (d *drawing) pivot(at pt, slides bool) {
	switch {
	case !d.v.on.has(at):
	case slides:
		d.shape("pivot", square(at, jointSize))
	default:
		d.circle("pivot", at, jointSize)
	}
}

// standWords says how the arm stands.
func (s *scene) standWords(at *Stand) string {
	var readings []string
	for i := range s.l.Arm.Joints {
		j := &s.l.Arm.Joints[i]
		readings = append(readings, fmt.Sprintf("%s %.1f%s", j.Name, tidy(at.Readings[i]), j.Unit()))
	}
	text := "arm at " + at.At.String() + ": " + wording.List(readings, arm.MaxJoints)
	if at.Configuration != 0 {
		text += "; " + at.Configuration.String()
	}
	return text
}

// tidy rounds to what is shown, so that "-0.0" never is.
func tidy(x float64) float64 {
	if x > -0.05 && x < 0.05 {
		return 0
	}
	return x
}

// sampleArm is two rods, their joints and a flange.
func (p *page) sampleArm(c pt) {
	foot, elbow, flange := c.plus(pt{-4.2, 1.5}), c.plus(pt{-1.4, -1.2}), c.plus(pt{3, 0.4})
	p.line("rod", foot, elbow)
	p.line("rod", elbow, flange)
	p.line("rod", flange.plus(pt{-0.4, 1.1}), flange.plus(pt{0.4, -1.1}))
	p.line("grasp", flange, flange.plus(pt{2.2, 0.8}))
	p.circle("pivot", foot, jointSize)
	p.circle("pivot", elbow, jointSize)
}
