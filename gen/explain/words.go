package explain

import (
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// why is what a move of each role is for, in words for somebody who sees such a
// list for the first time.
var why = map[move.Role]string{
	move.AskFirst:         "Before anything moves, the gripper's input has to tell that it holds what it must: nothing or, in a resumed job that begins so, a part. Otherwise the program stops.",
	move.ToStart:          "Every program begins from the start pose, where a person has seen the arm stand. Should it stand elsewhere after all, nobody knows what is in its way: so this move is slow, and ends in a stop.",
	move.LeaveDestination: "Out of the grid, where the part was put down, the arm goes back over the poses by which it came in: the plan names them for that grid.",
	move.LeaveTool:        "Another tool is needed for what comes next. The arm puts the one that it has into its stand, by the steps that the cell gives for that.",
	move.ChangeTool:       "Another tool is on the flange from here on, and the controller has to know where its tool centre point is, and what it weighs. If the move says so, the program stops here until a person has changed the tool.",
	move.FetchTool:        "The arm takes the tool that it needs from its stand, by the steps that the cell gives for that. The poses are those of this tool, which is why it was selected before.",
	move.ClearFirst:       "The arm goes to the clear pose before it fetches a part: the plan names it as the pose from which every grid is approached. What the arm passes on its way there is not shown by this.",
	move.OpenFirst:        "At the start nobody knows whether the gripper is open. It is opened once, in free space, before it comes near a part.",
	move.OpenMore:         "The gripper has more to do to open than its own output: another output, or a pulse, which is on, a wait, and off. It comes right behind, before the gripper is given time.",
	move.OpenSettle:       "The output changes at once, fingers do not. The arm waits until they are open.",
	move.EnterSource:      "The plan names poses that lead into this grid: the arm passes them one after the other, and goes back over them when it leaves.",
	move.OverSource:       "First to the approach point, which lies off the slot by the approach distance. How the arm gets there is the controller's choice and may be a curve.",
	move.DownSource:       "Then in a straight line to the slot, slowly, so that gripper and part pass between the neighbours and not across them; the arm comes to rest at the slot.",
	move.TakeHold:         "The gripper closes on the part. From here on the program counts this slot as empty.",
	move.HoldMore:         "The gripper has more to do to close than its own output: another output, or a pulse, which is on, a wait, and off. It comes right behind, before the gripper is given time.",
	move.HoldSettle:       "The output changes at once, fingers do not. Without this wait the arm would lift off with the part half held.",
	move.AskHeld:          "The gripper's input tells whether the part is held. If it does not say so in time the program stops, rather than go on with nothing.",
	move.UpSource:         "Back on the same straight line, with the part. Turning off any earlier would drag it along its neighbours.",
	move.LeaveSource:      "Out of the grid, with the part, the arm goes back over the poses by which it came in: the plan names them for that grid.",
	move.ClearLoaded:      "With the part in the gripper the arm goes to the clear pose again: what it carries sticks out, and needs room on the way as well.",
	move.EnterDestination: "The plan names poses that lead into this grid: the arm passes them with the part, one after the other.",
	move.OverDestination:  "First to the approach point of the slot that the part goes to, however the arm gets there.",
	move.AskLoaded:        "The part may have been lost on the way. The gripper's input has to tell that it is still held; otherwise the program stops, before the arm goes down.",
	move.DownDestination:  "Then in a straight line to the slot, slowly, between the parts that stand there already, to a full stop.",
	move.LetGo:            "The gripper opens and the part stands in its new slot. From here on the program counts this slot as full.",
	move.FreeMore:         "The gripper has more to do to let go than its own output: another output, or a pulse, which is on, a wait, and off. It comes right behind, before the gripper is given time.",
	move.FreeSettle:       "The gripper needs time to open. Rising too soon would take the part along.",
	move.UpDestination:    "Back on the same straight line, empty, so as not to take along the part that was just put down.",
	move.ClearLast:        "When everything is carried the arm goes to the clear pose and stays there, so that people can fetch the parts. Whether it is out of their way there, only they can see.",
	move.AskedBefore:      "The plan asks for this step at the approach point, before the arm goes down.",
	move.Asked:            "The plan asks for this step in so many words.",
}

// step is the place of a role among the steps of a transfer, as the page on the
// plan format numbers them; 0 for those beside it.
var step = map[move.Role]int{
	move.ClearFirst: 1, move.OpenFirst: 2, move.OpenMore: 2, move.OpenSettle: 2, move.OverSource: 3, move.DownSource: 4,
	move.TakeHold: 5, move.HoldMore: 5, move.HoldSettle: 6, move.AskHeld: 6, move.UpSource: 7, move.ClearLoaded: 8, move.OverDestination: 9, move.AskLoaded: 9,
	move.DownDestination: 10, move.LetGo: 11, move.FreeMore: 11, move.FreeSettle: 12, move.UpDestination: 13,
}

// The reasons of a select, by what it changes.
const (
	whyFrame = "Nothing moves here. The figures that follow are written in this frame, and the controller has to know before the next motion: the right figures in the wrong frame are another place."
	whyLoad  = "Nothing moves here. The gripper has just closed on a part or let it go, so another weight hangs on the flange, and the controller has to know it before it moves."
	whyFirst = "Nothing moves here. Before the first motion the controller gets to know which frame the figures are written in, which tool is on the flange, and what it weighs."
	whyZone  = "Nothing moves here. Another zone of the tool works next, and from here on all figures are those of its own centre; the arm stands still for it."
	whyBoth  = "Nothing moves here. Frame and load both change, and the controller has to know before the next motion."
)

// whyFirstMotion is added to the reason of a first motion that has no start pose to go to.
const whyFirstMotion = " It is the program's first motion, and nobody knows from where: so it is slow, and ends in a stop."

// whyAfterHand is added to the reason of the first motion after a change of tool by hand.
const whyAfterHand = " A person has just changed the tool, and may stand close by: so it is slow, and ends in a stop."

// reasons says what each move of a list is for; it is asked in the list's order.
type reasons struct{ before move.Move }

func (r *reasons) of(m *move.Move) string {
	switch {
	case m.First && m.Role != move.ToStart:
		return why[m.Role] + whyFirstMotion
	case m.AfterHand:
		return why[m.Role] + whyAfterHand
	}
	if m.Role != move.Selecting {
		return why[m.Role]
	}
	before := r.before
	r.before = *m
	frame, load := before.Frame != m.Frame, before.Load != m.Load || before.Tool != m.Tool
	switch {
	case before.N == 0:
		return whyFirst
	case m.Shifts:
		return whyZone
	case frame && load:
		return whyBoth
	case load:
		return whyLoad
	}
	return whyFrame
}

// say is a move in a few words.
func say(m *move.Move) string {
	text := m.Kind.String()
	switch m.Kind {
	case move.Select:
		if m.ByHand {
			return "stop: " + m.Text
		}
		return text + " frame " + m.Frame + ", tool " + m.Tool + ", " + short(m.Load, 3) + " kg"
	case move.Travel, move.Straight:
		return text + " to " + m.Target.String()
	case move.Grip, move.Release:
		if m.Target.IsZero() {
			return text
		}
		return text + " at " + m.Target.String()
	case move.Set:
		return text + " output " + number(m.Signal) + " " + wording.Level(m.Level)
	case move.Await:
		return text + " input " + number(m.Signal) + " " + wording.Level(m.Level)
	case move.Dwell:
		return text + " " + short(m.Seconds, 3) + " s"
	case move.Note:
	}
	return text + ": " + m.Describe()
}
