package family

import (
	"reflect"
	"strconv"
	"text/template/parse"
	"unicode/utf8"
)

// direct is a block that merely prints ready-made values, taken from its parse
// tree: literal text, fields, comments of them, columns, conditions on fields, and
// helpers that do the same. Running it skips the general machinery of text/template,
// which is most of what a program costs. A tree that does anything else has none,
// and a step that meets anything unusual gives up, so that text/template runs the
// block and says what is wrong with it: the results never differ.
type direct struct {
	view  reflect.Type
	steps []step
}

// step prints a part of a block; false gives up.
type step func(p *Printer, view reflect.Value) bool

// directly runs a block in the short way; false when text/template has to do it,
// and then nothing has happened.
func (p *Printer) directly(block string, view any) bool {
	d := p.family.direct[block]
	if d == nil || reflect.TypeOf(view) != d.view {
		return false
	}
	left := p.left
	p.begin()
	if _, err := p.tick(p.family.costs[block]); err == nil && runAll(p, d.steps, reflect.ValueOf(view)) && p.checkEnds() == nil {
		return true
	}
	p.left = left
	return false
}

func runAll(p *Printer, steps []step, view reflect.Value) bool {
	for _, s := range steps {
		if !s(p, view) {
			return false
		}
	}
	return true
}

// put appends what the template prints, like Write.
func (p *Printer) put(text string) bool {
	if len(p.text)+len(text) > largestBlock {
		return false
	}
	p.text = append(p.text, text...)
	return true
}

// directOf finds the blocks that can be run in the short way. It looks at the trees
// as containment left them.
func directOf(f *Family) map[string]*direct {
	all := map[string]*direct{}
	for _, b := range everyBlock() {
		if t := f.set.Lookup(b.Name); t != nil && t.Tree != nil {
			c := compiler{family: f, view: b.viewType()}
			if steps, ok := c.list(t.Root); ok {
				all[b.Name] = &direct{b.viewType(), steps}
			}
		}
	}
	return all
}

// compiler turns trees into steps, for one type of view.
type compiler struct {
	family *Family
	view   reflect.Type // nil inside of a helper without a dot
	size   int          // steps so far: helpers are written out wherever they are called
}

const mostDirect = 1000

func (c *compiler) list(list *parse.ListNode) ([]step, bool) {
	if list == nil {
		return nil, true
	}
	var steps []step
	for _, n := range list.Nodes {
		s, ok := c.node(n)
		if c.size++; !ok || c.size > mostDirect {
			return nil, false
		}
		if s != nil {
			steps = append(steps, s)
		}
	}
	return steps, true
}

func (c *compiler) node(n parse.Node) (step, bool) {
	switch n := n.(type) {
	case *parse.TextNode:
		text := string(n.Text)
		return func(p *Printer, _ reflect.Value) bool { return p.put(text) }, true
	case *parse.CommentNode:
		return nil, true
	case *parse.ActionNode:
		return c.action(n.Pipe)
	case *parse.IfNode:
		return c.branch(n)
	case *parse.TemplateNode:
		return c.helper(n)
	}
	return nil, false
}

// helper writes a helper out that is handed the block's own dot, or none.
func (c *compiler) helper(n *parse.TemplateNode) (step, bool) {
	t := c.family.set.Lookup(n.Name)
	if t == nil || t.Tree == nil || n.Pipe != nil && !isDot(n.Pipe) {
		return nil, false
	}
	view := c.view
	if n.Pipe == nil {
		c.view = nil
	}
	steps, ok := c.list(t.Root)
	c.view = view
	return func(p *Printer, v reflect.Value) bool { return runAll(p, steps, v) }, ok
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
	yes, okYes := c.list(n.List)
	no, okNo := c.list(n.ElseList)
	return func(p *Printer, v reflect.Value) bool {
		if holds(v) {
			return runAll(p, yes, v)
		}
		return runAll(p, no, v)
	}, ok && okYes && okNo
}

// condition is what an "if" asks: a field, or not, and, or of such.
func (c *compiler) condition(n parse.Node) (func(reflect.Value) bool, bool) {
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

func (c *compiler) logic(name string, args []parse.Node) (func(reflect.Value) bool, bool) {
	var parts []func(reflect.Value) bool
	for _, a := range args {
		part, ok := c.condition(a)
		if !ok {
			return nil, false
		}
		parts = append(parts, part)
	}
	switch {
	case name == "not" && len(parts) == 1:
		return func(v reflect.Value) bool { return !parts[0](v) }, true
	case (name == "and" || name == "or") && len(parts) > 0:
		wanted := name == "or" // the value that settles it
		return func(v reflect.Value) bool {
			for _, part := range parts {
				if part(v) == wanted {
					return wanted
				}
			}
			return !wanted
		}, true
	}
	return nil, false
}

// truth is whether a field counts as true, as text/template has it.
func (c *compiler) truth(n *parse.FieldNode) (func(reflect.Value) bool, bool) {
	f, ok := c.field(n)
	if !ok {
		return nil, false
	}
	switch f.Type.Kind() {
	case reflect.Bool:
		return func(v reflect.Value) bool { return at(v, f.Index).Bool() }, true
	case reflect.String:
		return func(v reflect.Value) bool { return at(v, f.Index).Len() > 0 }, true
	case reflect.Int:
		return func(v reflect.Value) bool { return at(v, f.Index).Int() != 0 }, true
	}
	return nil, false
}

func (c *compiler) field(n *parse.FieldNode) (reflect.StructField, bool) {
	if len(n.Ident) != 1 || c.view == nil {
		return reflect.StructField{}, false
	}
	return c.view.FieldByName(n.Ident[0])
}

// at is a field, also one of an embedded struct.
func at(v reflect.Value, index []int) reflect.Value {
	for _, i := range index {
		v = v.Field(i)
	}
	return v
}

// action is a step that prints one value. Containment has put emit behind whatever
// could be more than a word or a whole number.
func (c *compiler) action(pipe *parse.PipeNode) (step, bool) {
	if len(pipe.Decl) > 0 || len(pipe.Cmds) > 2 {
		return nil, false
	}
	args := pipe.Cmds[0].Args
	if len(pipe.Cmds) == 2 {
		if emit, ok := pipe.Cmds[1].Args[0].(*parse.IdentifierNode); !ok || emit.Ident != emitName || len(pipe.Cmds[1].Args) != 1 {
			return nil, false
		}
	}
	name, call := args[0].(*parse.IdentifierNode)
	switch {
	case !call && len(args) == 1:
		return c.print(args[0])
	case call && name.Ident == "comment" && len(pipe.Cmds) == 2:
		return c.comment(args[1:])
	case call && (name.Ident == "pad" || name.Ident == "left") && len(args) == 3:
		return c.column(name.Ident == "pad", args[1], args[2])
	}
	return nil, false
}

// value is a word, a whole number or a text that a step prints.
type value struct {
	word  string // of a literal, and then index is nil
	index []int
	whole bool // a field of type int
	free  bool // a Text
}

func (c *compiler) value(n parse.Node) (value, bool) {
	switch n := n.(type) {
	case *parse.StringNode:
		return value{word: n.Text}, true
	case *parse.NumberNode:
		// 1.0 counts as a whole number there, but what it is depends on where it stands.
		word := strconv.FormatInt(n.Int64, 10)
		return value{word: word}, n.IsInt && n.Text == word
	case *parse.FieldNode:
		f, ok := c.field(n)
		if !ok {
			return value{}, false
		}
		v := value{index: f.Index, whole: f.Type.Kind() == reflect.Int, free: f.Type == reflect.TypeFor[Text]()}
		return v, v.whole || v.free || f.Type.Kind() == reflect.String
	}
	return value{}, false
}

// append puts the value behind b.
func (x *value) append(b []byte, view reflect.Value) []byte {
	switch {
	case x.index == nil:
		return append(b, x.word...)
	case x.whole:
		return strconv.AppendInt(b, at(view, x.index).Int(), 10)
	case x.free:
		return append(b, at(view, x.index).Field(0).String()...)
	}
	return append(b, at(view, x.index).String()...)
}

func (c *compiler) print(n parse.Node) (step, bool) {
	x, ok := c.value(n)
	switch {
	case !ok:
		return nil, false
	case x.free:
		return func(p *Printer, v reflect.Value) bool { return p.putText(at(v, x.index).Field(0).String()) }, true
	case x.whole || x.index == nil:
		return func(p *Printer, v reflect.Value) bool {
			p.scratch = x.append(p.scratch[:0], v)
			return p.putBytes(p.scratch)
		}, true
	}
	return func(p *Printer, v reflect.Value) bool { return p.put(at(v, x.index).String()) }, true
}

// putText is emit for a text.
func (p *Printer) putText(text string) bool {
	comment, err := p.emitText(Text{text})
	return err == nil && p.put(comment)
}

// putBytes is put for bytes.
func (p *Printer) putBytes(b []byte) bool {
	if len(p.text)+len(b) > largestBlock {
		return false
	}
	p.text = append(p.text, b...)
	return true
}

// comment does what joinComment does.
func (c *compiler) comment(args []parse.Node) (step, bool) {
	values := make([]value, len(args))
	for i, a := range args {
		var ok bool
		if values[i], ok = c.value(a); !ok {
			return nil, false
		}
	}
	return func(p *Printer, v reflect.Value) bool {
		b := p.scratch[:0]
		for i := range values {
			x, before := &values[i], len(b)
			if before > 0 {
				b = append(b, ' ')
			}
			from := len(b)
			if b = x.append(b, v); len(b) == from {
				b = b[:before]
				continue
			}
			if from > before && !x.free && isEnding(b[from]) {
				b = append(b[:before], b[from:]...)
			}
		}
		p.scratch = b
		return len(b) <= longestComment && p.putText(string(b))
	}, true
}

// isEnding tells whether no blank stands before a sign.
func isEnding(c byte) bool {
	switch c {
	case ',', '.', ':', ';', ')':
		return true
	}
	return false
}

// column does what pad and padLeft do.
func (c *compiler) column(right bool, width, n parse.Node) (step, bool) {
	number, ok := width.(*parse.NumberNode)
	x, okValue := c.value(n)
	if !ok || !okValue || x.free || !number.IsInt || number.Int64 < 0 || number.Int64 > widest {
		return nil, false
	}
	wide := int(number.Int64)
	return func(p *Printer, v reflect.Value) bool {
		p.scratch = x.append(p.scratch[:0], v)
		blanks := max(wide-utf8.RuneCount(p.scratch), 0)
		if len(p.text)+blanks+len(p.scratch) > largestBlock {
			return false
		}
		if !right {
			p.text = append(p.text, p.scratch...)
		}
		for range blanks {
			p.text = append(p.text, ' ')
		}
		if right {
			p.text = append(p.text, p.scratch...)
		}
		return true
	}, true
}
