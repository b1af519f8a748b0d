package ynode

import (
	"gopkg.in/yaml.v3"

	"gridferry/plan/diag"
)

// Kind is the shape of a node. The zero value is invalid: it is the kind of an absent node.
type Kind uint8

// The kinds.
const (
	Invalid Kind = iota
	Null         // nothing written, "~" or "null"
	Scalar       // a text; whether it is a number is for the reader to say
	Seq          // a list
	Map          // a mapping
)

// String names the kind as messages do.
func (k Kind) String() string {
	switch k {
	case Null:
		return "nothing"
	case Scalar:
		return "a text"
	case Seq:
		return "a list"
	case Map:
		return "a mapping"
	case Invalid:
	}
	return "an absent node"
}

// Node is one value of a document, with aliases followed. The zero value is absent. Nodes are small and passed by value; those
// of one document must not be used while Set changes it.
type Node struct {
	doc *document
	raw *node // may be an alias
}

// Entry is one key of a mapping with its value.
type Entry struct{ Key, Value Node }

// document is what the nodes of one file share.
type document struct {
	source *source
	// repeated holds the mappings in which a key stood twice.
	repeated map[*node]bool
	// given holds the nodes that Set put in: they come from another text than the rest.
	given map[*node]*source
}

func (d *document) markRepeated(n *node) {
	if d.repeated == nil {
		d.repeated = make(map[*node]bool)
	}
	d.repeated[n] = true
}

// IsZero reports whether the node is absent.
func (n Node) IsZero() bool { return n.raw == nil }

// Kind is the node's shape.
func (n Node) Kind() Kind {
	if n.raw != nil && n.raw.kind == lineNode {
		return Map
	}
	target := n.target()
	if target == nil {
		return Invalid
	}
	switch target.kind {
	case sequenceNode:
		return Seq
	case mappingNode:
		return Map
	}
	if isNull(target) {
		return Null
	}
	return Scalar
}

// isNull goes by the YAML 1.2 core schema (section 10.3.2).
func isNull(n *node) bool {
	if n.kind != scalarNode || n.style != 0 {
		return false
	}
	switch n.value {
	case "", "~", "null", "Null", "NULL":
		return true
	}
	return false
}

// Repeated reports whether a key of a mapping stood there twice, so that an entry was left out.
func (n Node) Repeated() bool { return n.doc != nil && n.doc.repeated[n.target()] }

// Text is the text of a scalar as it was written, quotes resolved: "on" and "017" stay what they are. Other kinds have none.
func (n Node) Text() string {
	if target := n.scalar(); target != nil {
		return target.value
	}
	return ""
}

// Quoted reports whether a scalar was marked as text: by quotes, as a block of text or with the tag !!str.
func (n Node) Quoted() bool {
	target := n.scalar()
	if target == nil {
		return false
	}
	// Any other tag was reported; what it stands before is taken as it is.
	tagged := target.style&yaml.TaggedStyle != 0 && target.tag() == "!!str"
	return tagged || target.style&^yaml.TaggedStyle != 0
}

// scalar is the node that holds a text, nil for other kinds.
func (n Node) scalar() *node {
	if n.raw == nil || n.raw.kind == lineNode { // which need not be read for that
		return nil
	}
	if target := n.target(); target.kind == scalarNode {
		return target
	}
	return nil
}

// Place is where the node stands. An alias stands where "*name" is written; what is inside of it stands where it was written
// down, at the anchor. The width is known for what stands on one line: scalars and aliases.
func (n Node) Place() diag.Place {
	if n.raw == nil {
		return diag.Place{}
	}
	return n.doc.sourceOf(n.raw).place(n.raw)
}

// Stands is where the text of the node was written: of an alias, at its anchor.
func (n Node) Stands() diag.Place { return Node{n.doc, n.target()}.Place() }

// Items gives the entries of a list, nil for other kinds.
func (n Node) Items() []Node {
	if n.Kind() != Seq {
		return nil
	}
	target := n.target()
	items := make([]Node, 0, len(target.content))
	for _, item := range target.content {
		items = append(items, Node{n.doc, item})
	}
	return items
}

// target is the node itself, or what it is an alias of.
func (n Node) target() *node { return follow(n.raw) }

func (d *document) sourceOf(n *node) *source {
	if s, ok := d.given[n]; ok {
		return s
	}
	return d.source
}

func (d *document) placeOf(n *node) diag.Place { return Node{d, n}.Place() }
