package ynode

import (
	"strings"

	"gopkg.in/yaml.v3"
)

// node is one value as it was written. The library's own nodes keep remarks and more, and take three times the memory.
type node struct {
	kind         yaml.Kind
	style        yaml.Style
	line, column int32 // from 1
	value        string
	content      []*node
	rare         *rare // nil for most
}

// The kinds of nodes, those of the library and one more.
const (
	sequenceNode = yaml.SequenceNode
	mappingNode  = yaml.MappingNode
	scalarNode   = yaml.ScalarNode
	aliasNode    = yaml.AliasNode
	// lineNode is a mapping in braces that stands on one line. Its value is that text, from the first brace on; follow reads it.
	lineNode yaml.Kind = 1 << 7
)

// rare is what few nodes have.
type rare struct {
	tag, anchor string
	alias       *node
}

func (n *node) tag() string {
	if n.rare == nil {
		return ""
	}
	return n.rare.tag
}

func (n *node) anchor() string {
	if n.rare == nil {
		return ""
	}
	return n.rare.anchor
}

// alias is what an alias stands for.
func (n *node) alias() *node {
	if n.rare == nil {
		return nil
	}
	return n.rare.alias
}

// follow gives what an alias or a line stands for, and any other node itself. YAML has no alias of an alias.
func follow(n *node) *node {
	switch {
	case n == nil:
	case n.kind == aliasNode:
		return n.alias()
	case n.kind == lineNode:
		read, _ := readLine(n.value, int(n.line), int(n.column)) // which was readable when it was found
		return read
	}
	return n
}

// open puts in the place of a line what stands on it, so that a part of it can be changed.
func (n *node) open() {
	if n.kind == lineNode {
		*n = *follow(n)
	}
}

// setAnchor gives a node another anchor, and leaves what others share as it is.
func (n *node) setAnchor(name string) {
	if n.anchor() == name {
		return
	}
	own := rare{tag: n.tag(), alias: n.alias(), anchor: name}
	n.rare = &own
}

// taken is a tree of the library on its way to one of ours.
type taken struct {
	fillers  bool // the text has some in it
	anchored map[*yaml.Node]*node
	lists    [][]*node // of entries on lines of which the library was shown the first only
}

// take takes over a tree of the library. The text may have fillers.
func take(from *yaml.Node, fillers bool) *node {
	t := taken{fillers: fillers, anchored: map[*yaml.Node]*node{}}
	return t.node(from)
}

// node takes over a node of the library and all below it, and leaves the library's to the garbage on the way.
func (t *taken) node(from *yaml.Node) *node {
	n := &node{kind: from.Kind, style: from.Style, line: int32(from.Line), column: int32(from.Column), value: from.Value}
	if t.fillers {
		n.value = strings.ReplaceAll(n.value, string(filler), "")
	}
	if from.Anchor != "" || from.Alias != nil || from.Style&yaml.TaggedStyle != 0 {
		n.rare = &rare{anchor: from.Anchor, tag: from.Tag, alias: t.anchored[from.Alias]}
	}
	if from.Anchor != "" {
		t.anchored[from] = n
	}
	if len(from.Content) == 0 {
		return n
	}
	n.content = make([]*node, 0, len(from.Content))
	for i, child := range from.Content {
		n.content = append(n.content, t.node(child))
		from.Content[i] = nil
		t.goOn(n)
	}
	return n
}
