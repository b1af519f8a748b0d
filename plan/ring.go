package plan

import (
	"maps"

	"gridferry/plan/decode"
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// Ring is slots on circles about one centre: each circle is a row.
type Ring struct {
	Radius      []Real  // mm, of each row's circle
	Places      []Whole // in each row
	Start, Step []Real  // degrees: one for all rows, or one for each
	Turned      Text    // one of Turnings
	Balance     Real    // kg that may be lacking at the widest circle

	written decode.Written
}

// The words of "turned" in a ring.
const (
	TurnedFixed  = "fixed"
	TurnedRadial = "radial"
)

// Turnings are those words.
var Turnings = []string{TurnedFixed, TurnedRadial}

// Has reports whether a key was written, readable or not.
func (g *Ring) Has(key string) bool { return g.written.Has(key) }

// MostRings bounds the circles of a ring.
const MostRings = 100

func (g *Ring) form() decode.Form {
	ofLength := func(bound decode.Bound) func(*Real) decode.Form {
		return func(v *Real) decode.Form { return decode.Quantity(v, unit.Length, bound) }
	}
	angle := func(v *Real) decode.Form { return decode.Quantity(v, unit.Angle, decode.Any) }
	places := func(v *Whole) decode.Form { return decode.Whole(v, 1, MostPlaces) }
	return decode.Object{What: "a ring", Check: g.check, Keys: []decode.Key{
		decode.Must("radius", "Of the circle through the slots, in mm; a list is a row of slots for each: A, B and so on.", oneOrMore(&g.Radius, "radii", ofLength(decode.Positive))),
		decode.Must("places", "How many slots the circle has; a list where `radius` is one.", oneOrMore(&g.Places, "numbers of places", places)),
		decode.May("start", "Where the first slot of the circle is, in degrees about the frame's +Z, 0 along its X; one for all circles, or a list.", oneOrMore(&g.Start, "angles", angle)).Default(0),
		decode.May("step", "From slot to slot, in degrees; negative goes clockwise, seen from +Z. One for all circles, or a list.", oneOrMore(&g.Step, "angles", angle)).Else("a full turn shared by the places"),
		decode.May("turned", "Whether tool and part are turned at a slot by the slot's angle (`radial`), or as in any other grid (`fixed`).", decode.OneOf(&g.Turned, Turnings...)).Default(TurnedFixed),
		decode.May("balance", "The ring turns about its centre, and has to be in balance at the end of the job, as far as masses and positions of the plan say: within this mass, at the widest circle, in kg or with a unit such as `0.1 g`.",
			decode.Quantity(&g.Balance, unit.Mass, decode.NotNegative)).Else("asked by `order: balanced` only"),
	}}
}

// check holds the lists to one length.
func (g *Ring) check(r *decode.Reader, written decode.Written) {
	g.written = maps.Clone(written)
	rows := len(g.Radius)
	if rows == 0 || len(g.Places) == 0 {
		return // that was said
	}
	all := 0
	for _, n := range g.Places {
		all += n.V
	}
	if all > MostPlaces {
		r.List.Errorf("bad-ring", written["places"], "the circles have %d places together, at most %d fit", all, MostPlaces).
			WithHint("write each ring of a rotor as a grid of its own")
		g.Places = nil
		return
	}
	differ := func(key string, n int) {
		r.List.Errorf("bad-ring", written[key], "%q has length %d, but \"radius\" has length %d", key, n, rows).
			WithNote(written["radius"], "\"radius\" stands here").WithHint("write one for each circle")
	}
	if len(g.Places) != rows {
		differ("places", len(g.Places))
	}
	for _, of := range []struct {
		key    string
		values []Real
	}{{"start", g.Start}, {"step", g.Step}} {
		if n := len(of.values); n > 1 && n != rows {
			differ(of.key, n)
		}
	}
}

// oneOrMore reads a value, or a list of such values. A list with one that cannot be read is
// left empty.
func oneOrMore[T any](dst *[]decode.Value[T], what string, form func(*decode.Value[T]) decode.Form) decode.Form {
	each := inTurn(form, func(v *decode.Value[T]) { *dst = append(*dst, *v) })
	several := decode.Under(decode.List{What: what, Each: each}, schema.With("minItems", 1), schema.With("maxItems", MostRings))
	own := decode.Own(func() schema.Schema { return schema.Or(each().Schema(), several.Schema()) }, func(r *decode.Reader, n decode.Node) {
		if !decode.IsList(n) {
			each().Read(r, n)
		} else if items := len(n.Items()); items < 1 || items > MostRings {
			r.List.Errorf("wrong-length", n.Place(), "the list has length %d, wanted 1 to %d", items, MostRings).
				WithHint("write a figure for each circle of the ring")
		} else {
			several.Read(r, n)
		}
		for _, v := range *dst {
			if !v.IsSet() {
				*dst = nil
				return
			}
		}
	})
	return decode.As(decode.OrList(each(), several), own)
}
