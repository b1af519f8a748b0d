package family

import (
	"io/fs"
	"path"
	"text/template"

	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// RulesFile is the name of a family's rules in its folder.
const RulesFile = "family.yaml"

// Family is a family that passed the lint. It is not changed after Load, so that
// several Printers can share it.
type Family struct {
	Rules
	Label  string // how people asked for it: a shipped name or a folder
	Digest string // of its files: the first half of a SHA-256, in hexadecimal

	set   *template.Template // all blocks and helpers, contained
	defs  map[string]definition
	costs map[string]int // of each block without the turns of its loops
}

// Load reads a family from a folder. Its files are named in findings as
// label/file, and kept in src so that findings can show their lines. It is false
// when something is wrong, and then list says what: all of it, not only the
// first. Nothing of the family runs here.
func Load(fsys fs.FS, label string, list *diag.List, src *diag.Sources) (*Family, bool) {
	before := list.Len()
	f := &Family{Label: label}
	files := reader{fsys: fsys, label: label, list: list, src: src}
	rulesKnown := false
	var sum fileDigest
	if data, ok := files.read(RulesFile); ok {
		sum.add(RulesFile, string(data))
		f.Rules, rulesKnown = readRules(path.Join(label, RulesFile), data, list)
	}
	p := parser{label: label, list: list, defs: map[string]definition{}}
	texts := files.templates()
	p.broken = files.unread
	for _, t := range texts {
		p.parse(t)
		sum.add(t.name, t.text)
	}
	f.Digest = sum.String()
	f.defs = p.defs
	l := linter{Rules: &f.Rules, parser: p, rulesKnown: rulesKnown}
	l.lint()
	if list.Len() > before {
		return nil, false
	}
	f.costs = map[string]int{}
	for name, def := range f.defs {
		f.costs[name] = (&costs{f.defs, map[string]int{}}).of(def.tree.Root)
	}
	f.set = contain(f.defs, f.Rules.funcMap())
	return f, true
}

// Writes tells whether the family writes this kind of move; if not, why.
func (f *Family) Writes(kind move.Kind) (reason string, ok bool) {
	reason, cannot := f.Cannot[kind.String()]
	return reason, !cannot
}

// WritesBlock is Writes for a block by its name. A block that may be left out
// and is cannot be written either.
func (f *Family) WritesBlock(name string) (reason string, ok bool) {
	if reason, cannot := f.Cannot[name]; cannot {
		return reason, false
	}
	return "it has no block of that name", f.Has(name)
}

// Has tells whether the family has a block of that name.
func (f *Family) Has(block string) bool { _, ok := f.defs[block]; return ok }
