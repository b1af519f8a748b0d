package scene

import (
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
)

// cell is what is bolted down.
func (b *builder) cell() {
	l, s := b.job.Layout, b.scene
	s.Frames, s.KeepOuts, s.Poses = []Frame{}, []KeepOut{}, []Named{}
	for _, f := range l.Frames[1:] {
		s.Frames = append(s.Frames, Frame{f.Name, f.Parent.Name, poseOf(f.Base), b.place(f.Place)})
	}
	for _, k := range l.Boxes {
		s.KeepOuts = append(s.KeepOuts, KeepOut{k.Name, poseOf(k.Frame.Base), vecOf(k.From), vecOf(k.To), b.place(k.Place)})
	}
	own := l.Figures(nil, nil)
	for _, p := range l.Poses {
		s.Poses = append(s.Poses, Named{p.Name, posed(p.Base(own.Tool))})
	}
	if own.Start != nil {
		at := posed(own.Start.Base(own.Tool))
		s.Start = &at
	}
	s.Reach = reachOf(&l.Cell.Machine)
}

func posed(p *move.Point) Pose { return poseOf(geom.At(p.Vec, p.RPY)) }

// reachOf is nil where the cell says nothing of it.
func reachOf(m *plan.Machine) *Reach {
	if !m.Radius.IsSet() && !m.Height.IsSet() {
		return nil
	}
	r := new(Reach)
	if m.Radius.IsSet() {
		r.Least, r.Most = length(m.Radius.V[0]), length(m.Radius.V[1])
	}
	if m.Height.IsSet() {
		r.Low, r.High = length(m.Height.V[0]), length(m.Height.V[1])
	}
	return r
}

func length(v float64) *Length { return (*Length)(&v) }

func toolsOf(l *layout.Layout) []Tool {
	tools := []Tool{}
	for _, t := range l.Tools {
		tool := Tool{Name: t.Name, TCP: poseOf(t.TCP), Radius: Length(t.Radius), Body: []BodyBox{}, Stand: standOf(t)}
		for i := range t.Body {
			tool.Body = append(tool.Body, bodyBox(&t.Body[i]))
		}
		for _, z := range t.Zones {
			tool.Zones = append(tool.Zones, poseOf(t.TCP.Inverse().Mul(z.TCP)))
		}
		tools = append(tools, tool)
	}
	return tools
}

func bodyBox(b *layout.BodyBox) BodyBox {
	box := BodyBox{Box: Box{From: vecOf(b.From), To: vecOf(b.To), Turn: turnOf(b.Edges(geom.IdentityRot()))}}
	if b.Moves() {
		open := vecOf(b.Open)
		box.Open = &open
	}
	return box
}

// turnOf is nil for what is not turned.
func turnOf(r geom.Rot) *Quaternion {
	if r == geom.IdentityRot() {
		return nil
	}
	q := quaternionOf(r)
	return &q
}

// standOf is where a tool hangs: where it is let go of, which is where the last output is written on the way into its
// stand or, of a tool that is only ever fetched, the first one on the way out of it.
func standOf(t *layout.Tool) *Pose {
	var stand, at *layout.NamedPose
	for _, s := range t.Leave {
		if s.Kind == move.Set {
			stand = at
		} else if s.Pose != nil {
			at = s.Pose
		}
	}
	at = nil
	for _, s := range t.Fetch {
		if s.Pose != nil {
			at = s.Pose
		} else if s.Kind == move.Set && stand == nil {
			stand = at
		}
	}
	if stand == nil {
		return nil
	}
	pose := posed(stand.Base(t))
	return &pose
}
