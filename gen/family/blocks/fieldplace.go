package blocks

import (
	"slices"
	"text/template/parse"

	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// PlaceOf is where a block, or a helper that it uses, first asks for one of the fields
// outside of a comment: what to look at when the program says something odd of it.
// Where it asks for none of them, that is the block's own place; the zero place where
// there is no such block.
func (b *Blocks) PlaceOf(block string, fields ...string) diag.Place {
	if at, asks := b.Asks(block, fields...); asks {
		return at
	}
	return b.defs[block].place
}

// Asks is where a block, or a helper that it uses, first asks for one of the fields
// outside of a comment; false where it does not.
func (b *Blocks) Asks(block string, fields ...string) (diag.Place, bool) {
	s := search{blocks: b, fields: fields}
	asks := s.block(block)
	return s.found, asks
}

// Mentions reports whether some block may ask for one of the fields, be it in a
// comment. One that is mentioned nowhere need not be filled: views have no methods, so
// that naming a field is the only way to what it holds.
func (b *Blocks) Mentions(fields ...string) bool {
	return slices.ContainsFunc(fields, func(field string) bool { return b.mentioned[field] })
}

// mentionedIn is every field that some block asks for. All are looked for once: to go through the blocks
// whenever somebody asks for one is a twentieth of the work of writing a small variant.
func mentionedIn(b *Blocks) map[string]bool {
	s := search{blocks: b, comments: true, met: map[string]bool{}}
	for name := range b.defs {
		s.block(name)
	}
	return s.met
}

// UsesArm reports whether some block asks how the arm stands.
func (b *Blocks) UsesArm() bool {
	return b.Mentions("Joints", "Quarters") || b.UsesConfiguration()
}

// UsesConfiguration reports whether some block asks for the arm's configuration.
func (b *Blocks) UsesConfiguration() bool {
	return b.Mentions("Configuration", "Shoulder", "Elbow", "Wrist")
}

// ChoosesTravelSpeed reports whether the controller chooses how fast travels go:
// because family.yaml says so, or because the block "travel" writes no speed.
func (b *Blocks) ChoosesTravelSpeed() bool {
	s := search{blocks: b, fields: []string{"Speed"}, comments: true}
	return b.TravelSpeed == rules.ByController || b.TravelSpeed != rules.ByProgram && !s.block(move.Travel.String())
}

// StopsEverywhere reports whether the arm comes to rest at every point: because
// family.yaml says so, or because no motion writes a fly-by.
func (b *Blocks) StopsEverywhere() bool {
	if b.FlyBy != rules.Unsaid {
		return b.FlyBy == rules.Stops
	}
	s := search{blocks: b, fields: []string{"FlyBy"}, comments: true}
	return !s.block(move.Travel.String()) && !s.block(move.Straight.String())
}

// search looks for fields in a block. Helpers do not call each other in circles: the
// lint refuses that.
type search struct {
	blocks   *Blocks
	fields   []string
	comments bool            // what a comment asks for counts, too
	met      map[string]bool // gets every field that was asked for before; may be nil
	found    diag.Place
	without  map[string]bool // blocks that ask for none of the fields: each is looked at once
}

func (s *search) block(name string) bool {
	def, defined := s.blocks.defs[name]
	if !defined || s.without[name] {
		return false
	}
	if s.list(def, def.tree.Root) {
		return true
	}
	if s.without == nil {
		s.without = map[string]bool{}
	}
	s.without[name] = true
	return false
}

func (s *search) list(def definition, list *parse.ListNode) bool {
	return list != nil && slices.ContainsFunc(list.Nodes, func(n parse.Node) bool { return s.node(def, n) })
}

func (s *search) node(def definition, n parse.Node) bool {
	if b := branchOf(n); b != nil {
		return s.pipe(def, b.Pipe) || s.list(def, b.List) || s.list(def, b.ElseList)
	}
	switch n := n.(type) {
	case *parse.ActionNode:
		return s.pipe(def, n.Pipe)
	case *parse.TemplateNode:
		return n.Pipe != nil && s.pipe(def, n.Pipe) || s.block(n.Name)
	}
	return false
}

func (s *search) pipe(def definition, pipe *parse.PipeNode) bool {
	return (s.comments || !slices.ContainsFunc(pipe.Cmds, makesComment)) &&
		slices.ContainsFunc(pipe.Cmds, func(cmd *parse.CommandNode) bool {
			return slices.ContainsFunc(cmd.Args, func(arg parse.Node) bool { return s.operand(def, arg) })
		})
}

func makesComment(cmd *parse.CommandNode) bool {
	function, is := cmd.Args[0].(*parse.IdentifierNode)
	return is && function.Ident == commentName
}

func (s *search) operand(def definition, n parse.Node) bool {
	switch n := n.(type) {
	case *parse.FieldNode:
		return s.asks(def, n, n.Ident)
	case *parse.VariableNode: // $.Frame
		return s.asks(def, n, n.Ident[1:])
	case *parse.ChainNode: // (.).Frame
		return s.asks(def, n, n.Field) || s.operand(def, n.Node)
	case *parse.PipeNode:
		return s.pipe(def, n)
	}
	return false
}

// asks looks at the first name of a path.
func (s *search) asks(def definition, n parse.Node, path []string) bool {
	if len(path) == 0 {
		return false
	}
	if s.met != nil {
		s.met[path[0]] = true
	}
	if !slices.Contains(s.fields, path[0]) {
		return false
	}
	s.found = placeAt(s.blocks.Label, def.file, int(n.Position()))
	return true
}
