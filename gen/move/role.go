package move

// Role says why a move is in the list: what it is for in a transfer. The kind alone
// does not say it: a travel may lead to the clear pose before a pick, or to the
// approach point of the destination.
type Role uint8

// The roles, in the order of one transfer.
const (
	ToStart         Role = iota + 1 // to the start pose, where a program begins
	ClearFirst                      // to the clear pose, before a pick
	OpenFirst                       // a gripper that is not known to be open is opened
	OpenSettle                      // and given time
	OverSource                      // to the source's approach point
	DownSource                      // down to it
	TakeHold                        // grip
	HoldSettle                      // the grip is given time
	UpSource                        // up again, with the part
	ClearLoaded                     // to the clear pose, with the part
	OverDestination                 // to the destination's approach point
	DownDestination                 // down to it
	LetGo                           // release
	FreeSettle                      // the release is given time
	UpDestination                   // up again, empty
	ClearLast                       // to the clear pose, when everything is done
	Selecting                       // frame, tool and load are selected
	Asked                           // a step that the plan itself writes out

	NumRoles = iota + 1 // with 0, which is no role
)

// Roles is every role.
var Roles = upTo[Role](NumRoles)

var roleNames [NumRoles]string = [...]string{
	"none", "to-start", "clear-first", "open-first", "open-settle", "over-source", "down-source", "take-hold", "hold-settle", "up-source",
	"clear-loaded", "over-destination", "down-destination", "let-go", "free-settle", "up-destination", "clear-last", "selecting", "asked",
}

// Stop is the stop of its entry's chain, from 0, that a move works at; -1 for none.
func (m *Move) Stop() int {
	switch m.Role {
	case ClearFirst, OverSource, DownSource, TakeHold, HoldSettle, UpSource:
		return m.Leg - 1
	case ClearLoaded, OverDestination, DownDestination, LetGo, FreeSettle, UpDestination:
		return m.Leg
	case ToStart, OpenFirst, OpenSettle, ClearLast, Selecting, Asked:
	}
	return -1
}

// String is the role's word in data.
func (r Role) String() string { return roleNames[r] }
