package plan

import (
	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/schema"
	"gridferry/plan/unit"
)

// Places is slots that are written one by one, row by row.
type Places struct {
	Place diag.Place
	Rows  []*PlaceRow
}

// PlaceRow is one row of them.
type PlaceRow struct {
	Name   Text // its letters
	Places []OnePlace
	Unread bool // something in it was refused
}

// OnePlace is where a slot is.
type OnePlace struct {
	At     Vector // mm, in the grid's frame
	Turned Real   // degrees about the frame's +Z
}

// MostPlaces bounds the places of one grid, those of a ring's circles together too.
const MostPlaces = 10_000

func (p *Places) form() decode.Form {
	rows := decode.Table{What: "rows of places", Each: func(name Text) decode.Form {
		return added(&p.Rows, PlaceRow{Name: name}).form()
	}}
	letters := schema.With("propertyNames", schema.Schema{}.With("pattern", "^[A-Z]{1,3}$"))
	return decode.At(&p.Place, decode.Then(decode.Under(rows, letters, schema.With("minProperties", 1)), p.bound))
}

// bound holds the rows to how many places they may have together.
func (p *Places) bound(r *decode.Reader, n decode.Node) {
	all := 0
	for _, row := range p.Rows {
		all += len(row.Places)
	}
	switch {
	case decode.IsMap(n) && len(n.Entries()) == 0:
		r.List.Errorf("wrong-length", n.Place(), "found none, wanted rows of places").WithHint("write at least one, such as {A: [[10, 20, 5]]}")
	case all > MostPlaces:
		r.List.Errorf("wrong-length", n.Place(), "the rows have %d places together, at most %d fit", all, MostPlaces).
			WithHint("a regular pattern is written in short, by \"rows\", \"columns\" and \"pitch\"")
		p.Rows = nil
	}
}

func (row *PlaceRow) form() decode.Form {
	each := inTurn((*OnePlace).form, func(p *OnePlace) {
		row.Places = append(row.Places, *p)
		row.Unread = row.Unread || !p.At.IsSet()
	})
	list := decode.Under(decode.List{What: "positions", Each: each}, schema.With("minItems", 1), schema.With("maxItems", MostPlaces))
	return decode.Then(list, func(r *decode.Reader, n decode.Node) {
		if !decode.IsList(n) {
			row.Unread = true
		} else if len(n.Items()) == 0 {
			row.Unread = true
			r.List.Errorf("wrong-length", n.Place(), "the row %q has no places", row.Name.V).WithHint("write at least one, such as [[10, 20, 5]]")
		}
	})
}

// form reads [x, y, z], or {at: [x, y, z], turned: 30}.
func (p *OnePlace) form() decode.Form {
	turned := decode.Object{What: "a place", Keys: []decode.Key{
		decode.Must("at", "TCP position of the slot in the frame: x, y, z in mm.", decode.Vector(&p.At)),
		decode.May("turned", "How tool and part are turned there about the frame's +Z, in degrees.", decode.Quantity(&p.Turned, unit.Angle, decode.Any)).Default(0),
	}}
	return decode.Shared("place", decode.OrMapping(decode.Vector(&p.At), turned))
}
