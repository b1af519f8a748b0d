package blocks

import (
	"reflect"
	"slices"
	"text/template/parse"
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
