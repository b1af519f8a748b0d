package blocks

import (
	"bytes"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"text/template"
	"text/template/parse"
)

// The two functions that containment adds to every template. No template can
// name them: the lint knows only those of the table.
const (
	emitName = "emit"
	tickName = "tick"
)

// contain builds the templates that run: every action that prints gets emit as
// its last command, as html/template does with its escapers, so that nothing
// reaches a program but by way of Printer.emit; every turn of a loop begins with
// a tick that counts what the turn costs, so that no template runs for ever.
func contain(defs map[string]definition, functions template.FuncMap) *template.Template {
	set := template.New("").Funcs(functions)
	c := container{plain: plainFields(), functions: functions, costs: costs{defs: defs, known: map[string]int{}}}
	for _, name := range slices.Sorted(maps.Keys(defs)) {
		c.tree = defs[name].tree
		dropFirstBreak(c.tree.Root)
		c.nodes(c.tree.Root)
		template.Must(set.AddParseTree(name, c.tree))
	}
	return set
}

// dropFirstBreak takes away the line break that follows {{define "…"}}, which
// would otherwise put a blank line before each block of those who do not know
// about {{- and -}}.
func dropFirstBreak(list *parse.ListNode) {
	if len(list.Nodes) == 0 {
		return
	}
	if t, ok := list.Nodes[0].(*parse.TextNode); ok {
		t.Text = bytes.TrimPrefix(bytes.TrimPrefix(t.Text, []byte("\r")), []byte("\n"))
	}
}

// container rewrites trees.
type container struct {
	tree      *parse.Tree
	plain     map[string]bool
	functions template.FuncMap
	costs     costs
}

func (c *container) nodes(list *parse.ListNode) {
	if list == nil {
		return
	}
	for _, n := range list.Nodes {
		switch n := n.(type) {
		case *parse.TextNode:
			n.Text = bytes.ReplaceAll(n.Text, []byte("\r\n"), []byte("\n"))
		case *parse.ActionNode:
			if len(n.Pipe.Decl) == 0 && !c.isPlain(n.Pipe) {
				n.Pipe.Cmds = append(n.Pipe.Cmds, c.command(emitName, n.Pipe.Pos))
			}
		case *parse.IfNode:
			c.branch(&n.BranchNode)
		case *parse.WithNode:
			c.branch(&n.BranchNode)
		case *parse.RangeNode:
			cost := c.costs.of(n.List)
			c.branch(&n.BranchNode)
			c.tickAtStart(n.List, cost)
		}
	}
}

func (c *container) branch(n *parse.BranchNode) {
	c.nodes(n.List)
	c.nodes(n.ElseList)
}

// isPlain reports whether a pipeline can give nothing but a word or a whole number,
// whatever its data, so that emit would let it pass as it is. Only a lone field
// and a function's declared result are trusted; a variable could hold anything.
func (c *container) isPlain(pipe *parse.PipeNode) bool {
	last := pipe.Cmds[len(pipe.Cmds)-1]
	switch first := last.Args[0].(type) {
	case *parse.FieldNode:
		return len(last.Args) == 1 && len(first.Ident) == 1 && c.plain[first.Ident[0]]
	case *parse.IdentifierNode:
		fn, ours := c.functions[first.Ident]
		return ours && isPlainType(reflect.TypeOf(fn).Out(0))
	}
	return false
}

func isPlainType(t reflect.Type) bool { return t.Kind() == reflect.String || t.Kind() == reflect.Int }

// plainFields are the names that stand for a word or a whole number in every view
// that has them.
func plainFields() map[string]bool {
	plain := map[string]bool{}
	for _, t := range viewTypes() {
		for _, f := range reflect.VisibleFields(t) {
			before, seen := plain[f.Name]
			plain[f.Name] = isPlainType(f.Type) && (before || !seen)
		}
	}
	return plain
}

func (c *container) command(function string, pos parse.Pos, args ...parse.Node) *parse.CommandNode {
	name := parse.NewIdentifier(function).SetTree(c.tree).SetPos(pos)
	return &parse.CommandNode{NodeType: parse.NodeCommand, Pos: pos, Args: append([]parse.Node{name}, args...)}
}

func (c *container) tickAtStart(list *parse.ListNode, cost int) {
	number := &parse.NumberNode{NodeType: parse.NodeNumber, Pos: list.Pos, IsInt: true, Int64: int64(cost), Text: strconv.Itoa(cost)}
	pipe := &parse.PipeNode{NodeType: parse.NodePipe, Pos: list.Pos, Cmds: []*parse.CommandNode{c.command(tickName, list.Pos, number)}}
	list.Nodes = slices.Insert(list.Nodes, 0, parse.Node(&parse.ActionNode{NodeType: parse.NodeAction, Pos: list.Pos, Pipe: pipe}))
}
