package blocks

import (
	"maps"
	"path"
	"reflect"
	"slices"
	"text/template/parse"

	"gridferry/gen/family/rules"
	"gridferry/plan/diag"
)

// linter checks all templates of a family against the views they will be given.
type linter struct {
	*rules.Rules
	parser
	rulesKnown bool
	functions  map[string]reflect.Type // what each function gives; nil where that depends

	strange []string // definitions that are no blocks and that no template asks for

	walked map[walkedAs]bool
}

// walkedAs is one definition with one type of dot: a helper may serve several.
type walkedAs struct {
	name string
	dot  reflect.Type
}

// lint checks everything that can be known before a template runs.
func (l *linter) lint() {
	l.functions = l.resultTypes()
	l.strange = l.strangers()
	l.walked = map[walkedAs]bool{}
	for _, b := range List(l.Rules) {
		l.block(b)
	}
	l.strays()
}

// resultTypes is what every function that may be called gives.
func (l *linter) resultTypes() map[string]reflect.Type {
	word, whole, condition := reflect.TypeFor[string](), reflect.TypeFor[int](), reflect.TypeFor[bool]()
	types := map[string]reflect.Type{"len": whole, "slice": word, "index": nil, "and": nil, "or": nil}
	for _, name := range builtins {
		if _, known := types[name]; !known {
			types[name] = condition
		}
	}
	for name, fn := range funcMap(l.Rules) {
		types[name] = reflect.TypeOf(fn).Out(0)
		if types[name].Kind() == reflect.Interface {
			types[name] = nil
		}
	}
	return types
}

// block checks that a block is there if it has to be, and what is in it.
func (l *linter) block(b Block) {
	def, defined := l.defs[b.Name]
	_, cannot := l.Cannot[b.Name]
	switch {
	case defined && b.ofParts() && l.MostLines == 0 && l.rulesKnown:
		l.list.Errorf("unused-block", def.place, "block %q is for programs in several files, and %s does not say \"most_lines\"", b.Name, rules.File)
	case defined && b.Name == Table && l.Tables.Rows == 0 && l.rulesKnown:
		l.list.Errorf("unused-block", def.place, "block %q is for moves in several tables, and %s does not say \"tables\"", b.Name, rules.File)
	case defined && cannot:
		l.list.Errorf("cannot-but-defined", l.CannotAt[b.Name], "%q is listed under \"cannot\" and has a block all the same", b.Name).
			WithNote(def.place, "the block")
	case defined:
		l.walk(def, b.Name, b.viewType(), nil)
	case l.needs(b) && !l.broken && l.rulesKnown:
		l.missing(b)
	}
}

// missing reports a block that has to be there, unless it is there under a name with a
// typing mistake in it, which strays reports.
func (l *linter) missing(b Block) {
	if slices.ContainsFunc(l.strange, func(name string) bool { return diag.Nearest(name, l.absent()) == b.Name }) {
		return
	}
	f := l.list.Errorf("missing-block", diag.Place{File: path.Join(l.label, rules.File)}, "block %q is missing: %s", b.Name, b.Doc)
	if b.Kind != 0 {
		f.WithHint("write {{define %q}}…{{end}}, or say under \"cannot\" in %s why this family does not write it", b.Name, rules.File)
		return
	}
	f.WithHint("write {{define %q}}…{{end}} in one of the templates", b.Name)
}

// strays finds definitions that nothing uses: most are blocks with a slip in
// their name.
func (l *linter) strays() {
	if l.broken {
		return
	}
	for _, name := range l.strange {
		f := l.list.Errorf("unknown-block", l.defs[name].place, "unknown block %q: Gridferry never writes it, and no other block uses it", name)
		if near := diag.Nearest(name, l.absent()); near != "" {
			f.DidYouMean(name, near)
			continue
		}
		f.Suggest(name, blockNames(List(l.Rules)), "the blocks are: ")
	}
}

// strangers is the definitions that are no blocks and that no template asks for.
func (l *linter) strangers() []string {
	used := map[string]bool{}
	for _, b := range List(l.Rules) {
		used[b.Name] = true
	}
	for _, def := range l.defs {
		eachCall(def.tree.Root, func(helper string) { used[helper] = true })
	}
	return slices.DeleteFunc(slices.Sorted(maps.Keys(l.defs)), func(name string) bool { return used[name] })
}

// eachCall goes through the helpers that a list asks for.
func eachCall(list *parse.ListNode, each func(helper string)) {
	if list == nil {
		return
	}
	for _, n := range list.Nodes {
		if call, is := n.(*parse.TemplateNode); is {
			each(call.Name)
		}
		if branch := branchOf(n); branch != nil {
			eachCall(branch.List, each)
			eachCall(branch.ElseList, each)
		}
	}
}

// branchOf is what an if, a with and a range have in common; nil of any other node.
func branchOf(n parse.Node) *parse.BranchNode {
	switch n := n.(type) {
	case *parse.IfNode:
		return &n.BranchNode
	case *parse.WithNode:
		return &n.BranchNode
	case *parse.RangeNode:
		return &n.BranchNode
	}
	return nil
}

// absent is the blocks that have to be there and are not.
func (l *linter) absent() []string {
	var absent []string
	for _, b := range List(l.Rules) {
		if _, defined := l.defs[b.Name]; !defined && l.needs(b) {
			absent = append(absent, b.Name)
		}
	}
	return absent
}

// needs reports whether a block may not be left out.
func (l *linter) needs(b Block) bool {
	_, cannot := l.Cannot[b.Name]
	return !cannot && (!b.Optional || b.ofParts() && l.MostLines > 0 || b.Name == Table && l.Tables.Rows > 0)
}
