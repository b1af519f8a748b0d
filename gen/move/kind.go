package move

import "slices"

// Kind says what a move does. The set is closed. Arrays of NumKinds and switches over a
// kind have a place for every one of them: the compiler holds the arrays to that, and
// .ci/run the switches.
type Kind uint8

const (
	Select   Kind = iota + 1 // frame, tool and load from here on; moves nothing
	Travel                   // point to point; the path between is the controller's
	Straight                 // straight line of the tool centre point
	Grip                     // the tool's output closes on the part
	Release                  // the tool's output lets the part go
	Set                      // any other output
	Await                    // wait for an input, with a time-out
	Dwell                    // wait, seconds
	Note                     // for people; nothing obeys it

	NumKinds = iota + 1 // with 0, which is no kind
)

// Kinds is every kind, in the order in which papers list them.
var Kinds = upTo[Kind](NumKinds)

// kind is what a kind is called, what it does, and which of the list's last columns it
// fills. With timeOut it fills seconds and what comes after them, where there is a limit.
type kind struct {
	name                                 string
	moves, takes, puts                   bool
	load, signal, seconds, timeOut, text bool
}

var kinds [NumKinds]kind = [...]kind{
	{name: "invalid"},
	{name: "select", load: true},
	{name: "travel", moves: true, load: true},
	{name: "straight", moves: true, load: true},
	{name: "grip", takes: true, signal: true},
	{name: "release", puts: true, signal: true},
	{name: "set", signal: true},
	{name: "await", signal: true, timeOut: true},
	{name: "dwell", seconds: true},
	{name: "note", text: true},
}

// String is the word for the kind in lists, and the name of its block in a family.
func (k Kind) String() string { return kinds[k].name }

// IsMotion reports whether the arm moves.
func (k Kind) IsMotion() bool { return kinds[k].moves }

// Takes and Puts report whether the move takes a part from a slot or puts one into it. A
// gripper that works in free space does neither.
func (m *Move) Takes() bool { return kinds[m.Kind].takes && m.Target.Grid != "" }
func (m *Move) Puts() bool  { return kinds[m.Kind].puts && m.Target.Grid != "" }

// Motions are the kinds that move the arm, and Handlings those that take or put a part.
var (
	Motions   = those(func(k kind) bool { return k.moves })
	Handlings = those(func(k kind) bool { return k.takes || k.puts })
)

func those(are func(kind) bool) []Kind {
	return slices.DeleteFunc(upTo[Kind](NumKinds), func(k Kind) bool { return !are(kinds[k]) })
}

// upTo is 1, 2, 3 and so on below an end.
func upTo[T ~uint8](end int) []T {
	var all []T
	for n := 1; n < end; n++ {
		all = append(all, T(n))
	}
	return all
}
