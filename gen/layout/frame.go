package layout

import (
	"strings"

	"gridferry/gen/geom"
	"gridferry/gen/measure"
	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Frame is a named coordinate system, placed in the base.
type Frame struct {
	Number int // from 1; the base is 1
	Known  int // the number that the controller knows it by
	Name   string
	Place  diag.Place
	Parent *Frame         // nil for the base
	In     geom.Pose      // in Parent
	Base   geom.Pose      // in the base
	Fit    *measure.Frame // what it is worth; nil where it was not measured
}

// frames chains every frame to the base.
func (r *resolver) frames() {
	base := &Frame{Number: 1, Known: 1, Name: plan.BaseFrame, In: geom.Identity, Base: geom.Identity}
	r.out.Frames = []*Frame{base}
	r.frameOf[base.Name] = base
	c := chainer{r: r, written: map[string]*plan.Frame{}, on: map[string]int{}}
	for _, f := range r.cell.Frames {
		if f.Name.V != plan.BaseFrame {
			c.written[f.Name.V] = f
		}
	}
	for _, f := range r.cell.Frames {
		c.resolve(f)
	}
	for _, f := range r.cell.Frames {
		if frame := r.frameOf[f.Name.V]; frame != nil && frame != base {
			frame.Number = len(r.out.Frames) + 1
			frame.Known = f.Number.Or(frame.Number)
			r.out.Frames = append(r.out.Frames, frame)
		}
	}
	numbers := numbers{what: "frame", list: r.list}
	numbers.add(base.Name, base.Known, plan.Whole{})
	for _, f := range r.cell.Frames {
		if frame := r.frameOf[f.Name.V]; frame != nil && frame != base {
			numbers.add(frame.Name, frame.Known, f.Number)
		}
	}
	numbers.check()
}

// chainer resolves frames parents first, whatever order they are written in.
type chainer struct {
	r       *resolver
	written map[string]*plan.Frame
	path    []string       // the frames being resolved, outermost call first
	on      map[string]int // where in path each of them is
}

func (c *chainer) resolve(f *plan.Frame) *Frame {
	if done, ok := c.r.frameOf[f.Name.V]; ok {
		return done
	}
	if i, open := c.on[f.Name.V]; open {
		c.cycle(f, c.path[i:])
		return nil
	}
	c.on[f.Name.V] = len(c.path)
	c.path = append(c.path, f.Name.V)
	frame := c.place(f)
	c.path = c.path[:len(c.path)-1]
	delete(c.on, f.Name.V)
	if _, done := c.r.frameOf[f.Name.V]; !done {
		c.r.frameOf[f.Name.V] = frame
	}
	return c.r.frameOf[f.Name.V]
}

func (c *chainer) place(f *plan.Frame) *Frame {
	fit, asked := c.measured(f)
	var in geom.Pose
	ok := fit != nil
	switch {
	case ok:
		in = fit.Pose()
	case !asked:
		in, ok = c.r.pose(f.Pose, geom.IdentityRot())
	}
	parent := c.parent(f)
	if !ok || parent == nil {
		return nil
	}
	return &Frame{Name: f.Name.V, Place: f.Name.Place, Parent: parent, In: in, Base: parent.Base.Mul(in), Fit: fit}
}

func (c *chainer) parent(f *plan.Frame) *Frame {
	if f.Parent.IsSet() {
		if written, ok := c.written[f.Parent.V]; ok {
			return c.resolve(written)
		}
		if f.Parent.V != plan.BaseFrame {
			decode.Unknown(c.r.list, "frame", f.Parent, append(hintable(c.r.list, c.written), plan.BaseFrame))
			return nil
		}
	}
	return c.r.frameOf[plan.BaseFrame]
}

// cycle reports frames that are placed in each other, once, and marks them all.
func (c *chainer) cycle(f *plan.Frame, names []string) {
	for _, name := range names {
		c.r.frameOf[name] = nil
	}
	circle := strings.Join(append(append([]string{}, names...), names[0]), " in ")
	c.r.list.Errorf("frame-cycle", c.written[names[len(names)-1]].Parent.Place, "the frame %q is nested in itself: %s", f.Name.V, circle).
		WithHint("one of them has to be placed in the base")
}

// measured works out a frame from its points; false where it is not given by any.
func (c *chainer) measured(f *plan.Frame) (fit *measure.Frame, asked bool) {
	switch {
	case f.ThreePoints != nil:
		return measure.ThreePoints(f.Name.V, f.ThreePoints, c.r.touchError(), c.r.list), true
	case f.BestFit != nil:
		return measure.BestFit(f.Name.V, f.BestFit, c.r.touchError(), c.r.list), true
	}
	return nil, false
}

// touchError is how far off one touch may be, in mm.
func (r *resolver) touchError() float64 { return r.cell.TouchError.Or(plan.DefaultTouchError) }
