package move

// Role says why a move is in the list: what it is for in a transfer. The kind alone
// does not say it: a travel may lead to the clear pose before a pick, or to the
// approach point of the destination.
type Role uint8

// The roles, in the order of one transfer.
const (
	AskFirst         Role = iota + 1 // before everything, whether the gripper holds nothing, or what it must
	ToStart                          // to the start pose, where a program begins
	LeaveDestination                 // to an entry pose, out of the grid where a part was put down
	LeaveTool                        // a step by which the arm puts a tool into its stand
	ChangeTool                       // another tool is selected
	FetchTool                        // a step by which the arm takes a tool from its stand
	ClearFirst                       // to the clear pose, before a pick
	OpenFirst                        // a gripper that is not known to be open is opened
	OpenMore                         // another output of it, or a pulse
	OpenSettle                       // and given time
	EnterSource                      // to an entry pose, into the grid
	OverSource                       // to the source's approach point
	DownSource                       // down to it
	TakeHold                         // grip
	HoldMore                         // another output of it, or a pulse
	HoldSettle                       // the grip is given time
	AskHeld                          // whether the part is held
	UpSource                         // up again, with the part
	LeaveSource                      // to an entry pose, out of the grid
	ClearLoaded                      // to the clear pose, with the part
	EnterDestination                 // to an entry pose, into the other grid
	OverDestination                  // to the destination's approach point
	AskLoaded                        // whether the part is still held
	DownDestination                  // down to it
	LetGo                            // release
	FreeMore                         // another output of it, or a pulse
	FreeSettle                       // the release is given time
	UpDestination                    // up again, empty
	ClearLast                        // to the clear pose, when everything is done
	Selecting                        // frame, tool and load are selected
	AskedBefore                      // a step that the plan itself writes out, before the arm goes down
	Asked                            // any other one

	NumRoles = iota + 1 // with 0, which is no role
)

// Roles is every role.
var Roles = upTo[Role](NumRoles)

var roleNames [NumRoles]string = [...]string{
	"none", "ask-first", "to-start", "leave-destination", "leave-tool", "change-tool", "fetch-tool", "clear-first", "open-first", "open-more", "open-settle", "enter-source", "over-source", "down-source",
	"take-hold", "hold-more", "hold-settle", "ask-held", "up-source", "leave-source",
	"clear-loaded", "enter-destination", "over-destination", "ask-loaded", "down-destination", "let-go", "free-more", "free-settle", "up-destination",
	"clear-last", "selecting", "asked-before", "asked",
}

// Stop is the stop of its entry's chain, from 0, that a move works at; -1 for none.
func (m *Move) Stop() int {
	switch m.Role {
	case ClearFirst, EnterSource, OverSource, DownSource, TakeHold, HoldMore, HoldSettle, AskHeld, UpSource, LeaveSource:
		return m.Leg - 1
	case ClearLoaded, EnterDestination, OverDestination, AskLoaded, DownDestination, LetGo, FreeMore, FreeSettle, UpDestination:
		return m.Leg
	case AskFirst, ToStart, LeaveDestination, LeaveTool, ChangeTool, FetchTool, OpenFirst, OpenMore, OpenSettle, ClearLast, Selecting, AskedBefore, Asked:
	}
	return -1
}

// String is the role's word in data.
func (r Role) String() string { return roleNames[r] }

// Wanted reports whether plan or cell write the move out, as a step.
func (r Role) Wanted() bool { return r == Asked || r == AskedBefore || r.Changing() }

// Changing reports whether the move is a step of a tool that is left or fetched.
func (r Role) Changing() bool { return r == LeaveTool || r == FetchTool }
