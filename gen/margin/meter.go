package margin

import (
	"strconv"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/solid"
)

// Meter measures the margins of a layout's arm. One goroutine at a time may ask it.
type Meter struct {
	arm   *layout.Arm
	boxes []*layout.Box
	rooms []solid.Solid
	index *solid.Index
	limbs []limb // the arm's links, then those of the tools that were asked for
	links int
	tools map[*layout.Tool]tool
	foot  []bool // which boxes are the arm's own foot; nil before Begin
}

// limb is a link of the arm or a piece of a tool: all points within a radius of its core, which is given in the base with all
// joints at 0.
type limb struct {
	name   string
	core   solid.Solid
	radius float64
	behind int // so many joints
}

// tool is which limbs are a tool's.
type tool struct{ from, to int }

// NewMeter returns the meter of a layout that has an arm.
func NewMeter(l *layout.Layout) *Meter {
	r := &Meter{arm: l.Arm, boxes: l.Boxes, tools: map[*layout.Tool]tool{}}
	var bounds []solid.Bounds
	for _, b := range l.Boxes {
		room := solid.Box(b.Frame.Base, b.From, b.To)
		r.rooms = append(r.rooms, room)
		bounds = append(bounds, room.Bounds())
	}
	r.index = solid.NewIndex(bounds)
	for i, shapes := range l.Arm.Shapes[1:] { // what stands still comes no nearer
		for k := range shapes {
			s := &shapes[k]
			r.limbs = append(r.limbs, limb{l.Arm.LinkName(i + 1), s.Core(), s.Radius, i + 1})
		}
	}
	r.links = len(r.limbs)
	return r
}

// toolOf is the limbs of a tool, open and closed.
func (r *Meter) toolOf(t *layout.Tool) tool {
	if known, ok := r.tools[t]; ok {
		return known
	}
	from, tcp, behind := len(r.limbs), r.arm.Flange.Mul(t.TCP), len(r.arm.Joints)
	for i := range t.Body {
		b := &t.Body[i]
		name := strconv.Quote(b.Name) + " of the tool"
		r.limbs = append(r.limbs, limb{name, b.Solid(&tcp, false), 0, behind})
		if b.Moves() {
			r.limbs = append(r.limbs, limb{name, b.Solid(&tcp, true), 0, behind})
		}
	}
	switch {
	case t.Body != nil:
	case t.Radius > 0:
		r.limbs = append(r.limbs, limb{"the tool", solid.Prism(tcp.T, r.arm.Flange.T, t.Radius), 0, behind})
	default:
		r.limbs = append(r.limbs, limb{"the TCP", solid.Point(tcp.T), 0, behind})
	}
	r.tools[t] = tool{from, len(r.limbs)}
	return r.tools[t]
}

// Begin says how the arm stands where the job begins: a box in which its first link is there counts as its own foot, as it does
// for the rules, and the first two links may be in it.
func (r *Meter) Begin(readings *arm.Readings) {
	r.foot = make([]bool, len(r.rooms))
	for i := range r.rooms {
		r.foot[i] = r.arm.StandsIn(&r.rooms[i], readings)
	}
}

// Of is the margins of the arm with a tool at some readings, where the job begins if nobody said where that is.
func (r *Meter) Of(readings *arm.Readings, t *layout.Tool) (all Margins) {
	if r.foot == nil {
		r.Begin(readings)
	}
	all[Range] = r.inRange(readings)
	if near, ok := r.arm.NearSingular(*readings, FarDegrees, FarMM); ok {
		all[Singular] = Margin{Kind: Singular, Joint: int8(near.Joint), Factor: int8(near.Factor), By: near.By}
	}
	if len(r.boxes) > 0 {
		all[Room] = r.room(readings, t)
	}
	return all
}

// inRange is how near a joint is to an end of its range.
func (r *Meter) inRange(readings *arm.Readings) (least Margin) {
	for i := range r.arm.Joints {
		m := Margin{Kind: Range, Joint: int8(i), By: r.arm.Joints[i].Margin(readings[i])}
		if r.Less(m, least) {
			least = m
		}
	}
	return least
}

// room is how near a link or the tool is to a keep-out box.
func (r *Meter) room(readings *arm.Readings, t *layout.Tool) (least Margin) {
	links := r.arm.Links(*readings)
	least.By = FarMM
	for i := range r.links {
		r.near(i, &links, &least)
	}
	its := r.toolOf(t)
	for i := its.from; i < its.to; i++ {
		r.near(i, &links, &least)
	}
	return least
}

// near is the least of what was found so far and one limb.
func (r *Meter) near(i int, links *[arm.MaxJoints]geom.Pose, least *Margin) {
	b := &r.limbs[i]
	core := b.core.In(&links[b.behind-1])
	bounds := core.Bounds()
	bounds = bounds.Wider(b.radius + max(least.By, 0))
	for _, k := range r.index.Overlapping(&bounds) {
		if b.behind <= 2 && r.foot[k] {
			continue
		}
		if gap := solid.Gap(&r.rooms[k], &core, b.radius); gap < least.By {
			*least = Margin{Kind: Room, Limb: int32(i), Box: int32(k), By: gap}
		}
	}
}
