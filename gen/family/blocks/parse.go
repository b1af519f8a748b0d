package blocks

import (
	"bytes"
	"maps"
	"path"
	"slices"
	"text/template/parse"

	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// parser gathers the definitions of all template files.
type parser struct {
	label  string
	list   *diag.List
	defs   map[string]definition
	broken bool // some file could not be read or parsed, so that blocks may be missing for that reason
}

// definition is one {{define}}: its tree and where it stands.
type definition struct {
	tree  *parse.Tree
	file  source
	place diag.Place
}

// mostBlocks is how many blocks and helpers a family may define.
const mostBlocks = 500

// parse reads one file. Functions are looked up later, by the lint, which can
// give the column and the nearest name.
func (p *parser) parse(text File) {
	file := newSource(text)
	tree := parse.New(file.Name)
	tree.Mode = parse.SkipFuncCheck
	set := map[string]*parse.Tree{}
	if _, err := tree.Parse(file.Text, "", "", set); err != nil {
		p.broken = true
		tellSyntax(p.label, file, err, p.list)
		return
	}
	if len(p.defs)+len(set) > mostBlocks {
		p.broken = true
		p.list.Errorf("too-many-blocks", diag.Place{File: path.Join(p.label, file.Name)}, "the templates define more than %d blocks", mostBlocks).
			WithHint("put helpers that are called once into the blocks that call them")
		return
	}
	begins := definesOf(file.Text)
	for _, name := range slices.Sorted(maps.Keys(set)) {
		if name == file.Name {
			p.outside(file, set[name])
			continue
		}
		at, found := begins[name]
		if !found {
			at = int(set[name].Root.Position())
		}
		p.define(name, definition{set[name], file, placeAt(p.label, file, at)})
	}
}

func (p *parser) define(name string, d definition) {
	if first, twice := p.defs[name]; twice {
		p.list.Errorf("block-twice", d.place, "block %q is defined twice", name).WithNote(first.place, "it is first defined here")
		return
	}
	p.defs[name] = d
}

// outside finds what would never be written because it stands in no block.
func (p *parser) outside(file source, tree *parse.Tree) {
	for _, n := range tree.Root.Nodes {
		if t, ok := n.(*parse.TextNode); ok && len(bytes.TrimSpace(t.Text)) == 0 {
			continue
		}
		p.list.Errorf("text-outside-block", p.placeOfText(file, n), "this stands outside of any block and would never be written").
			WithHint("put it between {{define \"NAME\"}} and {{end}}")
		return
	}
}

// placeOfText is where a text node's first word stands.
func (p *parser) placeOfText(file source, n parse.Node) diag.Place {
	shift := 0
	if t, ok := n.(*parse.TextNode); ok {
		shift = len(t.Text) - len(bytes.TrimLeft(t.Text, " \t\r\n"))
	}
	return placeAt(p.label, file, int(n.Position())+shift)
}

// defineName fits the action that begins a definition.
var defineName = lazy.Regexp("^\\{\\{-?\\s*(?:define|block)\\s+(?:\"([^\"]*)\"|`([^`]*)`)")

// definesOf is where each definition of a text first begins; its tree knows only what
// follows.
func definesOf(text string) map[string]int {
	begins := map[string]int{}
	for from := 0; ; {
		a, mistake, found := nextAction(text, from)
		if !found || mistake != "" {
			return begins
		}
		from = a.to
		if a.word != "define" && a.word != "block" {
			continue
		}
		if m := defineName().FindStringSubmatch(text[a.from:a.to]); m != nil {
			if _, before := begins[m[1]+m[2]]; !before {
				begins[m[1]+m[2]] = a.from
			}
		}
	}
}
