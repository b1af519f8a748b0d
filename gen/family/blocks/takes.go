package blocks

import (
	"reflect"
	"slices"
	"text/template/parse"

	"gridferry/plan/wording"
)

var (
	takesText = []string{commentName, nameName, quoteName}
	takesAll  = []string{"and", "or", "not", "ternary"}
	compares  = []string{"eq", "ne"}
)

// takes reports a text that is handed to a function which takes words only: the
// template's own message speaks of types that no author knows.
func (w *walker) takes(function *parse.IdentifierNode, operands []reflect.Type) {
	_, known := w.functions[function.Ident]
	if !known || slices.Contains(takesAll, function.Ident) || slices.Contains(compares, function.Ident) && areAlike(operands) {
		return
	}
	for _, t := range operands {
		free := t == reflect.TypeFor[Text]()
		if t != reflect.TypeFor[Quoted]() && !free || free && slices.Contains(takesText, function.Ident) {
			continue
		}
		f := w.list.Errorf("text-in-function", w.place(function), "function %q is given %s, wanted words or whole numbers", function.Ident, inWords(t))
		if free {
			f.WithHint("write {{%s … (name TEXT)}} to look at its identifier, or ask for a word or a condition; a text becomes a comment, a name or, by \"quote\", a quoted text",
				function.Ident)
		}
		return
	}
}

// areAlike reports whether all operands that there are have one type.
func areAlike(operands []reflect.Type) bool {
	operands = slices.DeleteFunc(slices.Clone(operands), func(t reflect.Type) bool { return t == nil })
	return len(slices.Compact(operands)) == 1
}

// levels reports a level that is compared with what no level is: the condition would hold
// never, or always, and nothing else would say so.
func (w *walker) levels(function *parse.IdentifierNode, operands []parse.Node) {
	isLevel := func(n parse.Node) bool {
		field, is := n.(*parse.FieldNode)
		return is && field.Ident[len(field.Ident)-1] == "Level"
	}
	if !slices.Contains(compares, function.Ident) || !slices.ContainsFunc(operands, isLevel) {
		return
	}
	for _, n := range operands {
		if word, is := n.(*parse.StringNode); is && word.Text != wording.Level(true) && word.Text != wording.Level(false) {
			w.list.Errorf("never-a-level", w.place(n), "a level is never %q", word.Text).
				WithHint("write {{if .IsOn}}, or compare it with \"on\" or \"off\"")
		}
	}
}
