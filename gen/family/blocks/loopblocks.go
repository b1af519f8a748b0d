package blocks

import "slices"

import (
	"gridferry/gen/family/rules"
)

// The blocks of a family that writes nested loops instead of single moves.
const (
	ToolBlock     = "tool"
	GridBlock     = "grid"
	WayBlock      = "way"
	RoutinesBlock = "routines"
	ClearBlock    = "clear"
	GripperBlock  = "gripper"
	StepsBlock    = "steps"
	DoneBlock     = "done"
	HowBlock      = "how"
	JobBlock      = "job"
	AskBlock      = "ask"
	FirstBlock    = "first"
	EntryBlock    = "entry"
	SwitchBlock   = "switch"
	ZeroBlock     = "zero"
	LoopBlock     = "loop"
	SkipBlock     = "skip"
	CountBlock    = "count"
	ListBlock     = "list"
	StoreBlock    = "store"
	GroupsBlock   = "groups"
	CarryBlock    = "carry"
	GoBlock       = "go"
	LeaveBlock    = "leave"
	NextBlock     = "next"
	FinishBlock   = "finish"
)

// OfLoops is what stands between begin and end where family.yaml says
// "writes: loops", in the order in which a program uses them.
var OfLoops = []Block{
	{Name: ToolBlock, Doc: "where the centre point of a tool is, or of a zone; not written where one tool takes every part", view: LoopTool{}},
	{Name: GridBlock, Doc: "where the slots of one grid are", view: Grid{}},
	{Name: WayBlock, Doc: "poses on the way into a grid", view: Way{}},
	{Name: RoutinesBlock, Doc: "the routines begin", view: Routines{}},
	{Name: ClearBlock, Doc: "the routine that leads to the clear pose; that of the plan's own motion is there even where it names none", view: Clear{}},
	{Name: GripperBlock, Doc: "the routine that opens or closes the gripper, or some zones of a tool", view: Gripper{}},
	{Name: StepsBlock, Doc: "a routine of steps begins: how a tool is left, or fetched", view: Steps{}},
	{Name: DoneBlock, Doc: "it ends", view: LoopLine{}},
	{Name: HowBlock, Doc: "the routine that picks or places a part, or that only comes above a slot", view: Routine{}},
	{Name: JobBlock, Doc: "the routines end, and the job begins", view: Job{}},
	{Name: AskBlock, Doc: "before the first motion: nothing may be held", view: Ask{}},
	{Name: FirstBlock, Optional: true, Doc: "the first motion, before all entries: to the start pose, or else to where the first pick begins; may be left out", view: First{}},
	{Name: EntryBlock, Doc: "an entry of the plan's transfers begins, or one leg of it", view: Entry{}},
	{Name: SwitchBlock, Doc: "another tool comes onto the flange", view: Switch{}},
	{Name: ListBlock, Doc: "slots, written out in a list", view: Listed{}},
	{Name: ZeroBlock, Doc: "parts, or the slots of a list, are counted from 0 again", view: Counting{}},
	{Name: LoopBlock, Doc: "a loop begins", view: Loop{}},
	{Name: SkipBlock, Doc: "slots that the loops pass over", view: Skip{}},
	{Name: CountBlock, Doc: "one part or slot more, or a group of parts", view: Counting{}},
	{Name: StoreBlock, Doc: "the slot that the loops stand at is put into a list, at the count", view: Carry{}},
	{Name: GroupsBlock, Doc: "groups of parts begin that are carried otherwise than those before, or are smaller", view: Groups{}},
	{Name: CarryBlock, Doc: "a routine is called: a part is picked or placed, or the arm only comes above the slot", view: Carry{}},
	{Name: GoBlock, Doc: "a step that moves the arm to a pose", view: Go{}},
	{Name: LeaveBlock, Doc: "the loops end when so many were counted", view: Leave{}},
	{Name: NextBlock, Doc: "a loop ends", view: Loop{}},
	{Name: FinishBlock, Doc: "everything is carried, and the arm leaves the last grid", view: Finish{}},
}

// besideLoops are the blocks that both kinds of families write.
var besideLoops = []string{Begin, "set", "await", "dwell", "note", rules.Pause, End}

// List is the blocks that a family by these rules can write.
func List(rules *rules.Rules) []Block {
	if !rules.Loops {
		return OfMoves
	}
	all := slices.DeleteFunc(slices.Clone(OfMoves), func(b Block) bool { return !slices.Contains(besideLoops, b.Name) })
	return append(all, OfLoops...)
}

// everyBlock is the blocks of both kinds of families.
func everyBlock() []Block { return append(slices.Clone(OfMoves), OfLoops...) }
