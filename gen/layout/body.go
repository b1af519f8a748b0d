package layout

import (
	"gridferry/gen/geom"
	"gridferry/gen/solid"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// BodyBox is a box that a tool fills: opposite corners from its TCP on, From the lower one in
// every direction, and how far it stands from there while the gripper is open. They are along
// the TCP's axes, but for a zone that is turned in its tool: see Edges.
type BodyBox struct {
	Name     string
	Place    diag.Place
	From, To geom.Vec // mm
	Open     geom.Vec // mm

	turn *geom.Rot // of the box in the TCP's axes; nil where they are parallel
}

// Edges is how the box is turned where its TCP is turned so.
func (b *BodyBox) Edges(tcp geom.Rot) geom.Rot {
	if b.turn != nil {
		return tcp.Mul(*b.turn)
	}
	return tcp
}

// Solid is the box of a tool whose TCP is at a pose, open or not.
func (b *BodyBox) Solid(tcp *geom.Pose, open bool) solid.Solid { return b.Moved(tcp, b.Shift(open)) }

// Shift is how far the box stands from where it is written.
func (b *BodyBox) Shift(open bool) geom.Vec {
	if open {
		return b.Open
	}
	return geom.Vec{}
}

// Moved is the box so far from where it is written.
func (b *BodyBox) Moved(tcp *geom.Pose, by geom.Vec) solid.Solid {
	return solid.Box(geom.Pose{R: b.Edges(tcp.R), T: tcp.T}, b.From.Add(by), b.To.Add(by))
}

// Moves reports whether the box is a finger: it stands elsewhere while the gripper is open.
func (b *BodyBox) Moves() bool { return b.Open != (geom.Vec{}) }

func body(written []*plan.BodyBox) []BodyBox {
	var boxes []BodyBox
	for _, b := range written {
		if b.From.IsSet() && b.To.IsSet() {
			from, to := vec(b.From), vec(b.To)
			boxes = append(boxes, BodyBox{b.Name.V, b.Name.Place, from.Min(to), from.Max(to), vec(b.Open), nil})
		}
	}
	return boxes
}

// seenFrom is boxes of a tool for one of its zones, whose own TCP is at a pose in the tool.
func seenFrom(boxes []BodyBox, zone geom.Pose) []BodyBox {
	var seen []BodyBox
	back := zone.R.T()
	for _, b := range boxes {
		b.From, b.To = b.From.Sub(zone.T), b.To.Sub(zone.T)
		if back != geom.IdentityRot() {
			b.turn = &back
		}
		seen = append(seen, b)
	}
	return seen
}
