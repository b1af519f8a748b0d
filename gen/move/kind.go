package move

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

var kindNames [NumKinds]string = [...]string{"invalid", "select", "travel", "straight", "grip", "release", "set", "await", "dwell", "note"}

// String is the word for the kind in lists, and the name of its block in a family.
func (k Kind) String() string { return kindNames[k] }

// IsMotion reports whether the arm moves.
func (k Kind) IsMotion() bool {
	switch k {
	case Travel, Straight:
		return true
	case Select, Grip, Release, Set, Await, Dwell, Note:
	}
	return false
}

// upTo is 1, 2, 3 and so on below an end.
func upTo[T ~uint8](end int) []T {
	var all []T
	for n := 1; n < end; n++ {
		all = append(all, T(n))
	}
	return all
}
