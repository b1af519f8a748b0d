package layout

import (
	"gridferry/gen/geom"
	"gridferry/gen/solid"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// BodyBox is a box that a tool fills: opposite corners in the tool's frame, From the lower one
// in every direction, and how far it stands from there while the gripper is open.
type BodyBox struct {
	Name     string
	Place    diag.Place
	From, To geom.Vec // mm
	Open     geom.Vec // mm

	in *geom.Pose // of the tool's frame in that of the TCP; nil where they are parallel: then the corners are from the TCP on
}

// Solid is the box of a tool whose TCP is at a pose, open or not.
func (b *BodyBox) Solid(tcp *geom.Pose, open bool) solid.Solid {
	if open {
		return b.Moved(tcp, b.Open)
	}
	return b.Moved(tcp, geom.Vec{})
}

// Moved is the box so far from where it is written.
func (b *BodyBox) Moved(tcp *geom.Pose, by geom.Vec) solid.Solid {
	if b.in != nil {
		in := tcp.Mul(*b.in)
		tcp = &in
	}
	return solid.Box(*tcp, b.From.Add(by), b.To.Add(by))
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
	in := zone.Inverse()
	for _, b := range boxes {
		if in.R == geom.IdentityRot() {
			b.From, b.To = b.From.Add(in.T), b.To.Add(in.T)
		} else {
			b.in = &in
		}
		seen = append(seen, b)
	}
	return seen
}
