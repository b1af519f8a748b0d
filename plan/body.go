package plan

import "gridferry/plan/decode"

// BodyBox is a box that a tool fills: two opposite corners in the tool's frame, whose origin is
// the TCP and whose +Z points out of the tool.
type BodyBox struct {
	Name     Text
	From, To Vector // mm
	Open     Vector // mm, how far it stands from there while the gripper is open
}

// MostBodyBoxes bounds the boxes of one tool: each is looked at along every motion.
const MostBodyBoxes = 64

// bodyKey is the boxes of a tool, by name.
func (t *Tool) bodyKey() decode.Key {
	return decode.May("body", "Boxes that the tool fills, by name, instead of `radius`: palm, fingers, cups. `check` keeps them out of keep-out boxes and off the parts that stand beside a slot.",
		decode.Table{What: "boxes of a tool", Each: func(name Text) decode.Form {
			return added(&t.Body, BodyBox{Name: name}).form()
		}}).Else("nothing is known of fingers")
}

func (b *BodyBox) form() decode.Form {
	return decode.Object{What: "a box of a tool", Keys: []decode.Key{
		decode.Must("from", "One corner: x, y, z in mm in the tool's frame, with its origin at the TCP and +Z out of the tool.", decode.Vector(&b.From)),
		decode.Must("to", "The opposite corner.", decode.Vector(&b.To)),
		decode.May("open", "How far the box stands from there while the gripper is open: x, y, z in mm.", decode.Vector(&b.Open)).Default([]int{0, 0, 0}),
	}}
}

// oneBody holds a tool to one way of saying what room it takes, and to a number of boxes.
func (t *Tool) oneBody(r *decode.Reader, written decode.Written) {
	if written.Has("radius") && written.Has("body") {
		r.List.Errorf("two-bodies", written["radius"], "\"radius\" and \"body\" both say what room the tool %q takes", t.Name.V).
			WithNote(written["body"], "\"body\" stands here").WithHint("keep one of the two")
	}
	if n := len(t.Body); n > MostBodyBoxes {
		r.List.Errorf("too-many-boxes", t.Body[MostBodyBoxes].Name.Place, "the tool %q has %d boxes, wanted %d or fewer", t.Name.V, n, MostBodyBoxes).
			WithHint("put boxes that stand beside each other into one")
		t.Body = t.Body[:MostBodyBoxes]
	}
}
