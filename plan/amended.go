package plan

import (
	"slices"

	"gridferry/plan/diag"
)

// The functions of this file give plans that differ from another in one thing, as if it had been written so. The other plan stays as it is.

// WithPose is the plan with a pose of the cell in the base, mm and degrees: one more, or in place of the one of that name.
func (p *Plan) WithPose(name string, at, rpy [3]float64) *Plan {
	here := p.Cell.Place
	pose := NamedPose{Name: Text{V: name, Place: here}, Pose: Pose{Place: here, At: Vector{V: at, Place: here}, RPY: Vector{V: rpy, Place: here}}}
	is := func(other *NamedPose) bool { return other.Name.V == name }
	return p.withCell(func(c *Cell) {
		if !slices.ContainsFunc(c.Poses, is) {
			c.Poses = append(slices.Clone(c.Poses), &pose)
			return
		}
		c.Poses = withOne(c.Poses, is, func(other *NamedPose) { pose.Name = other.Name; *other = pose })
	})
}

// WithEntry is the plan with other entry poses of a grid.
func (p *Plan) WithEntry(grid string, poses []string) *Plan {
	return p.withMotion(grid, func(m *Motion, here diag.Place) {
		m.Entry = Entry{Place: here}
		for _, name := range poses {
			m.Entry.Poses = append(m.Entry.Poses, Text{V: name, Place: here})
		}
	})
}

// WithClear is the plan with another clear pose of a grid.
func (p *Plan) WithClear(grid, pose string) *Plan {
	return p.withMotion(grid, func(m *Motion, here diag.Place) { m.Clear = Text{V: pose, Place: here} })
}

// WithFrameAt is the plan with a frame at another pose in its parent, given by roll, pitch and yaw; or as another quaternion turns it, if
// that is how it is given.
func (p *Plan) WithFrameAt(name string, at, rpy [3]float64) *Plan {
	return p.withFrame(name, func(f *Frame) {
		f.Pose.At.V = at
		if !f.Pose.Quaternion.IsSet() {
			f.Pose.RPY = Vector{V: rpy, Place: f.Pose.At.Place}
		}
	})
}

// WithFrameMoved is the plan with all points moved by which a frame was measured: mm in its parent.
func (p *Plan) WithFrameMoved(name string, by [3]float64) *Plan {
	return p.withFrame(name, func(f *Frame) {
		if t := f.ThreePoints; t != nil {
			f.ThreePoints = &ThreePoints{t.Place, moved(t.Origin, by), moved(t.AlongX, by), moved(t.TowardY, by)}
		}
		if b := f.BestFit; b != nil {
			fit := *b
			fit.Points = nil
			for _, point := range b.Points {
				one := *point
				one.Measured = moved(one.Measured, by)
				fit.Points = append(fit.Points, &one)
			}
			f.BestFit = &fit
		}
	})
}

func (p *Plan) withCell(change func(c *Cell)) *Plan {
	amended, cell := *p, *p.Cell
	change(&cell)
	amended.Cell = &cell
	return &amended
}

func (p *Plan) withFrame(name string, change func(f *Frame)) *Plan {
	return p.withCell(func(c *Cell) { c.Frames = withOne(c.Frames, func(f *Frame) bool { return f.Name.V == name }, change) })
}

func (p *Plan) withMotion(grid string, change func(m *Motion, here diag.Place)) *Plan {
	amended := *p
	amended.Grids = withOne(p.Grids, func(g *Grid) bool { return g.Name.V == grid }, func(g *Grid) {
		m := Motion{Place: g.Place}
		if g.Motion != nil {
			m = *g.Motion
		}
		change(&m, m.Place)
		g.Motion = &m
	})
	return &amended
}

// withOne is a list with one thing of it changed.
func withOne[T any](list []*T, is func(*T) bool, change func(*T)) []*T {
	list = slices.Clone(list)
	if i := slices.IndexFunc(list, is); i >= 0 {
		one := *list[i]
		change(&one)
		list[i] = &one
	}
	return list
}

func moved(v Vector, by [3]float64) Vector {
	for i := range v.V {
		v.V[i] += by[i]
	}
	return v
}
