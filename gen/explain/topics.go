package explain

import (
	"strings"
	"sync"

	"gridferry/gen/move"
)

func about(path, what, does string, rests rests) topic {
	return topic{strings.Split(path, "/"), what, does, rests}
}

// planTopics is what a line of a plan can be about.
var planTopics = sync.OnceValue(func() []topic {
	return append([]topic{
		about("format", "the format", "It says which format the file has.", none),
		about("title", "the title", "It stands at the head of the program.", none),
		about("cell", "the cell", "Tools, frames, poses and limits come from it, so that every move depends on it.", all),
		about("parts", "the parts", "The controller gets a part's mass while the part hangs in the gripper; its size is what the check goes by.", anyPart),
		about("parts/*", "the part \"%s\"", "The controller gets its mass while it hangs in the gripper; its size is what the check goes by.", withPart),
		about("parts/*/mass", "the mass of the part \"%s\"", "It is added to the tool's while the part hangs in the gripper.", withPart),
		about("parts/*/size", "the size of the part \"%s\"", "The load's centre of gravity and moments of inertia rest on it, where the cell gives the tool's; the check uses it to see whether parts and gripper have room.", loadOf),
		about("parts/*/grip", "the grip height of the part \"%s\"", "The load's centre of gravity and moments of inertia rest on it, where the cell gives the tool's; the check uses it to know how far the part hangs below the gripper.", loadOf),
		about("grids", "the grids", "They say where the slots are.", anyGrid),
		about("grids/*", "the grid \"%s\"", "It says where its slots are, and which of them are full at the start.", atGrid),
		about("grids/*/frame", "the frame of the grid \"%s\"", "The figures of its slots are written in that frame, which has to be selected first.", atGrid),
		about("grids/*/rows", "the rows of the grid \"%s\"", "They are lettered from A and step along the frame's Y.", atGrid),
		about("grids/*/columns", "the columns of the grid \"%s\"", "They are numbered from 1 and step along the frame's X.", atGrid),
		about("grids/*/layers", "the layers of the grid \"%s\"", "They count from 1 at the bottom. A grid is emptied from the top layer down and filled from the bottom layer up.", atGrid),
		about("grids/*/pitch", "the pitch of the grid \"%s\"", "It is the step from column to column along X, and from row to row along Y.", atGrid),
		about("grids/*/layer_pitch", "the layer pitch of the grid \"%s\"", "It is the step from layer to layer along Z.", atGrid),
		about("grids/*/first", "the first slot of the grid \"%s\"", "Slot A1 is there; every other slot is counted from it.", atGrid),
		about("grids/*/stagger", "the stagger of the grid \"%s\"", "Rows B, D, F and so on are shifted by it along X.", atGrid),
		about("grids/*/flow", "which way the parts of the grid \"%s\" go", "They come or go by themselves, so as many can be taken or put down as the other side of an entry asks for.", atGrid),
		about("grids/*/filled", "what fills the grid \"%s\" at the start", "A whole grid that parts are taken from gives the parts that stand there.", atGrid),
		about("grids/*/contents", "which part is which in the grid \"%s\"", "The slots that the table lists hold a part at the start, and its id goes with it.", atGrid),
		about("grids/*/missing", "the missing slots of the grid \"%s\"", "No move goes there: a rectangle and a whole grid pass over them.", atGrid),
		about("grids/*/part", "the part of the grid \"%s\"", "It says what hangs in the gripper after a pick there, and so the load.", atGrid),
		about("grids/*/offsets", "the offsets of single slots of the grid \"%s\"", "So far are these slots, and their approach points, off the places that the pattern gives them.", atGrid),
		about("grids/*/motion", "how the arm moves at the grid \"%s\"", "It goes before what the plan's own motion says.", byGrid),
		about("motion", "the motion settings", "They hold for every move of the arm, unless a grid or an entry has its own.", motions),
		about("motion/start", "the start pose", "Every program begins from it: the first motion goes there, slowly, and stops.", roles(move.ToStart)),
		about("begin", "what is done at the beginning", "These steps come before the first transfer.", stepsOf(false)),
		about("begin/*", "step %s of the beginning", "It comes before the first transfer.", stepsOf(false)),
		about("end", "what is done at the end", "These steps come after everything else.", stepsOf(true)),
		about("end/*", "step %s of the end", "It comes after everything else.", stepsOf(true)),
		about("transfers", "the transfers", "Each entry says what goes where.", any1(func(m *move.Move) bool { return m.Transfer > 0 })),
		about("transfers/*", "entry %s of the transfers", "It says what goes where; all of these moves are made for it.", ofEntry),
		about("transfers/*/from", "where entry %s takes its parts", "The arm picks there.", atStop(firstStop)),
		about("transfers/*/to", "where entry %s puts its parts", "The arm places there.", atStop(lastStop)),
		about("transfers/*/list", "the worklist of entry %s", "Each of its lines says what goes where; all of these moves are made for them.", ofEntry),
		about("transfers/*/then", "what entry %s does behind each of its parts", "These steps come when the part was put down.", listSteps),
		about("transfers/*/then/*", "what entry %s does behind each of its parts, step %s", "It comes when the part was put down.", listSteps),
		about("transfers/*/order", "the order of entry %s", "It settles which slot comes after which, and so the whole sequence of these moves.", ofEntry),
		about("transfers/*/take", "how many parts entry %s takes", "After so many parts it ends.", ofEntry),
		about("transfers/*/advance", "how the parts of entry %s advance", "By leg, every part makes a leg before the next leg begins; by part, each one goes all the way first.", ofEntry),
		about("transfers/*/chain", "the stops of entry %s", "The same parts make leg after leg.", ofEntry),
		about("transfers/*/chain/*", "entry %s, stop %s", "These moves are made there.", stopAndSteps),
		about("transfers/*/chain/*/before", "what entry %s does above stop %s", "These steps come at the approach point, before the arm goes down.", stepsAt(move.AskedBefore)),
		about("transfers/*/chain/*/before/*", "what entry %s does above stop %s, step %s", "It comes at the approach point, before the arm goes down.", stepsAt(move.AskedBefore)),
		about("transfers/*/chain/*/then", "what entry %s does at stop %s", "These steps come when the part was put down there, or picked up at the first stop.", stepsAt(move.Asked)),
		about("transfers/*/chain/*/then/*", "what entry %s does at stop %s, step %s", "It comes when the part was put down there, or picked up at the first stop.", stepsAt(move.Asked)),
		about("transfers/*/motion", "how the arm moves in entry %s", "It goes before what grids and plan say.", ofEntry),
	}, motionTopics()...)
})

// cellTopics is what a line of a cell can be about.
var cellTopics = sync.OnceValue(func() []topic {
	return []topic{
		about("format", "the format", "It says which format the file has.", none),
		about("name", "the cell's name", "It stands at the head of the program.", none),
		about("machine", "the arm's limits", "No move comes from them; the check holds every move to them.", none),
		about("arm", "the arm's joints", "Poses that are given by readings of the joints rest on them.", none),
		about("tools", "the tools", "", any1(func(m *move.Move) bool { return m.Tool != "" })),
		about("tools/*", "the tool \"%s\"", "It makes every move of the arm and of the gripper.", withTool()),
		about("tools/*/tcp", "the tool centre point of \"%s\"", "It is the point that is brought to the coordinates of every motion.", withTool(move.Travel, move.Straight)),
		about("tools/*/pivot", "the tool centre point of \"%s\"", "It is the point that is brought to the coordinates of every motion.", withTool(move.Travel, move.Straight)),
		about("tools/*/mass", "the mass of the tool \"%s\"", "The controller gets it, alone or with the part.", withTool(move.Select)),
		about("tools/*/centre_of_gravity", "the centre of gravity of the tool \"%s\"", "The controller gets it, alone or with the part's.", withTool(move.Select)),
		about("tools/*/inertia", "the moments of inertia of the tool \"%s\"", "The controller gets them, alone or with the part's.", withTool(move.Select)),
		about("tools/*/grip", "how the tool \"%s\" grips", "What it writes, the wait after it, and what is asked then.", toolRoles(move.TakeHold, move.HoldMore, move.HoldSettle, move.AskFirst, move.AskHeld, move.AskLoaded)),
		about("tools/*/grip/holds", "how the tool \"%s\" tells whether it holds a part", "It is asked at the start, after every grip, and before every place.", toolRoles(move.AskFirst, move.AskHeld, move.AskLoaded)),
		about("tools/*/fetch", "how the tool \"%s\" is fetched", "These steps take it from its stand, where another tool was at work before.", ofFetching),
		about("tools/*/fetch/*", "how the tool \"%s\" is fetched, step %s", "It comes where another tool was at work before.", ofFetching),
		about("tools/*/leave", "how the tool \"%s\" is left", "These steps put it into its stand, before another tool is fetched.", ofLeaving),
		about("tools/*/leave/*", "how the tool \"%s\" is left, step %s", "It comes before another tool is fetched.", ofLeaving),
		about("tools/*/release", "how the tool \"%s\" lets go", "What it writes, and the wait after it.", toolRoles(move.OpenFirst, move.OpenMore, move.OpenSettle, move.LetGo, move.FreeMore, move.FreeSettle)),
		about("frames", "the frames", "Every figure of a motion is written in one of them.", motions),
		about("frames/*", "the frame \"%s\"", "The figures of these moves are written in it, or in a frame that is placed in it.", inFrame),
		about("poses", "the poses", "", any1(func(m *move.Move) bool { return m.Target.Pose != "" })),
		about("poses/*", "the pose \"%s\"", "The arm goes there through free space.", atPose),
		about("keep_out", "the keep-out boxes", "No move comes from them; the check holds every motion against them.", none),
		about("keep_out/*", "the keep-out box \"%s\"", "No move comes from it; the check holds every motion against it.", none),
		about("measured", "the measured values", "They take the place of what the cell says.", none),
	}
})

var motions = any1(func(m *move.Move) bool { return m.Kind.IsMotion() })

var anyGrid = any1(func(m *move.Move) bool { return m.Target.Grid != "" })

func anyPart(c *cast, _ []string) func(*move.Move) bool {
	return func(m *move.Move) bool { return c.carried(m) != nil }
}

// stopAndSteps is what is done at a stop of a chain, the arm's way there and the
// plan's own steps.
func stopAndSteps(c *cast, names []string) func(*move.Move) bool {
	arm, steps := atStop(namedStop)(c, names), stepsAt(move.AskedBefore, move.Asked)(c, names[:2])
	return func(m *move.Move) bool { return arm(m) || steps(m) }
}
