package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/schema"
)

// Zone is one of several places of a tool that each take a part: a cup of a vacuum tool, a
// pair of fingers in a row of them.
type Zone struct {
	Name          Text
	Pose          Pose // of its centre in the tool's frame, with its origin at the TCP
	Grip, Release Action
	Number        Whole // that the controller knows it by
}

// MostZones bounds the zones of one tool: of each the outputs are looked at in every step.
const MostZones = 64

// zonesKey is the zones of a tool, by name.
func (t *Tool) zonesKey() decode.Key {
	return decode.May("zones", "Places of the tool that each take one part, by name, in the order in which the parts of a group go into them; each has its own `grip` and `release`. "+
		"In lists and programs each is a tool of its own: the zone `left` of the tool `twin` is `twin left`.",
		decode.Table{What: "zones", Each: func(name Text) decode.Form {
			return added(&t.Zones, Zone{Name: name}).form()
		}}).Else("the tool takes one part, at its TCP")
}

func (z *Zone) form() decode.Form {
	keys := append(z.Pose.keys(decode.Must, unturned),
		decode.Must("grip", "What closes on a part in this zone.", z.Grip.form("grip", z.Grip.holdsKey())),
		decode.Must("release", "What lets that part go.", z.Release.form("release")),
		numberKey(&z.Number))
	zone := decode.Object{What: "a zone", Keys: keys, Check: z.Pose.oneOrientation, Rules: []schema.Rule{oneOrientation}}
	return decode.At(&z.Pose.Place, zone)
}

// zoned are keys of a tool that its zones have in its place.
var zoned = []string{"grip", "release", "number"}

// oneGripper holds a tool to a gripper of its own, or to zones which each have one.
func (t *Tool) oneGripper(r *decode.Reader, written decode.Written) {
	if written == nil {
		return
	}
	if !written.Has("zones") {
		for _, key := range zoned[:2] {
			if !written.Has(key) {
				r.List.Errorf("missing-key", t.Place, "a tool needs %q", key)
			}
		}
		return
	}
	for _, key := range zoned {
		if written.Has(key) {
			r.List.Errorf("two-grippers", written[key], "the tool %q has zones, and %q of its own beside them", t.Name.V, key).
				WithNote(written["zones"], "\"zones\" stands here").WithHint("write %q into each zone", key)
		}
	}
	if n := len(t.Zones); n > MostZones {
		r.List.Errorf("too-many-zones", t.Zones[MostZones].Name.Place, "the tool %q has %d zones, wanted %d or fewer", t.Name.V, n, MostZones)
		t.Zones = t.Zones[:MostZones]
	}
	if len(t.Zones) == 0 {
		r.List.Errorf("no-zones", written["zones"], "the tool %q has no zone", t.Name.V).
			WithHint("name each place that takes a part, or leave \"zones\" out")
	}
}
