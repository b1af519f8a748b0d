package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/unit"
)

// Motion is how the arm moves: in the plan, or as far as a grid or an entry of the
// transfers has figures of its own. The nearest wins, key by key.
type Motion struct {
	Place        diag.Place
	Tool         Text
	Approach     Real // mm
	Along        Along
	Travel       Real // mm/s
	Near         Real // mm/s
	Loaded       Real // mm/s
	FlyBy        Real // mm
	Clear        Text // a pose, or NoPose
	Entry        Entry
	ReleaseAbove Real // mm
	// Configuration is that in which the arm works, in its words, such as "front up up".
	Configuration Text
	Start         Text // of the plan only
	// OptionalStop is "never" (default) or "after-transfer".
	OptionalStop Text
}

// Along is the direction from a slot to its approach point: a word, or a direction in
// the grid's frame of any length but 0.
type Along struct {
	Word      Text
	Direction Vector
}

// IsSet reports whether one of the two is written.
func (a *Along) IsSet() bool { return a.Word.IsSet() || a.Direction.IsSet() }

// Entry is the poses on the way into a grid.
type Entry struct {
	Place diag.Place
	Poses []Text
}

// IsSet reports whether the key is written: an empty list says that there are none.
func (e *Entry) IsSet() bool { return !e.Place.IsZero() }

// NoPose is written where no pose is wanted.
const NoPose = "none"

// The words of "along", and the word of "optional_stop" that asks for one.
const (
	AlongFrame = "frame"
	AlongTool  = "tool"

	AfterTransfer = "after-transfer"
)

// form is the plan's own motion.
func (m *Motion) form() decode.Form {
	keys := append(m.keys(decode.Must),
		decode.May("start", "The pose that every program begins from, after a person has checked that the arm stands there: the first motion goes there at `near` speed and ends in a stop.",
			poseName(&m.Start)).Else("the clear pose, if there is one"))
	return decode.At(&m.Place, decode.Object{What: "motion", Keys: keys})
}

// nearer is the motion of a grid or of an entry: what it leaves out is as it is elsewhere.
func (m *Motion) nearer(of string) decode.Form {
	elsewhere := map[string]string{
		"start": "the whole program begins from one pose, which the plan's own \"motion\" names",
	}
	keys := m.keys(decode.May)
	for i := range keys {
		keys[i].Usual, keys[i].LeftOut = nil, "" // what is left out is settled elsewhere
	}
	return decode.At(&m.Place, decode.Shared("nearer_motion", decode.Object{What: "the motion of " + of, Keys: keys, Elsewhere: elsewhere}))
}

// keys are those that may stand in all three places; need says of some whether they have
// to be there.
func (m *Motion) keys(need func(name, doc string, form decode.Form) decode.Key) []decode.Key {
	return []decode.Key{
		need("tool", "The tool of the cell that is used. One entry of the transfers has one tool; between two that differ the tool is changed, at the clear pose.", decode.In("tools", decode.Name(&m.Tool))),
		need("approach", "How far from a slot the straight line begins, in mm: above it, unless `along` says otherwise.", decode.Quantity(&m.Approach, unit.Length, decode.Positive)),
		decode.May("along", "In which direction the approach point lies: `frame` is +Z of the grid's frame, `tool` is back along the tool's axis, and `[x, y, z]` is a direction in the frame, whose length says nothing.",
			m.Along.form()).Default(AlongFrame),
		need("speed", "Speeds of the TCP.", decode.Object{What: "speed", Keys: []decode.Key{
			need("travel", "From point to point, in mm/s.", decode.Quantity(&m.Travel, unit.Speed, decode.Positive)),
			need("near", "On straight lines: down to a slot and up from it, and those that steps ask for, in mm/s.", decode.Quantity(&m.Near, unit.Speed, decode.Positive)),
			decode.May("loaded", "From point to point while a part is held, in mm/s. Where none is written anywhere, it is as `travel`.", decode.Quantity(&m.Loaded, unit.Speed, decode.Positive)),
		}}),
		decode.May("fly_by", "Fly-by radius at poses and approach points on the way, in mm; 0 stops everywhere. "+
			"Where something other than a motion comes next (a gripper, an output, a wait, the end), or a straight line leads back along the one before it (to within a degree), it stops.",
			decode.Quantity(&m.FlyBy, unit.Length, decode.NotNegative)).Default(0).Was("blend"),
		decode.May("clear", "The pose that is passed before every pick and before every place, unless the arm already stands at the approach point that it is going to; or `none`.", decode.In("poses", decode.Name(&m.Clear), NoPose)).Else(NoPose),
		decode.May("entry", "Poses that are passed on the way into a grid from elsewhere, between the clear pose and the approach point, and in reverse on the way out of it.", m.Entry.form()).Else(NoPose),
		decode.May("configuration", "The configuration in which the arm works, a word for each of shoulder, elbow and wrist, such as `front up up`. Where none is asked for, one is kept as long as it serves.", decode.Text(&m.Configuration)).Else("whichever serves longest"),
		decode.May("release_above", "How far above the slot a part is let go, along `along`, in mm.", decode.Quantity(&m.ReleaseAbove, unit.Length, decode.NotNegative)).Default(0),
		decode.May("optional_stop", "Whether the controller stops after each transfer if its operator has asked for that. "+
			"It is M1 in word-address programs, and in the list of moves a `note`. A family without words for it says so.",
			decode.OneOf(&m.OptionalStop, "never", AfterTransfer)).Default("never"),
	}
}

// shortest is a direction that may well have been meant to be none.
const shortest = 1e-9

func (a *Along) form() decode.Form {
	direction := directed(&a.Direction, "write where the approach point lies as seen from the slot: [0, 0, 1] is +Z of the grid's frame")
	return decode.OrList(decode.OneOf(&a.Word, AlongFrame, AlongTool), direction)
}

func poseName(dst *Text) decode.Form { return decode.In("poses", decode.Name(dst)) }

func (e *Entry) form() decode.Form {
	each := inTurn(poseName, func(t *Text) {
		if t.IsSet() {
			e.Poses = append(e.Poses, *t)
		}
	})
	return decode.At(&e.Place, decode.OrList(each(), decode.List{What: "poses", Each: each}))
}
