package reads

import (
	"gridferry/gen/move"
)

// Item is what one line of a program says.
type Item struct {
	Line  int       // of the program, from 1
	Text  []byte    // without its number and its comments; it holds until the next line is read
	Means Means     // 0 where the family knows no such line
	Kind  move.Kind // of a move; 0 for a row that is none
	When  string    // of a select: the change that it is written for
	Values

	Rest Rest // of a move, where it is wanted

	// Open is set where a comment begins on this line and does not end.
	Open bool
}

// IsMove reports whether the line is one that the list has a move for.
func (item *Item) IsMove() bool {
	return item.Means == MeansMove && item.Kind != 0 && item.Kind != move.Note
}

// IsEntry reports whether the line is an entry of a table that the job has. An entry of
// the points is none: it shows in the motions that go there.
func (item *Item) IsEntry() bool {
	return item.Means == MeansFrame || item.Means == MeansTool
}

// Values are the fields that a line carries, in the units that Gridferry reckons
// in: mm, degrees, seconds, kg, mm/s. A frame or a tool is its number in the
// job's tables, 0 for one that is not there; a level is 1 or 0.
type Values struct {
	Has    FieldSet
	Number [Fields]float64
	Target string
	Point  string // its name, of a motion or of an entry of the points
}

// Set keeps a field's number.
func (v *Values) Set(f Field, number float64) {
	v.Has, v.Number[f] = v.Has.With(f), number
}

// Put3 sets a field and the ones behind it.
func (v *Values) Put3(first Field, values ...float64) {
	for i, value := range values {
		v.Set(first+Field(i), value)
	}
}
