package layout

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/slot"
)

// Lies is how the parts in a grid's slots lie. Nearly all lie as their slots say and
// cost nothing; the others share a few ways, and each slot then has the number of its own.
type Lies struct {
	usual *Part // that lies as its slot says where nothing else is taken down; nil for any
	ways  []Lie
	of    []int32 // by slot: 0 as the slot says, or from 1 on one of the ways; nil while all are 0
}

// Lie is how a part lies otherwise than its slot says, or what lies there where that is not what usually does: where its middle is from the
// slot's position and how it is turned there, along the axes of a part that lies rightly.
type Lie struct {
	Part *Part
	Pose geom.Pose
}

// At is the number of the way in which the part in slot i lies.
func (l *Lies) At(i int) int {
	if l.of == nil {
		return 0
	}
	return int(l.of[i])
}

// Way is the way with a number; nil for 0, where parts lie as their slots say.
func (l *Lies) Way(number int) *Lie {
	if number == 0 {
		return nil
	}
	return &l.ways[number-1]
}

// Ways are all of them.
func (l *Lies) Ways() []Lie { return l.ways }

// Set takes down how the part in slot i of so many lies.
func (l *Lies) Set(i, of, number int) {
	if l.of == nil {
		if number == 0 {
			return
		}
		l.of = make([]int32, of)
	}
	l.of[i] = int32(number)
}

// Number is that of a way, 0 for the usual part if it lies as its slot says. A way that is new
// becomes the last one.
func (l *Lies) Number(lie *Lie) int {
	if lie.near(lie.Part.rightly()) && (l.usual == nil || l.usual == lie.Part) {
		return 0
	}
	for i := range l.ways {
		if l.ways[i].Part == lie.Part && lie.near(l.ways[i].Pose) {
			return i + 1
		}
	}
	l.ways = append(l.ways, *lie)
	return len(l.ways)
}

// Copy is the same for a run of its own.
func (l *Lies) Copy() Lies {
	return Lies{l.usual, append([]Lie(nil), l.ways...), append([]int32(nil), l.of...)}
}

// Usual is the part of which a slot says how it lies; nil where that may be any.
func (l *Lies) Usual() *Part { return l.usual }

// rightly is the pose of a part that lies as its slot says.
func (p *Part) rightly() geom.Pose {
	return geom.Pose{R: geom.IdentityRot(), T: geom.Vec{Z: p.Middle()}}
}

// near reports whether no point of the part would move by more than a quarter of the
// depth to which parts may reach into each other without a word.
func (l *Lie) near(other geom.Pose) bool {
	const hair = 0.0025 // mm
	off := l.Pose.T.Sub(other.T).Norm()
	for k := range 3 {
		apart := l.Pose.R.Column(k).Sub(other.R.Column(k)).Norm()
		off += float64(apart * [3]float64{l.Part.Size.X, l.Part.Size.Y, l.Part.Size.Z}[k] / 2)
	}
	return off <= hair
}

// Turned is how far the part is turned out of the lie that its slot says, in degrees,
// turns that make no difference left aside.
func (l *Lie) Turned() float64 { return l.Pose.R.Angle() }

// Pose is where the middle of a part is in a slot, in the grid's frame; lie is nil for
// one that lies as the slot says.
func (g *Grid) Pose(s slot.Slot, p *Part, lie *Lie) geom.Pose {
	at := geom.Pose{R: g.Pattern.Lie(s), T: g.At(s)}
	if lie != nil {
		return at.Mul(lie.Pose)
	}
	return at.Mul(p.rightly())
}

// Held is the pose of a part's middle in a tool that takes it out of a slot; tool is how
// that is turned in the base.
func (g *Grid) Held(s slot.Slot, p *Part, lie *Lie, tool *geom.Rot) geom.Pose {
	pose := g.Pose(s, p, lie)
	pose.T = pose.T.Sub(g.At(s))
	return geom.Pose{R: tool.T()}.Mul(geom.Pose{R: g.Frame.Base.R}).Mul(pose)
}

// Laid is how a part comes to lie in a slot where a tool lets go of it: the part keeps
// the pose that it has in the tool. Of the turns that make no difference to it, it gets
// the one that turns it least.
func (g *Grid) Laid(s slot.Slot, p *Part, inTool geom.Pose, tool *geom.Rot) Lie {
	back := g.Frame.Base.R.Mul(g.Pattern.Lie(s)).T()
	pose := geom.Pose{R: back.Mul(*tool)}.Mul(inTool)
	pose.R = p.least(pose.R)
	return Lie{p, pose}
}

// least takes off a rotation, about the part's own Z, whatever turn makes no difference.
func (p *Part) least(r geom.Rot) geom.Rot {
	about := geom.Atan2(r[1][0]-r[0][1], r[0][0]+r[1][1])
	if alike := p.alike(); alike > 0 {
		about = alike * math.Round(about/alike)
	}
	return r.Mul(geom.RotZ(-about))
}
