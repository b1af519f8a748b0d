package layout

import (
	"gridferry/gen/geom"
	"gridferry/gen/slot"
)

// Lying is how the parts lie in the slots of all grids while a list goes by: a part that is put
// down keeps the pose that it had in the tool, and hangs in the next one as it lies there.
type Lying struct{ grids map[*Grid]*lying }

type lying struct {
	lies Lies
	held held // how a part of the grid was taken last,
	laid laid // and how one was put down last: mostly all of them are alike
}

type held struct {
	alike
	inTool geom.Pose
}

type laid struct {
	alike
	inTool geom.Pose
	lies   int
}

// alike is what the lie of a part, in a tool or in a slot, depends on.
type alike struct {
	part   *Part
	lies   int      // of one that is taken: the number of its way in the slot
	tool   geom.RPY // how that is turned in the base
	turned float64  // the slot
}

// Lying begins with the grids as they are before the first move.
func (l *Layout) Lying() *Lying {
	of := &Lying{make(map[*Grid]*lying, len(l.Grids))}
	for _, g := range l.Grids {
		of.grids[g] = &lying{lies: g.Lies.Copy()}
	}
	return of
}

// In is how the parts of a grid lie now.
func (l *Lying) In(g *Grid) *Lies { return &l.grids[g].lies }

// Take is the pose of a part's middle in a tool that takes it out of a slot; the tool is turned
// so in the base.
func (l *Lying) Take(g *Grid, s slot.Slot, part *Part, tool geom.RPY) geom.Pose {
	in := l.grids[g]
	_, turned := g.Pattern.At(s)
	if now := (alike{part, in.lies.At(g.Index(s)), tool, turned}); in.held.alike != now {
		lie, turn := in.lies.Way(now.lies), tool.Rot()
		if lie != nil && lie.Part != part { // the plan takes it for another one than lies there
			lie = nil
		}
		in.held = held{now, g.Held(s, part, lie, &turn)}
	}
	return in.held.inTool
}

// Put takes down how a part comes to lie in a slot where a tool that is turned so in the base lets
// go of it. Of one whose size is not known, nobody can see how it lies.
func (l *Lying) Put(g *Grid, s slot.Slot, part *Part, inTool geom.Pose, tool geom.RPY) {
	in, number := l.grids[g], 0
	if part.Sized() {
		_, turned := g.Pattern.At(s)
		if now := (alike{part, 0, tool, turned}); in.laid.alike != now || in.laid.inTool != inTool {
			turn := tool.Rot()
			lie := g.Laid(s, part, inTool, &turn)
			in.laid = laid{now, inTool, in.lies.Number(&lie)}
		}
		number = in.laid.lies
	}
	in.lies.Set(g.Index(s), g.Size(), number)
}
