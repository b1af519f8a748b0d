package blocks

import (
	"text/template"

	"gridferry/gen/family/rules"
	"gridferry/plan/diag"
)

// Blocks is what writes: a family's templates, linted and contained, and the rules that
// they print by. Nothing changes it, so that several Printers can share it.
type Blocks struct {
	rules.Rules
	Label string // how people asked for the family: a shipped name or a folder

	set       *template.Template // all blocks and helpers, contained
	defs      map[string]definition
	costs     map[string]int  // of each block without the turns of its loops
	mentioned map[string]bool // fields that some block asks for, be it in a comment
}

// Source is what blocks are made of.
type Source struct {
	Label      string
	Rules      rules.Rules
	RulesKnown bool // otherwise family.yaml is at fault, and what depends on it is not looked at
	Files      []File
	Unread     bool // a file could not be read, so that blocks may be missing for that reason
}

// File is the text of one template file.
type File struct{ Name, Text string }

// Compile parses and lints the templates. Where something is wrong, list says what, and
// the blocks are nil.
func (s *Source) Compile(list *diag.List) *Blocks {
	before := list.Len()
	b := &Blocks{Rules: s.Rules, Label: s.Label}
	p := parser{label: s.Label, list: list, defs: map[string]definition{}, broken: s.Unread}
	for _, file := range s.Files {
		p.parse(file)
	}
	b.defs = p.defs
	l := linter{Rules: &b.Rules, parser: p, rulesKnown: s.RulesKnown}
	l.lint()
	if list.Len() > before || l.broken { // what a file that cannot be read would define is not known
		return nil
	}
	all := costs{b.defs, map[string]int{}}
	for name := range b.defs {
		all.helper(name)
	}
	b.costs = all.known
	b.mentioned = mentionedIn(b)
	b.set = contain(b.defs, funcMap(&b.Rules))
	return b
}

// WritesBlock reports whether the family writes a block; if not, why. A block that may
// be left out and is cannot be written either.
func (b *Blocks) WritesBlock(name string) (reason string, ok bool) {
	if reason, cannot := b.Cannot[name]; cannot {
		return reason, false
	}
	return "it has no block of that name", b.Has(name)
}

// Has reports whether the family has a block of that name.
func (b *Blocks) Has(block string) bool { _, ok := b.defs[block]; return ok }
