package blocks

import (
	"bytes"
	"maps"
	"path"
	"regexp"
	"slices"
	"text/template/parse"

	"gridferry/plan/diag"
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
	file  File
	place diag.Place
}

// mostBlocks is how many blocks and helpers a family may define.
const mostBlocks = 500

// parse reads one file. Functions are looked up later, by the lint, which can
// give the column and the nearest name.
func (p *parser) parse(file File) {
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
		p.list.Errorf("too-many-blocks", diag.Place{File: path.Join(p.label, file.Name)}, "the templates define more than %d blocks", mostBlocks)
		return
	}
	for _, name := range slices.Sorted(maps.Keys(set)) {
		if name == file.Name {
			p.outside(file, set[name])
			continue
		}
		p.define(name, definition{set[name], file, p.placeOfDefine(file, name, set[name])})
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
func (p *parser) outside(file File, tree *parse.Tree) {
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
func (p *parser) placeOfText(file File, n parse.Node) diag.Place {
	shift := 0
	if t, ok := n.(*parse.TextNode); ok {
		shift = len(t.Text) - len(bytes.TrimLeft(t.Text, " \t\r\n"))
	}
	return placeAt(p.label, file, int(n.Position())+shift)
}

// placeOfDefine finds where a definition begins; its tree knows only what follows.
func (p *parser) placeOfDefine(file File, name string, tree *parse.Tree) diag.Place {
	pattern := regexp.MustCompile(`\{\{-?\s*(?:define|block)\s+["` + "`" + `]` + regexp.QuoteMeta(name) + `["` + "`" + `]`)
	if at := pattern.FindStringIndex(file.Text); at != nil {
		return placeAt(p.label, file, at[0])
	}
	if tree.Root != nil {
		return placeAt(p.label, file, int(tree.Root.Position()))
	}
	return diag.Place{File: path.Join(p.label, file.Name)}
}
