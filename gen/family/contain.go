package family

import (
	"bytes"
	"maps"
	"slices"
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
// reaches a program but by way of Printer.emit; every body of a loop and every
// helper begins with a tick, so that no template runs for ever.
func contain(defs map[string]definition, functions template.FuncMap) *template.Template {
	set := template.New("").Funcs(functions)
	for _, name := range slices.Sorted(maps.Keys(defs)) {
		tree := defs[name].tree.Copy()
		dropFirstBreak(tree.Root)
		c := container{tree}
		c.nodes(tree.Root)
		if _, isBlock := blockNamed(name); !isBlock {
			c.tickAtStart(tree.Root)
		}
		template.Must(set.AddParseTree(name, tree))
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

// container rewrites one tree.
type container struct{ tree *parse.Tree }

func (c container) nodes(list *parse.ListNode) {
	if list == nil {
		return
	}
	for _, n := range list.Nodes {
		switch n := n.(type) {
		case *parse.TextNode:
			n.Text = bytes.ReplaceAll(n.Text, []byte("\r\n"), []byte("\n"))
		case *parse.ActionNode:
			if len(n.Pipe.Decl) == 0 {
				n.Pipe.Cmds = append(n.Pipe.Cmds, c.command(emitName, n.Pipe.Pos))
			}
		case *parse.IfNode:
			c.branch(&n.BranchNode)
		case *parse.WithNode:
			c.branch(&n.BranchNode)
		case *parse.RangeNode:
			c.branch(&n.BranchNode)
			c.tickAtStart(n.List)
		}
	}
}

func (c container) branch(n *parse.BranchNode) {
	c.nodes(n.List)
	c.nodes(n.ElseList)
}

func (c container) command(function string, pos parse.Pos) *parse.CommandNode {
	name := parse.NewIdentifier(function).SetTree(c.tree).SetPos(pos)
	return &parse.CommandNode{NodeType: parse.NodeCommand, Pos: pos, Args: []parse.Node{name}}
}

func (c container) tickAtStart(list *parse.ListNode) {
	pipe := &parse.PipeNode{NodeType: parse.NodePipe, Pos: list.Pos, Cmds: []*parse.CommandNode{c.command(tickName, list.Pos)}}
	list.Nodes = slices.Insert(list.Nodes, 0, parse.Node(&parse.ActionNode{NodeType: parse.NodeAction, Pos: list.Pos, Pipe: pipe}))
}
