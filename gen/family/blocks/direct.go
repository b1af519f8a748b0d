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
	more  more
}

// more prints to b what a value and words cannot. False gives up.
type more func(p *Printer, b []byte) ([]byte, bool)

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
			if b, ok = s.more(p, b); !ok {
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

func (c *compiler) branch(n *parse.IfNode) (step, bool) {
	holds, ok := c.condition(n.Pipe)
	yes, okYes := c.list(nil, n.List)
	no, okNo := c.list(nil, n.ElseList)
	return step{more: func(p *Printer, b []byte) ([]byte, bool) {
		if holds() {
			return p.follow(b, yes)
		}
		return p.follow(b, no)
	}}, ok && okYes && okNo
}

// condition is what an "if" asks: a field, or not, and, or of such.
func (c *compiler) condition(n parse.Node) (func() bool, bool) {
	switch n := n.(type) {
	case *parse.FieldNode:
		return c.truth(n)
	case *parse.PipeNode:
		if len(n.Decl) > 0 || len(n.Cmds) != 1 {
			return nil, false
		}
		args := n.Cmds[0].Args
		if name, ok := args[0].(*parse.IdentifierNode); ok {
			return c.logic(name.Ident, args[1:])
		}
		if len(args) == 1 {
			return c.condition(args[0])
		}
	}
	return nil, false
}

func (c *compiler) logic(name string, args []parse.Node) (func() bool, bool) {
	var parts []func() bool
	for _, a := range args {
		part, ok := c.condition(a)
		if !ok {
			return nil, false
		}
		parts = append(parts, part)
	}
	switch {
	case name == "not" && len(parts) == 1:
		return func() bool { return !parts[0]() }, true
	case (name == "and" || name == "or") && len(parts) > 0:
		wanted := name == "or" // the value that settles it
		return func() bool {
			for _, part := range parts {
				if part() == wanted {
					return wanted
				}
			}
			return !wanted
		}, true
	}
	return nil, false
}

// truth is whether a field counts as true, as text/template has it.
func (c *compiler) truth(n *parse.FieldNode) (func() bool, bool) {
	switch at := c.field(n).(type) {
	case *bool:
		return func() bool { return *at }, true
	case *string:
		return func() bool { return *at != "" }, true
	case *int:
		return func() bool { return *at != 0 }, true
	}
	return nil, false
}

// field is a pointer to where a field of the view is stored, also one of an embedded
// struct; nil for anything else.
func (c *compiler) field(n *parse.FieldNode) any {
	if len(n.Ident) != 1 || !c.view.IsValid() {
		return nil
	}
	f, ok := c.view.Type().FieldByName(n.Ident[0])
	if !ok || !f.IsExported() {
		return nil
	}
	return c.view.FieldByIndex(f.Index).Addr().Interface()
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
		switch at := c.field(n).(type) {
		case *string:
			return value{word: at}, true
		case *int:
			return value{whole: at}, true
		case *Text:
			return value{word: &at.s, free: true}, true
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
		return step{more: func(p *Printer, b []byte) ([]byte, bool) { return p.remark(b, []value{x}, false) }}, ok
	}
	return step{word: x.word, whole: x.whole}, ok
}

func (c *compiler) comment(args []parse.Node) (step, bool) {
	values, ok := c.values(args)
	return step{more: func(p *Printer, b []byte) ([]byte, bool) { return p.remark(b, values, true) }}, ok
}

func (c *compiler) quote(args []parse.Node) (step, bool) {
	values, ok := c.values(args)
	return step{more: func(p *Printer, b []byte) ([]byte, bool) { return p.quotation(b, values) }}, ok
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

var blanks = strings.Repeat(" ", widest)

// column does what pad and padLeft do.
func (c *compiler) column(right bool, width, n parse.Node) (step, bool) {
	number, ok := width.(*parse.NumberNode)
	x, okValue := c.value(n)
	if !ok || !okValue || x.free || !number.IsInt || number.Int64 < 0 || number.Int64 > widest {
		return step{}, false
	}
	wide := int(number.Int64)
	if x.whole != nil {
		return step{more: func(p *Printer, b []byte) ([]byte, bool) {
			p.scratch = x.append(p.scratch[:0])
			return appendColumn(b, p.scratch, blanks[:max(wide-len(p.scratch), 0)], right), true
		}}, true
	}
	return step{more: func(_ *Printer, b []byte) ([]byte, bool) {
		return appendColumn(b, *x.word, blanks[:max(wide-utf8.RuneCountInString(*x.word), 0)], right), true
	}}, true
}

func appendColumn[T string | []byte](b []byte, word T, lacking string, right bool) []byte {
	if right {
		return append(append(b, lacking...), word...)
	}
	return append(append(b, word...), lacking...)
}
