package blocks

import (
	"reflect"
	"slices"

	"gridferry/gen/family/rules"
	"gridferry/gen/move"
)

// Block is one of the named pieces of a family.
type Block struct {
	Name     string
	Kind     move.Kind // 0 for those that are not about one move
	Optional bool
	Doc      string
	view     any
}

// The blocks that are not about one kind of move.
const (
	Begin    = "begin"
	Header   = "transfer"
	Table    = "table"
	Call     = "call"
	PartHead = "part"
	PartEnd  = "part-end"
	End      = "end"
)

// ofKinds is the block of every kind of move.
var ofKinds [move.NumKinds]Block = [...]Block{
	move.Select:   {Doc: "frame, tool and load from here on; moves nothing", view: Select{}},
	move.Travel:   {Doc: "point to point; the path between is the controller's", view: Motion{}},
	move.Straight: {Doc: "straight line of the tool centre point", view: Motion{}},
	move.Grip:     {Doc: "the tool's output closes on the part", view: Gripping{}},
	move.Release:  {Doc: "the tool's output lets the part go", view: Gripping{}},
	move.Set:      {Doc: "any other output", view: Set{}},
	move.Await:    {Doc: "wait for an input, with or without a time-out", view: Await{}},
	move.Dwell:    {Doc: "wait", view: Dwell{}},
	move.Note:     {Doc: "a note of the plan", view: Note{}},
}

// OfMoves is the blocks of a family that writes single moves, in the order of a program.
var OfMoves = slices.Concat([]Block{
	{Name: Begin, Doc: "the head of the program: cautions, modes, tables", view: Head{}},
	{Name: Header, Optional: true, Doc: "a heading, written before the first move of each transfer; may be left out", view: Transfer{}},
}, moveBlocks(), []Block{
	{Name: rules.Change, Optional: true, Doc: "in place of `select`, where another tool is needed and a person has to change it: the program stops here until that is done", view: Change{}},
	{Name: rules.Pause, Optional: true, Doc: "an optional stop: the controller stops here if its operator has asked for that; written where a plan says `optional_stop`", view: Stop{}},
	{Name: Table, Optional: true, Doc: "the end of a table of moves and the beginning of the next; only with `tables`", view: TableView{}},
	{Name: Call, Optional: true, Doc: "in the main text, the line that runs one part; only with `most_lines`", view: Part{}},
	{Name: PartHead, Optional: true, Doc: "the head of a part's file; only with `most_lines`", view: Part{}},
	{Name: PartEnd, Optional: true, Doc: "the end of a part's file; only with `most_lines`", view: Part{}},
	{Name: End, Doc: "the end of the program; the same fields as begin", view: Head{}},
})

func moveBlocks() []Block {
	var all []Block
	for _, kind := range move.Kinds {
		b := ofKinds[kind]
		b.Name, b.Kind = kind.String(), kind
		all = append(all, b)
	}
	return all
}

func blockNames(blocks []Block) []string {
	names := make([]string, len(blocks))
	for i, b := range blocks {
		names[i] = b.Name
	}
	return names
}

// viewType is the type of the block's dot.
func (b Block) viewType() reflect.Type { return reflect.TypeOf(b.view) }

// ViewOf is an empty view of the block for a kind of move, addressable.
func ViewOf(kind move.Kind) reflect.Value { return reflect.New(ofKinds[kind].viewType()).Elem() }

// ofParts reports whether the block is about the parts of a program in several files.
func (b Block) ofParts() bool { return b.Name == Call || b.Name == PartHead || b.Name == PartEnd }

// viewTypes are all types that a dot can have: the blocks' and their lists'.
func viewTypes() []reflect.Type {
	types := []reflect.Type{reflect.TypeFor[Frame](), reflect.TypeFor[Tool](), reflect.TypeFor[Point](), reflect.TypeFor[Carried](), reflect.TypeFor[Slot](), reflect.TypeFor[Act](), reflect.TypeFor[Asked](), reflect.TypeFor[Passed]()}
	for _, b := range everyBlock() {
		if !slices.Contains(types, b.viewType()) {
			types = append(types, b.viewType())
		}
	}
	return types
}
