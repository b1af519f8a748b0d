package blocks

import (
	"reflect"
	"strconv"
	"strings"
	"text/template/parse"
	"unicode/utf8"
)

// step is a part of a block that merely prints ready-made values: words as they
// stand in the template, and behind them a word, a whole number or something that
// takes more than to append it. Its values are where the view is stored, so that
// running it looks nothing up: text/template alone takes 5.5 to 6.2 times the work of a
// whole "write".
type step struct {
	words string
	word  *string
	whole *int
	own   bool // the value is a move's own (see Settled)
	more  more
}

// more is what a value and words cannot say.
type more interface {
	// print puts it behind b. False gives up.
	print(p *Printer, b []byte) ([]byte, bool)
	// settle puts it behind other steps as it is for all moves that are alike.
	settle(steps []step) ([]step, bool)
}

// isBare reports whether nothing stands behind the words yet.
func (s *step) isBare() bool { return s.word == nil && s.whole == nil && s.more == nil }

// follow runs steps.
func (p *Printer) follow(b []byte, steps []step) ([]byte, bool) {
	for i := range steps {
		s := &steps[i]
		b = append(b, s.words...)
		switch {
		case s.word != nil:
			b = append(b, *s.word...)
		case s.whole != nil:
			b = strconv.AppendInt(b, int64(*s.whole), 10)
		case s.more != nil:
			var ok bool
			if b, ok = s.more.print(p, b); !ok {
				return b, false
			}
		}
		if len(b) > p.longest {
			return b, false
		}
	}
	return b, true
}

// compiler turns the trees of a block that merely prints into steps: literal text,
// fields, comments of them, columns, conditions on fields, and helpers that do the
// same. Running those skips the general machinery of text/template, which is most
// of what a program costs. A tree that does anything else has none, and a step that
// meets anything unusual gives up, so that text/template runs the block and says
// what is wrong with it: the results never differ. It looks at the trees as
// containment left them.
type compiler struct {
	family *Blocks
	view   reflect.Value // addressable; the zero value inside of a helper without a dot
	size   int           // steps so far: helpers are written out wherever they are called
	words  int           // bytes of words in them
}

// compiled is the steps of a block that read the view where it is stored.
func (f *Blocks) compiled(block string, view reflect.Value) ([]step, bool) {
	t := f.set.Lookup(block)
	if t == nil || t.Tree == nil {
		return nil, false
	}
	c := compiler{family: f, view: view}
	return c.list(nil, t.Root)
}

const (
	mostDirect      = 1000
	mostDirectWords = 64 << 10
)

func (c *compiler) list(steps []step, list *parse.ListNode) ([]step, bool) {
	if list == nil {
		return steps, true
	}
	for _, n := range list.Nodes {
		var ok bool
		steps, ok = c.node(steps, n)
		if c.size++; !ok || c.size > mostDirect || c.words > mostDirectWords {
			return nil, false
		}
	}
	return steps, true
}

// behind puts a step behind the others, and its value behind the words of the last
// one if nothing stands there.
func behind(steps []step, s step) []step {
	if last := len(steps) - 1; last >= 0 && steps[last].isBare() {
		s.words = steps[last].words + s.words
		steps[last] = s
		return steps
	}
	return append(steps, s)
}

func (c *compiler) node(steps []step, n parse.Node) ([]step, bool) {
	var s step
	var ok bool
	switch n := n.(type) {
	case *parse.TextNode:
		s, ok = step{words: string(n.Text)}, true
		c.words += len(n.Text)
	case *parse.CommentNode:
		return steps, true
	case *parse.ActionNode:
		s, ok = c.action(n.Pipe)
	case *parse.IfNode:
		s, ok = c.branch(n)
	case *parse.TemplateNode:
		return c.helper(steps, n)
	}
	return behind(steps, s), ok
}

// helper writes a helper out that is handed the block's own dot, or none.
func (c *compiler) helper(steps []step, n *parse.TemplateNode) ([]step, bool) {
	t := c.family.set.Lookup(n.Name)
	if t == nil || t.Tree == nil || n.Pipe != nil && !isDot(n.Pipe) {
		return nil, false
	}
	view := c.view
	if n.Pipe == nil {
		c.view = reflect.Value{}
	}
	steps, ok := c.list(steps, t.Root)
	c.view = view
	return steps, ok
}

func isDot(pipe *parse.PipeNode) bool {
	if len(pipe.Decl) > 0 || len(pipe.Cmds) != 1 || len(pipe.Cmds[0].Args) != 1 {
		return false
	}
	_, dot := pipe.Cmds[0].Args[0].(*parse.DotNode)
	return dot
}

// branch is an "if".
type branch struct {
	condition
	yes, no []step
}

func (c *compiler) branch(n *parse.IfNode) (step, bool) {
	condition, ok := c.condition(n.Pipe)
	yes, okYes := c.list(nil, n.List)
	no, okNo := c.list(nil, n.ElseList)
	return step{more: &branch{condition, yes, no}}, ok && okYes && okNo
}

func (s *branch) print(p *Printer, b []byte) ([]byte, bool) { return p.follow(b, s.taken()) }

// taken is the steps that the condition leads to.
func (s *branch) taken() []step {
	if s.holds() {
		return s.yes
	}
	return s.no
}

// condition is what an "if" asks: a field, or not, and, or of such.
type condition struct {
	holds       func() bool
	own, shared bool // it asks for what is a move's own, for what moves alike share
}

func (c *compiler) condition(n parse.Node) (condition, bool) {
	switch n := n.(type) {
	case *parse.FieldNode:
		return c.truth(n)
	case *parse.PipeNode:
		if len(n.Decl) > 0 || len(n.Cmds) != 1 {
			return condition{}, false
		}
		args := n.Cmds[0].Args
		if name, ok := args[0].(*parse.IdentifierNode); ok {
			return c.logic(name.Ident, args[1:])
		}
		if len(args) == 1 {
			return c.condition(args[0])
		}
	}
	return condition{}, false
}

func (c *compiler) logic(name string, args []parse.Node) (condition, bool) {
	var whole condition
	var parts []func() bool
	for _, a := range args {
		part, ok := c.condition(a)
		if !ok {
			return condition{}, false
		}
		parts = append(parts, part.holds)
		whole.own, whole.shared = whole.own || part.own, whole.shared || part.shared
	}
	switch {
	case name == "not" && len(parts) == 1:
		whole.holds = func() bool { return !parts[0]() }
	case (name == "and" || name == "or") && len(parts) > 0:
		wanted := name == "or" // the value that settles it
		whole.holds = func() bool {
			for _, part := range parts {
				if part() == wanted {
					return wanted
				}
			}
			return !wanted
		}
	}
	return whole, whole.holds != nil
}

// truth is whether a field counts as true, as text/template has it.
func (c *compiler) truth(n *parse.FieldNode) (condition, bool) {
	at, own := c.field(n)
	field := condition{own: own, shared: !own}
	switch at := at.(type) {
	case *bool:
		field.holds = func() bool { return *at }
	case *string:
		field.holds = func() bool { return *at != "" }
	case *int:
		field.holds = func() bool { return *at != 0 }
	}
	return field, field.holds != nil
}

// field is a pointer to where a field of the view is stored, also one of an embedded
// struct, and whether it is a move's own; nil for anything else.
func (c *compiler) field(n *parse.FieldNode) (at any, own bool) {
	if len(n.Ident) != 1 || !c.view.IsValid() {
		return nil, false
	}
	f, ok := c.view.Type().FieldByName(n.Ident[0])
	if !ok || !f.IsExported() {
		return nil, false
	}
	return c.view.FieldByIndex(f.Index).Addr().Interface(), f.Tag.Get("own") != ""
}

// action is a step that prints one value. Containment has put emit behind whatever
// could be more than a word or a whole number.
func (c *compiler) action(pipe *parse.PipeNode) (step, bool) {
	if len(pipe.Decl) > 0 || len(pipe.Cmds) > 2 {
		return step{}, false
	}
	args := pipe.Cmds[0].Args
	if len(pipe.Cmds) == 2 {
		if emit, ok := pipe.Cmds[1].Args[0].(*parse.IdentifierNode); !ok || emit.Ident != emitName || len(pipe.Cmds[1].Args) != 1 {
			return step{}, false
		}
	}
	name, call := args[0].(*parse.IdentifierNode)
	switch {
	case !call && len(args) == 1:
		return c.print(args[0])
	case call && name.Ident == commentName && len(pipe.Cmds) == 2:
		return c.comment(args[1:])
	case call && name.Ident == quoteName && len(pipe.Cmds) == 2:
		return c.quote(args[1:])
	case call && (name.Ident == "pad" || name.Ident == "left") && len(args) == 3:
		return c.column(name.Ident == "pad", args[1], args[2])
	}
	return step{}, false
}

// value is a word, a whole number or a text that a step prints.
type value struct {
	word  *string // also of a literal or a text
	whole *int
	free  bool // it is a text
	own   bool // it is a move's own
}

func (c *compiler) value(n parse.Node) (value, bool) {
	switch n := n.(type) {
	case *parse.StringNode:
		return value{word: &n.Text}, true
	case *parse.NumberNode:
		// 1.0 counts as a whole number there, but what it is depends on where it stands.
		word := strconv.FormatInt(n.Int64, 10)
		return value{word: &word}, n.IsInt && n.Text == word
	case *parse.FieldNode:
		at, own := c.field(n)
		switch at := at.(type) {
		case *string:
			return value{word: at, own: own}, true
		case *int:
			return value{whole: at, own: own}, true
		case *Text:
			return value{word: &at.s, free: true, own: own}, true
		}
	}
	return value{}, false
}

// append puts the value behind b.
func (x *value) append(b []byte) []byte {
	if x.whole != nil {
		return strconv.AppendInt(b, int64(*x.whole), 10)
	}
	return append(b, *x.word...)
}

func (c *compiler) print(n parse.Node) (step, bool) {
	x, ok := c.value(n)
	if x.free {
		return step{more: &remark{values: []value{x}}}, ok
	}
	return step{word: x.word, whole: x.whole, own: x.own}, ok
}

func (c *compiler) comment(args []parse.Node) (step, bool) {
	values, ok := c.values(args)
	return step{more: &remark{values, true}}, ok
}

func (c *compiler) quote(args []parse.Node) (step, bool) {
	values, ok := c.values(args)
	return step{more: &quotedText{values}}, ok
}

func (c *compiler) values(args []parse.Node) ([]value, bool) {
	values := make([]value, len(args))
	for i, a := range args {
		var ok bool
		if values[i], ok = c.value(a); !ok {
			return nil, false
		}
	}
	return values, true
}

// column is what pad and left print.
type column struct {
	value
	wide  int
	right bool
}

func (c *compiler) column(right bool, width, n parse.Node) (step, bool) {
	number, ok := width.(*parse.NumberNode)
	x, okValue := c.value(n)
	if !ok || !okValue || x.free || !number.IsInt || number.Int64 < 0 || number.Int64 > widest {
		return step{}, false
	}
	return step{more: &column{x, int(number.Int64), right}}, true
}

var blanks = strings.Repeat(" ", widest)

func (s *column) print(p *Printer, b []byte) ([]byte, bool) {
	p.scratch = s.value.append(p.scratch[:0])
	lacking := blanks[:max(s.wide-utf8.RuneCount(p.scratch), 0)]
	if s.right {
		return append(append(b, lacking...), p.scratch...), true
	}
	return append(append(b, p.scratch...), lacking...), true
}
