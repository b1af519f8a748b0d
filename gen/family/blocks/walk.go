package blocks

import (
	"maps"
	"reflect"
	"slices"
	"text/template/parse"
	"unicode"

	"gridferry/plan/diag"
)

// walker goes through one definition and keeps track of the types that dot and
// variables have. A type it cannot know is nil, and about that it reports nothing:
// running the template will.
type walker struct {
	*linter
	file    source
	vars    []variable
	crowded bool     // there are too many of them
	path    []string // the definitions that lead here, to find one that calls itself
}

type variable struct {
	name string
	typ  reflect.Type
}

func (l *linter) walk(def definition, name string, dot reflect.Type, callers []string) {
	if l.walked[walkedAs{name, dot}] {
		return
	}
	l.walked[walkedAs{name, dot}] = true
	w := &walker{linter: l, file: def.file, vars: []variable{{"$", dot}}, path: append(slices.Clone(callers), name)}
	w.nodes(def.tree.Root, dot)
}

func (w *walker) place(n parse.Node) diag.Place { return placeAt(w.label, w.file, int(n.Position())) }

func (w *walker) nodes(list *parse.ListNode, dot reflect.Type) {
	if list == nil {
		return
	}
	for _, n := range list.Nodes {
		w.node(n, dot)
	}
}

func (w *walker) node(n parse.Node, dot reflect.Type) {
	switch n := n.(type) {
	case *parse.TextNode:
		w.literal(string(n.Text), func(i int) diag.Place { return placeAt(w.label, w.file, int(n.Pos)+i) })
	case *parse.ActionNode:
		if t := w.pipe(n.Pipe, dot); len(n.Pipe.Decl) == 0 {
			w.printed(n.Pipe, t)
		}
	case *parse.IfNode:
		w.branch(&n.BranchNode, dot, func(reflect.Type) reflect.Type { return dot })
	case *parse.WithNode:
		w.branch(&n.BranchNode, dot, func(t reflect.Type) reflect.Type { return t })
	case *parse.RangeNode:
		w.loop(n, dot)
	case *parse.TemplateNode:
		w.call(n, dot)
	}
}

// branch walks an if or a with; variables declared in it end with it.
func (w *walker) branch(n *parse.BranchNode, dot reflect.Type, inside func(reflect.Type) reflect.Type) {
	outer := len(w.vars)
	t := w.pipe(n.Pipe, dot)
	if t != nil && t.Kind() == reflect.Struct {
		w.list.Errorf("always-true", w.place(n.Pipe), "%s always counts as true, also an empty one", inWords(t)).
			WithHint("ask for a condition or a word instead")
	}
	w.nodes(n.List, inside(t))
	w.nodes(n.ElseList, dot)
	w.vars = w.vars[:outer]
}

func (w *walker) loop(n *parse.RangeNode, dot reflect.Type) {
	outer := len(w.vars)
	element := elementOf(w.pipe(n.Pipe, dot))
	if k := len(n.Pipe.Decl); k > 0 {
		// The last variable is the element; of two, the first is its index.
		w.vars[len(w.vars)-1].typ = element
		if k == 2 {
			w.vars[len(w.vars)-2].typ = reflect.TypeFor[int]()
		}
	}
	w.nodes(n.List, element)
	w.nodes(n.ElseList, dot)
	w.vars = w.vars[:outer]
}

func elementOf(t reflect.Type) reflect.Type {
	switch {
	case t == nil:
		return nil
	case t.Kind() == reflect.Slice:
		return t.Elem()
	case t.Kind() == reflect.Int:
		return t
	}
	return nil
}

// deepest is how far helpers may lead to helpers.
const deepest = 50

// call walks a helper with the dot that it is handed.
func (w *walker) call(n *parse.TemplateNode, dot reflect.Type) {
	var handed reflect.Type
	if n.Pipe != nil {
		handed = w.pipe(n.Pipe, dot)
	}
	def, defined := w.defs[n.Name]
	switch {
	case !defined && !w.broken:
		f := w.list.Errorf("unknown-template", w.place(n), "no block %q is defined", n.Name)
		f.Suggest(n.Name, slices.Sorted(maps.Keys(w.defs)), "defined are: ")
	case !defined:
	case len(w.path) > deepest:
		w.broken = true // what lies deeper is not looked at
		w.list.Errorf("template-too-deep", w.place(n), "blocks that call blocks lead more than %d deep from here", deepest)
	case slices.Contains(w.path, n.Name):
		w.list.Errorf("template-recursion", w.place(n), "block %q leads back to itself and would never end", n.Name)
	default:
		w.walk(def, n.Name, handed, w.path)
	}
}

// printed checks that what an action gives has a form in a program.
func (w *walker) printed(n parse.Node, t reflect.Type) {
	if t == nil || t == reflect.TypeFor[Text]() || t == reflect.TypeFor[Quoted]() || t.Kind() == reflect.String || t.Kind() == reflect.Int {
		return
	}
	w.list.Errorf("not-printable", w.place(n), "%s cannot be printed, wanted a word, a whole number or a text", inWords(t))
}

// literal checks the characters that a template itself puts into a program.
func (w *walker) literal(text string, place func(int) diag.Place) {
	for i, c := range text {
		switch {
		case unicode.IsControl(c) && c != '\n' && c != '\t' && !(c == '\r' && i+1 < len(text) && text[i+1] == '\n'):
			w.list.Errorf("control-character", place(i), "the template contains the control character %U", c)
			return
		case unicode.In(c, unicode.Bidi_Control, unicode.Zl, unicode.Zp):
			w.list.Errorf("control-character", place(i), "the template contains the bidirectional or line-separator character %U", c)
			return
		case !w.Encoding.Has(c):
			w.list.Errorf("not-in-encoding", place(i), "the template contains %q, which is not representable in %s", c, w.Encoding)
			return
		case w.Letters != nil && !w.Letters.Has(c) && !unicode.IsSpace(c):
			w.list.Errorf("letter-not-allowed", place(i), "the template holds %q, which is not among the family's \"letters\"", c)
			return
		}
	}
}
