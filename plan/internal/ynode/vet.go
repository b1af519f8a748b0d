package ynode

import (
	"gopkg.in/yaml.v3"

	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

const (
	// maxDepth is how many lists and mappings may stand inside each other. A plan needs eight.
	maxDepth = 100
	// maxExpanded is how many nodes all aliases together may stand for. Whoever reads the tree follows aliases, and a few
	// lines of aliases of aliases can stand for more nodes than a computer can hold. A hundred thousand entries may take in
	// two keys each.
	maxExpanded = 500_000
	// maxExpandedText is how many bytes of text all aliases together may stand for: as much as a file may have. Who reads a text
	// goes through all of it, wherever an alias stands for it.
	maxExpandedText = maxSize
	// longestKey is the most bytes of a key: where a "?" stands before it or an alias for it, the library sets no bound. Of keys
	// on one line it is that of YAML 1.2, section 7.4.2, which is in characters.
	longestKey = 1024

	bombHint = "let aliases stand for less: what differs only in its slots can be one entry with more of them"

	tagHint = `leave it out; a text that begins with "!" must be in quotes`
	tooDeep = "lists and mappings stand more than %d deep inside each other"
)

// vetter walks every written node once and reports what the library lets pass. Entries that cannot be used are taken out.
type vetter struct {
	doc  *document
	list *diag.List

	open         map[*node]bool    // anchored nodes that are being walked: an alias to one is a cycle
	sizes        map[*node]measure // of the anchored nodes that were walked
	expanded     int               // what all aliases so far stand for, in nodes
	expandedText int               // and in bytes of texts
	stopped      bool              // the tree must not be used
}

// measure is what a node comes to with all aliases followed.
type measure struct{ nodes, height, bytes int }

// vet is false when the tree must not be used, because following it would not end or take too long.
func vet(doc *document, root *node, list *diag.List) bool {
	v := vetter{doc: doc, list: list, open: make(map[*node]bool), sizes: make(map[*node]measure)}
	v.node(root, 1, false)
	return !v.stopped
}

// node walks a node; item says that it is an entry of a list.
func (v *vetter) node(n *node, depth int, item bool) measure {
	if v.stopped {
		return measure{}
	}
	if n.kind == lineNode {
		if len(v.open) == 0 && depth+deepest < maxDepth {
			return measure{} // there is nothing to find, and nobody asks for it
		}
		n = follow(n)
	}
	if n.kind == aliasNode {
		return v.alias(n, depth)
	}
	v.tag(n)
	if n.kind == scalarNode {
		size := measure{nodes: 1, bytes: len(n.value)}
		if n.anchor() != "" {
			v.sizes[n] = size
		}
		return size
	}
	if depth > maxDepth {
		v.stop("nested-too-deep", n, tooDeep, maxDepth)
		return measure{}
	}
	if n.anchor() != "" {
		v.open[n] = true
		defer delete(v.open, n)
	}
	size := v.children(n, depth, item)
	if n.anchor() != "" {
		v.sizes[n] = size
	}
	return size
}

func (v *vetter) children(n *node, depth int, item bool) measure {
	// What is taken out is walked all the same: an alias elsewhere may stand for a part of it.
	written := n.content
	if n.kind == mappingNode {
		n.content = v.usable(n, item)
	}
	size := measure{nodes: 1}
	for _, child := range written {
		c := v.node(child, depth+1, n.kind == sequenceNode)
		size.nodes += c.nodes
		size.bytes += c.bytes
		size.height = max(size.height, c.height)
	}
	size.height++
	return size
}

func (v *vetter) alias(n *node, depth int) measure {
	if v.open[n.alias()] {
		v.stop("alias-cycle", n, "the alias %q stands inside the value that it repeats", "*"+n.value).
			WithNote(v.doc.placeOf(n.alias()), "the value %q begins here", "&"+n.value)
		return measure{}
	}
	size := v.sizes[n.alias()]
	v.expanded += size.nodes
	v.expandedText += size.bytes
	switch {
	case v.expanded > maxExpanded:
		v.stop("alias-bomb", n, "the aliases stand for more than %d values in all", maxExpanded).WithHint("%s", bombHint)
		return measure{}
	case v.expandedText > maxExpandedText:
		v.stop("alias-bomb", n, "the aliases stand for more than %d bytes of text in all", maxExpandedText).WithHint("%s", bombHint)
		return measure{}
	}
	if depth-1+size.height > maxDepth {
		v.stop("nested-too-deep", n, tooDeep, maxDepth)
		return measure{}
	}
	return size
}

func (v *vetter) stop(rule string, n *node, format string, args ...any) *diag.Finding {
	v.stopped = true
	return v.list.Errorf(rule, v.doc.placeOf(n), format, args...)
}

// tag refuses tags, but for the three that say what is so anyway or that a text is a text.
func (v *vetter) tag(n *node) {
	if n.style&yaml.TaggedStyle == 0 {
		return
	}
	switch {
	case n.kind == scalarNode && n.tag() == "!!str",
		n.kind == sequenceNode && n.tag() == "!!seq",
		n.kind == mappingNode && n.tag() == "!!map":
		return
	}
	src := v.doc.sourceOf(n)
	v.list.Errorf("custom-tag", src.at(int(n.line), int(n.column), 0), "the tag %q has no meaning here", n.tag()).
		WithHint("%s", tagHint)
}

// usable gives the entries of a mapping without those that cannot be used: keys that are no text, keys that were there before,
// merges of what is no mapping.
func (v *vetter) usable(n *node, item bool) []*node {
	first := make(map[string]*node, len(n.content)/2)
	kept := make([]*node, 0, len(n.content))
	var again []*node
	for i := 0; i+1 < len(n.content); i += 2 {
		key, value := n.content[i], n.content[i+1]
		if !v.key(key) {
			continue
		}
		text := follow(key).value
		if first[text] != nil {
			again = append(again, key)
			continue
		}
		first[text] = key
		if v.merge(key, value) {
			kept = append(kept, key, value)
		}
	}
	if again != nil {
		v.doc.markRepeated(n)
		v.repeated(n, again, first, item)
	}
	return kept
}

// key reports whether a key is usable.
func (v *vetter) key(key *node) bool {
	target := follow(key)
	if target.kind != scalarNode || target.style == 0 && target.value == "" {
		v.list.Errorf("bad-key", v.doc.placeOf(key), "a key must be a text").
			WithHint(`put a text that begins with "[", "{" or "?" in quotes`)
		return false
	}
	if len(target.value) > longestKey {
		v.list.Errorf("bad-key", v.doc.placeOf(key), "a key has %d bytes, at most %d fit", len(target.value), longestKey).
			WithHint("a text so long is a value: write a key and a \":\" before it")
		return false
	}
	return true
}

// repeated reports the keys of a mapping that were there before. In an entry of a list several of them are one mistake: the
// next entry has lost its "- ".
func (v *vetter) repeated(n *node, again []*node, first map[string]*node, item bool) {
	lost := item && n.style&yaml.FlowStyle == 0
	if lost && len(again) > 1 {
		again = again[:1]
	}
	for _, key := range again {
		name := follow(key).value
		f := v.list.Errorf("duplicate-key", v.doc.placeOf(key), "the key %q stands in this mapping twice", wording.Brief(name)).
			WithNote(v.doc.placeOf(first[name]), "it stands here first")
		if lost {
			f.WithHint(`if another entry of the list begins here, write "- " before it`)
		}
	}
}

// merge reports whether an entry is an ordinary one or a usable merge ("<<: *name").
func (v *vetter) merge(key, value *node) bool {
	if !isMerge(key) {
		return true
	}
	target := follow(value)
	if target.kind == sequenceNode {
		for _, item := range target.content {
			if !v.mergeable(item) {
				return false
			}
		}
		return true
	}
	return v.mergeable(value)
}

func (v *vetter) mergeable(n *node) bool {
	if follow(n).kind == mappingNode {
		return true
	}
	v.list.Errorf("bad-merge", v.doc.placeOf(n), `"<<" takes in %s, wanted a mapping or a list of mappings`, Node{v.doc, n}.Kind())
	return false
}
