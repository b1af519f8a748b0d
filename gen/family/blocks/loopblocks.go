package blocks

import "slices"

import (
	"gridferry/gen/family/rules"
)

// The blocks of a family that writes nested loops instead of single moves.
const (
	GridBlock     = "grid"
	RoutinesBlock = "routines"
	FirstBlock    = "first"
	EntryBlock    = "entry"
	ZeroBlock     = "zero"
	LoopBlock     = "loop"
	SkipBlock     = "skip"
	CountBlock    = "count"
	ListBlock     = "list"
	StoreBlock    = "store"
	PickBlock     = "pick"
	PlaceBlock    = "place"
	LeaveBlock    = "leave"
	NextBlock     = "next"
	FinishBlock   = "finish"
)

// OfLoops is what stands between begin and end where family.yaml says
// "writes: loops", in the order in which a program uses them.
var OfLoops = []Block{
	{Name: GridBlock, Doc: "where the slots of one grid are", view: Grid{}},
	{Name: RoutinesBlock, Doc: "what every pick and every place has in common", view: Routines{}},
	{Name: FirstBlock, Optional: true, Doc: "the first motion, before all entries: to the start pose, or else above the first slot; may be left out", view: First{}},
	{Name: EntryBlock, Doc: "an entry of the plan's transfers begins, or one leg of it", view: Entry{}},
	{Name: ListBlock, Doc: "slots, written out in a list", view: Listed{}},
	{Name: ZeroBlock, Doc: "parts, or the slots of a list, are counted from 0 again", view: Counting{}},
	{Name: LoopBlock, Doc: "a loop begins", view: Loop{}},
	{Name: SkipBlock, Doc: "slots that the loops pass over", view: Skip{}},
	{Name: CountBlock, Doc: "one part or slot more", view: Counting{}},
	{Name: StoreBlock, Doc: "the slot that the loops stand at is put into a list, at the count", view: Carry{}},
	{Name: PickBlock, Doc: "a part is taken", view: Carry{}},
	{Name: PlaceBlock, Doc: "it is put down", view: Carry{}},
	{Name: LeaveBlock, Doc: "the loops end when so many were counted", view: Leave{}},
	{Name: NextBlock, Doc: "a loop ends", view: Loop{}},
	{Name: FinishBlock, Doc: "everything is carried", view: LoopLine{}},
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
