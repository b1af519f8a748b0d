package scene_test

import (
	"math"
	"testing"

	"gridferry/gen"
	"gridferry/gen/geom"
	"gridferry/gen/scene"
)

// TestPartsLieAsTheLayoutSays: the corners of every part that stands in a slot at the start, from the figures of the scene,
// are those of the layout's.
func TestPartsLieAsTheLayoutSays(t *testing.T) {
	for name, j := range demos(t) {
		s := shown(t, j, large)
		looked := 0
		for k, g := range j.Layout.Grids {
			of := &s.Grids[k]
			for n := range g.Size() {
				if !g.Full.Has(n) {
					continue
				}
				lie := g.Lies.Way(g.Lies.At(n))
				part := j.Layout.PartIn(g)
				if lie != nil {
					part = lie.Part
				}
				if !part.Sized() {
					continue
				}
				looked++
				want := g.Frame.Base.Mul(g.Pose(g.Slot(n), part, lie))
				got := standing(s, of, n, of.Lain[int32(n)])
				half := part.Size.Scale(0.5)
				for i, corner := range eight(geom.Vec{}.Sub(half), half) {
					if off := got[i].Dist(want.Apply(corner)); off > 0.01 {
						t.Fatalf("%s: a corner of the part in slot %d of %s is %g mm off", name, n, g.Name, off)
					}
				}
			}
		}
		if looked == 0 && name != "panels" {
			t.Errorf("%s: no part was looked at", name)
		}
	}
}

// TestBoundsHoldEverything: parts, slots, keep-out boxes and the tool's ways lie within the bounds, and these are no larger
// than the whole of it.
func TestBoundsHoldEverything(t *testing.T) {
	for name, j := range demos(t) {
		s := shown(t, j, large)
		lo, hi := point(s.Bounds[0]), point(s.Bounds[1])
		var least, most geom.Vec
		see := func(what string, p geom.Vec) {
			least, most = least.Min(p), most.Max(p)
			if p.Min(lo).Dist(lo) > 0.01 || p.Max(hi).Dist(hi) > 0.01 {
				t.Errorf("%s: %s at %v is out of the bounds %v to %v", name, what, p, lo, hi)
			}
		}
		for k := range s.Grids {
			g := &s.Grids[k]
			for n := range g.Count {
				for _, corner := range standing(s, g, n, 0) {
					see("a part in "+g.Name, corner)
				}
			}
		}
		for _, k := range s.KeepOuts {
			for _, corner := range eight(point(k.From), point(k.To)) {
				see(k.Name, poseIn(k.Pose).Apply(corner))
			}
		}
		for i := range s.Moves.N {
			see("the tool", vec(s.Moves.At, i))
		}
		if s.Arm == nil && (least.Dist(lo) > 400 || most.Dist(hi) > 400) {
			t.Errorf("%s: the bounds are %v to %v, and all lies in %v to %v", name, lo, hi, least, most)
		}
	}
}

// standing is the corners of a part in a slot as a viewer finds them.
func standing(s *scene.Scene, g *scene.Grid, slot int, lies int32) []geom.Vec {
	turn := scene.Quaternion(g.Turns[0])
	if g.Turn != nil {
		turn = g.Turns[g.Turn[slot]]
	}
	at, solid := geom.Pose{R: rotation(turn), T: vec(g.At, slot)}, g.Solid
	if lies > 0 {
		l := g.Lies[lies-1]
		at, solid = at.Mul(geom.Pose{R: rotation(l.Turn), T: point(l.Shift)}), l.Solid
	}
	var lo, hi geom.Vec
	switch one := s.Solids[solid]; {
	case one.Corners != nil: // something flat
		lo, hi = point(one.Corners[0]).Min(point(one.Corners[1])), point(one.Corners[2]).Max(point(one.Corners[3]))
	case one.Box != nil:
		lo, hi = point(one.Box.From), point(one.Box.To)
	case one.Cylinder != nil:
		r := float64(one.Cylinder.Radius)
		lo, hi = point(one.Cylinder.From).Sub(geom.Vec{X: r, Y: r}), point(one.Cylinder.To).Add(geom.Vec{X: r, Y: r})
	}
	corners := eight(lo, hi)
	for i := range corners {
		corners[i] = at.Apply(corners[i])
	}
	return corners
}

func rotation(q scene.Quaternion) geom.Rot {
	r, _ := geom.Quaternion(q[0], q[1], q[2], q[3])
	return r
}

func eight(lo, hi geom.Vec) (all []geom.Vec) {
	for i := range 8 {
		c := lo
		if i&1 > 0 {
			c.X = hi.X
		}
		if i&2 > 0 {
			c.Y = hi.Y
		}
		if i&4 > 0 {
			c.Z = hi.Z
		}
		all = append(all, c)
	}
	return all
}

// TestPartsEndWhereTheManifestSays: going through the grips and releases of the scene as a viewer does, every part ends where
// the manifest has it, at the same time.
func TestPartsEndWhereTheManifestSays(t *testing.T) {
	for name, j := range demos(t) {
		s := shown(t, j, large)
		ends, looked := carried(j, s), 0
		for line := range j.Manifest(nil).Lines {
			part, there := ends[line.To]
			if part.feeds {
				continue // in a chute, where none stays
			}
			looked++
			if !there || part.from != line.From || math.Abs(part.at-line.PlacedAt) > 0.001*float64(s.Moves.N) || part.id != "" && part.id != line.Part+" "+line.ID {
				t.Errorf("%s: in %s the part ends as %+v, and in the manifest as %+v", name, line.To, part, line)
			}
		}
		if looked == 0 {
			t.Errorf("%s: no part was looked at", name)
		}
	}
}

// ended is a part where it ends.
type ended struct {
	from  string
	at    float64 // s, since when
	id    string
	feeds bool // nothing ends there
}

// carried goes through the moves of a scene, and says what stands in each slot at the end.
func carried(j *gen.Job, s *scene.Scene) map[string]ended {
	in, hands := map[string]ended{}, map[int32]ended{}
	for k, g := range s.Grids {
		for _, i := range g.Full {
			in[label(j, k, int(i))] = ended{from: label(j, k, int(i)), id: g.IDs[i], feeds: g.Feeds}
		}
	}
	seconds, m := 0.0, &s.Moves
	for i := range m.N {
		seconds += m.Seconds[i]
		kind, zone := m.Kinds[m.Kind[i]], m.Zone[int32(i)]
		if kind != "grip" && kind != "release" || m.Slot[2*i] < 0 {
			continue
		}
		feeds, slot := s.Grids[m.Slot[2*i]].Feeds, label(j, int(m.Slot[2*i]), int(m.Slot[2*i+1]))
		if part := hands[zone]; kind == "release" && part.from != "" {
			in[slot] = ended{part.from, seconds, m.Part[int32(i)], feeds}
			delete(hands, zone)
		} else if kind == "grip" {
			hands[zone] = in[slot]
			if !feeds {
				delete(in, slot)
			}
		}
	}
	return in
}

func label(j *gen.Job, grid, i int) string {
	g := j.Layout.Grids[grid]
	return g.Name + " " + g.Label(g.Slot(i))
}
