package blocks

import (
	"maps"
	"reflect"
	"slices"
	"strings"
	"text/template/parse"

	"gridferry/gen/family/rules"
	"gridferry/plan/diag"
)

// pipe gives the type of a pipeline and declares its variables.
func (w *walker) pipe(p *parse.PipeNode, dot reflect.Type) reflect.Type {
	var t reflect.Type
	for _, cmd := range p.Cmds {
		t = w.command(cmd, dot, t)
	}
	for _, v := range p.Decl {
		w.declare(v, t, p.IsAssign)
	}
	return t
}

// mostVariables is how many variables may be there at once, "$" among them: whoever asks
// for one goes through all that were declared behind it.
const mostVariables = 100

// declare adds a variable; one that is assigned a second type has none that is known.
func (w *walker) declare(v *parse.VariableNode, t reflect.Type, assign bool) {
	name := v.Ident[0]
	if !assign {
		if w.vars = append(w.vars, variable{name, t}); len(w.vars) > mostVariables && !w.crowded {
			w.crowded = true
			w.list.Errorf("too-many-variables", w.place(v), "more than %d variables are declared up to here", mostVariables).
				WithHint("a variable holds until the {{end}} of what it stands in: declare it where it is used, or change one with {{$x = …}}")
		}
		return
	}
	for i := len(w.vars) - 1; i >= 0; i-- {
		if w.vars[i].name == name {
			if w.vars[i].typ != t {
				w.vars[i].typ = nil
			}
			return
		}
	}
}

// command gives the type of one command: its first word decides. What is piped into it is
// its last operand.
func (w *walker) command(cmd *parse.CommandNode, dot, piped reflect.Type) reflect.Type {
	types := make([]reflect.Type, len(cmd.Args), len(cmd.Args)+1)
	for i, arg := range cmd.Args {
		types[i] = w.operand(arg, dot)
	}
	if name, is := cmd.Args[0].(*parse.IdentifierNode); is {
		w.takes(name, append(types, piped)[1:])
		w.levels(name, cmd.Args[1:])
	}
	return types[0]
}

func (w *walker) operand(n parse.Node, dot reflect.Type) reflect.Type {
	switch n := n.(type) {
	case *parse.DotNode:
		return dot
	case *parse.FieldNode:
		return w.fields(n, dot, n.Ident)
	case *parse.VariableNode:
		return w.fields(n, w.typeOf(n.Ident[0]), n.Ident[1:])
	case *parse.ChainNode:
		return w.fields(n, w.operand(n.Node, dot), n.Field)
	case *parse.PipeNode:
		return w.pipe(n, dot)
	case *parse.IdentifierNode:
		return w.function(n)
	case *parse.StringNode:
		at := w.place(n)
		w.literal(n.Text, func(int) diag.Place { return at })
		if len(n.Text) > widest {
			w.list.Errorf("constant-too-long", at, "a word of %d bytes stands in the template, at most %d are of use in a line", len(n.Text), widest)
		}
		return reflect.TypeFor[string]()
	case *parse.BoolNode:
		return reflect.TypeFor[bool]()
	case *parse.NumberNode:
		return typeOfNumber(n)
	}
	return nil
}

func typeOfNumber(n *parse.NumberNode) reflect.Type {
	if n.IsInt {
		return reflect.TypeFor[int]()
	}
	return reflect.TypeFor[float64]()
}

// typeOf is the type of the innermost variable of that name.
func (w *walker) typeOf(name string) reflect.Type {
	for i := len(w.vars) - 1; i >= 0; i-- {
		if w.vars[i].name == name {
			return w.vars[i].typ
		}
	}
	return nil
}

// fields follows .A.B from a type.
func (w *walker) fields(n parse.Node, t reflect.Type, names []string) reflect.Type {
	for _, name := range names {
		if t == nil {
			return nil
		}
		if t.Kind() != reflect.Struct || t == reflect.TypeFor[Text]() {
			w.list.Errorf("unknown-field", w.place(n), "%s has no fields, so that there is no %q", inWords(t), name)
			return nil
		}
		field, ok := t.FieldByName(name)
		if !ok || field.Anonymous {
			f := w.list.Errorf("unknown-field", w.place(n), "%s has no field %q", w.where(t), name)
			f.Suggest(name, filledFields(w.Rules, t), "it has: ")
			return nil
		}
		if w.rulesKnown && !fills(w.Rules, t, field) {
			w.list.Errorf("field-not-filled", w.place(n), "field %q is empty in this family: it goes with %q in %s", name, whenOf(field), rules.File)
		}
		t = field.Type
	}
	return t
}

// where names what a field was asked of, as people see it: the block or the list.
func (w *walker) where(t reflect.Type) string {
	if t == w.vars[0].typ {
		return "block " + quoted(w.path[len(w.path)-1])
	}
	return inWords(t)
}

func quoted(s string) string { return `"` + s + `"` }

// inWords is a type as AUTHORING.md calls it.
func inWords(t reflect.Type) string {
	switch {
	case t == reflect.TypeFor[Text]():
		return "a text"
	case t == reflect.TypeFor[Quoted]():
		return "a quoted text"
	case t.Kind() == reflect.String:
		return "a word"
	case t.Kind() == reflect.Int:
		return "a whole number"
	case t.Kind() == reflect.Bool:
		return "a condition"
	case t.Kind() == reflect.Slice:
		return "a list"
	case t.Kind() == reflect.Struct:
		return "an entry of " + strings.ToLower(t.Name()) + " fields"
	}
	return "a number with a fraction"
}

// function checks that a function is one of those that templates may call.
func (w *walker) function(n *parse.IdentifierNode) reflect.Type {
	t, known := w.functions[n.Ident]
	if !known {
		f := w.list.Errorf("unknown-function", w.place(n), "there is no function %q", n.Ident)
		f.Suggest(n.Ident, slices.Sorted(maps.Keys(w.functions)), "there are: ")
	}
	if n.Ident == quoteName && w.rulesKnown && !w.Quotes.Has() {
		w.list.Errorf("no-quotes", w.place(n), "%q writes the family's quotation marks, and %s does not name them", n.Ident, rules.File).
			WithHint(`say there which marks the controller reads, as in quotes: {open: '"', close: '"', escape: '"'}`)
	}
	return t
}
