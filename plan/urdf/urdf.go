// Package urdf reads arms from URDF, an XML format of links and joints, and writes it. It knows
// what the format says of geometry and limits; all else in such a file, such as colours, masses
// and motors, is passed over. Lengths are mm and angles degrees here: metres and radians are
// turned into them where a figure is read, and back where it is written.
//
// What the format means is from the documentation of its joints and links
// (wiki.ros.org/urdf/XML, from memory); check_urdf of Debian's liburdfdom-tools is asked in tests.
package urdf

import "gridferry/plan/diag"

// Text and Figures are values with their places in the file.
type Text struct {
	V     string
	Place diag.Place
}

// Robot is what a file describes: links in a tree, with a joint between each and the one before it.
type Robot struct {
	Name   string
	File   string
	Links  []*Link
	Joints []*Joint
}

// Link is a rigid body with a coordinate system, in which its shapes stand.
type Link struct {
	Name   Text
	Shapes []Shape
	Meshes []Text // files of shapes that were not read
}

// Kind is what a joint lets its child do.
type Kind string

// The kinds of joints. Of the last two an arm has none that it could be moved by.
const (
	Revolute   Kind = "revolute"
	Continuous Kind = "continuous"
	Prismatic  Kind = "prismatic"
	Fixed      Kind = "fixed"
	Floating   Kind = "floating"
	Planar     Kind = "planar"
)

// Joint leads from a link to the next one.
type Joint struct {
	Name          Text
	Kind          Kind
	KindPlace     diag.Place
	Parent, Child Text
	Origin        Origin     // of the child in the parent, with the joint at 0
	Axis          [3]float64 // in the child; of any length but 0
	Lo, Hi        float64    // degrees or mm
	Speed         float64    // degrees/s or mm/s; 0 where the file says 0, or nothing
	Mimics        Text       // the joint that it follows; not set for none
}

// Moves reports whether an arm can be moved by the joint.
func (j *Joint) Moves() bool {
	return j.Kind == Revolute || j.Kind == Continuous || j.Kind == Prismatic
}

// Slides reports whether the joint's readings are mm.
func (j *Joint) Slides() bool { return j.Kind == Prismatic }

// Origin is a place and a turn: about the fixed X, then Y, then Z axes.
type Origin struct{ XYZ, RPY [3]float64 }

// Shape is a room that a link fills, about its origin in the link: a box by its Size; or a
// cylinder about Z by Length and Radius, of which a sphere is one without length.
type Shape struct {
	Origin         Origin
	Size           [3]float64
	Length, Radius float64
	Round          bool // a sphere or a cylinder
}

// wholeTurn is as far as a joint without limits goes either way: a choice of ours, since readings
// need a range.
const wholeTurn = 360
