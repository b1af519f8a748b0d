package ynode

import (
	"slices"

	"gridferry/plan/diag"
)

// Put puts a text from outside the document where a path of keys leads, at that place alone: what shares an anchor with it, or
// with something around it, stays as it was. With more, the text comes behind what stands there, as one more entry of a list. A
// last key that is not there yet is added; where the rest of the path leads nowhere, nothing happens. It is false when list got
// an error; the text stands at file, line 1, column.
func (n Node) Put(path []string, text, file string, column int, more bool, list *diag.List) bool {
	src := newSource(file, text, column-1)
	if !checkText(src, list) {
		return false
	}
	p := pathFinder{root: n, file: file, list: list}
	last := len(path) - 1
	at := n.raw
	for _, part := range path[:last] {
		if at = p.apart(at, part); at == nil {
			return true
		}
	}
	if at.kind == mappingNode {
		p.put(at, path[last], &node{kind: scalarNode, value: text, line: 1, column: 1}, src, more)
	}
	return true
}

// put writes a text into a mapping that nothing else shares.
func (p *pathFinder) put(m *node, key string, text *node, src *source, more bool) {
	doc := p.root.doc
	doc.markGiven(text, src)
	old := p.apart(m, key)
	switch {
	case old == nil:
		added := &node{kind: scalarNode, value: key, line: 1, column: 1}
		doc.markGiven(added, src)
		m.content = append(m.content, added, text)
	case more && old.kind == sequenceNode:
		old.content = append(old.content, text)
	case more && old.kind == scalarNode && !isNull(old):
		first := *old
		if given, ok := doc.given[old]; ok {
			doc.given[&first] = given
		}
		*old = node{kind: sequenceNode, line: old.line, column: old.column, content: []*node{&first, text}}
	case more && old.kind == mappingNode: // which the reader refuses
	default:
		*old = *text
		doc.markGiven(old, src)
	}
}

// apart gives what a key of a mapping stands for, as a node that nothing else shares; nil if there is none. What lies in it may
// still be shared.
func (p *pathFinder) apart(m *node, key string) *node {
	found := p.step(m, key)
	if found == nil {
		return nil
	}
	doc, meant := p.root.doc, follow(found)
	own := *meant
	own.line, own.column, own.content = found.line, found.column, slices.Clone(meant.content)
	if src, ok := doc.given[found]; ok {
		doc.given[&own] = src
	}
	if doc.repeated[meant] {
		doc.markRepeated(&own)
	}
	m.content[slices.Index(m.content, found)] = &own
	return &own
}

// Drop takes a key out of the mapping that a path leads to, at that place alone. Where the path leads nowhere, nothing happens.
func (n Node) Drop(path ...string) {
	p := pathFinder{root: n}
	m := n.raw
	last := len(path) - 1
	for _, part := range path[:last] {
		if m = p.apart(m, part); m == nil {
			return
		}
	}
	if m.kind != mappingNode {
		return
	}
	var left []*node
	for _, e := range (Node{n.doc, m}).Entries() { // merges resolved: the key may come from there
		if e.Key.Text() != path[last] {
			left = append(left, e.Key.raw, e.Value.raw)
		}
	}
	m.content = left
}
