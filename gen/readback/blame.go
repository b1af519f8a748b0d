package readback

import (
	"math"

	"gridferry/gen/family/reads"
	"gridferry/gen/move"
	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// blames finds the places in a family's templates that wrote what differs, and remembers
// which were reported: a helper that writes the points of two kinds of move is one mistake.
type blames struct {
	origin   func(move.Kind, reads.Field) diag.Place
	places   map[field]diag.Place
	reported map[written]bool
}

// field is one field of one kind of move.
type field struct {
	kind  move.Kind
	field reads.Field
}

// written is a field as one place in the templates writes it.
type written struct {
	place diag.Place
	field reads.Field
}

func newBlames(r *reads.Reads) *blames {
	return &blames{r.Origin, map[field]diag.Place{}, map[written]bool{}}
}

// of is where the block of a kind of move asks for a field; its own place where it does
// not.
func (b *blames) of(kind move.Kind, f reads.Field) diag.Place {
	key := field{kind, f}
	at, known := b.places[key]
	if !known {
		at = b.origin(kind, f)
		b.places[key] = at
	}
	return at
}

// unreported is the deltas that were not reported yet, which they are from now on.
func (b *blames) unreported(kind move.Kind, deltas []Delta) []Delta {
	var news []Delta
	for _, d := range deltas {
		key := written{b.of(kind, d.Field), d.Field}
		if !b.reported[key] {
			b.reported[key] = true
			news = append(news, d)
		}
	}
	return news
}

// place is the first of the places that wrote what differs.
func (b *blames) place(kind move.Kind, deltas []Delta) diag.Place {
	at := b.of(kind, deltas[0].Field)
	for _, d := range deltas[1:] {
		if other := b.of(kind, d.Field); other.Less(at) {
			at = other
		}
	}
	return at
}

// swapped says so where two fields of a line hold each other's values; it ends in a
// colon and a blank.
func swapped(deltas []Delta) string {
	for i, a := range deltas {
		for _, b := range deltas[i+1:] {
			if holdsOther(a, b) && holdsOther(b, a) {
				return a.Field.Words() + " and " + b.Field.Words() + " have changed places: "
			}
		}
	}
	return ""
}

// holdsOther reports whether a has the value that b was to have, but for its decimals.
func holdsOther(a, b Delta) bool {
	const coarse = 0.06 // of what is told apart: a figure may have one decimal only
	return !a.Lacks && a.Unit == b.Unit && math.Abs(a.Got-b.Want) <= coarse && math.Abs(a.Got-a.Want) > 2*coarse
}

// joined is one side of some deltas: "x 40.0000 mm and y 12.0000 mm".
func joined(deltas []Delta, side func(Delta) string) string {
	words := make([]string, len(deltas))
	for i, d := range deltas {
		words[i] = side(d)
	}
	return wording.List(words, len(words))
}
