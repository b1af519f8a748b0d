package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// LinkRoom is what the link behind a joint fills, in the arm's own coordinates with all joints at 0.
type LinkRoom struct {
	Joint  Text
	Shapes []*LinkShape
}

// LinkShape is all points within Radius of the line from From to To: a capsule, or a sphere where
// only From is set. Without a radius it is the box that has the two as opposite corners.
type LinkShape struct {
	From, To Vector
	Radius   Real
}

// MostLinkShapes bounds the shapes of one link: each is looked at along every motion.
const MostLinkShapes = 64

func linkRooms(dst *[]*LinkRoom) decode.Form {
	return decode.Texts{What: "shapes of links, by the name of the joint before each", Each: func(joint decode.Node) decode.Form {
		l := &LinkRoom{}
		if !joint.IsZero() {
			l.Joint = Text{V: joint.Text(), Place: joint.Place()}
			*dst = append(*dst, l)
		}
		list := decode.List{What: "shapes", Each: func() decode.Form { return added(&l.Shapes, LinkShape{}).form() }}
		return decode.Then(decode.Under(list, schema.With("maxItems", MostLinkShapes)), func(r *decode.Reader, n decode.Node) {
			if len(l.Shapes) > MostLinkShapes {
				r.List.Errorf("wrong-length", n.Place(), "the link has %d shapes, at most %d fit", len(l.Shapes), MostLinkShapes).WithHint("one capsule around several small shapes will do")
				l.Shapes = nil
			}
		})
	}}
}

func (s *LinkShape) form() decode.Form {
	radius := func(doc string) decode.Key {
		return decode.Must("radius", doc, decode.Quantity(&s.Radius, unit.Length, decode.Positive))
	}
	ways := []string{"capsule", "sphere", "box"}
	return decode.Object{What: "a shape", Rules: []schema.Rule{schema.OneOf(ways...)}, Check: func(r *decode.Reader, written decode.Written) {
		if written != nil && len(written) != 1 {
			*s = LinkShape{}
			for _, way := range ways {
				if at := written[way]; !at.IsZero() {
					r.List.Errorf("two-bodies", at, "a shape is one of capsule, sphere, box").WithHint("begin another item of the list for each")
					return
				}
			}
		}
	}, Keys: []decode.Key{
		decode.May("capsule", "All points within a radius of a line.", decode.Object{What: "a capsule", Keys: []decode.Key{
			decode.Must("from", "One end of the line: x, y, z in mm.", decode.Vector(&s.From)),
			decode.Must("to", "The other end.", decode.Vector(&s.To)),
			radius("In mm."),
		}}),
		decode.May("sphere", "All points within a radius of a point.", decode.Object{What: "a sphere", Keys: []decode.Key{
			decode.Must("at", "The point: x, y, z in mm.", decode.Vector(&s.From)),
			radius("In mm."),
		}}),
		decode.May("box", "A box along the arm's axes.", decode.Object{What: "a box", Keys: []decode.Key{
			decode.Must("from", "One corner: x, y, z in mm.", decode.Vector(&s.From)),
			decode.Must("to", "The opposite corner.", decode.Vector(&s.To)),
		}}),
	}}
}

// knownLinks reports rooms of links that the arm does not have.
func (r *reader) knownLinks(a *Arm) {
	names := make([]string, len(a.Joints))
	for i, j := range a.Joints {
		names[i] = j.Name.V
	}
	for _, l := range a.Links {
		if a.Joint(l.Joint.V) < 0 {
			decode.Unknown(r.List, "joint", l.Joint, names)
		}
	}
}

// Joint is the number of the joint with a name, from 0; -1 for none.
func (a *Arm) Joint(name string) int {
	for i, j := range a.Joints {
		if j.Name.V == name {
			return i
		}
	}
	return -1
}
