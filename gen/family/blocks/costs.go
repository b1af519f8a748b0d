package blocks

import "text/template/parse"

// mostSteps is how much one block may do for one move, in nodes of its tree.
const mostSteps = 250_000

// costs works out how many nodes a list runs through at most, helpers included. No
// block leads back to itself (the lint sees to that), so that only loops make
// this grow while it runs: each turn of one is charged by its own tick.
type costs struct {
	defs  map[string]definition
	known map[string]int
}

// of never gives more than a little above mostSteps: helpers that each call two
// others double at every level.
func (c *costs) of(list *parse.ListNode) int {
	if list == nil {
		return 0
	}
	sum := 0
	for _, n := range list.Nodes {
		sum += 1 + operands(n) + c.inside(n)
		if sum > mostSteps {
			return mostSteps + 1
		}
	}
	return sum
}

func (c *costs) inside(n parse.Node) int {
	switch n := n.(type) {
	case *parse.IfNode:
		return c.of(n.List) + c.of(n.ElseList)
	case *parse.WithNode:
		return c.of(n.List) + c.of(n.ElseList)
	case *parse.RangeNode:
		return c.of(n.ElseList)
	case *parse.TemplateNode:
		return c.helper(n.Name)
	}
	return 0
}

// operands is how many values a node itself reads, those in brackets included.
func operands(n parse.Node) int {
	if branch := branchOf(n); branch != nil {
		return operands(branch.Pipe)
	}
	switch n := n.(type) {
	case *parse.ActionNode:
		return operands(n.Pipe)
	case *parse.TemplateNode:
		return operands(n.Pipe)
	case *parse.PipeNode:
		count := 0
		if n != nil {
			for _, cmd := range n.Cmds {
				for _, arg := range cmd.Args {
					count += 1 + operands(arg)
				}
			}
		}
		return count
	}
	return 0
}

func (c *costs) helper(name string) int {
	if cost, ok := c.known[name]; ok {
		return cost
	}
	cost := c.of(c.defs[name].tree.Root)
	c.known[name] = cost
	return cost
}
