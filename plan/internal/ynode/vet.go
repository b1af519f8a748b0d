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

	open         map[*yaml.Node]bool    // anchored nodes that are being walked: an alias to one is a cycle
	sizes        map[*yaml.Node]measure // of the anchored nodes that were walked
	items        map[*yaml.Node]bool    // mappings that are entries of a list
	expanded     int                    // what all aliases so far stand for, in nodes
	expandedText int                    // and in bytes of texts
	stopped      bool                   // the tree must not be used
}

// measure is what a node comes to with all aliases followed.
type measure struct{ nodes, height, bytes int }

// vet is false when the tree must not be used, because following it would not end or take too long.
func vet(doc *document, root *yaml.Node, list *diag.List) bool {
	v := vetter{doc: doc, list: list, open: make(map[*yaml.Node]bool), sizes: make(map[*yaml.Node]measure), items: make(map[*yaml.Node]bool)}
	v.node(root, 1)
	return !v.stopped
}

func (v *vetter) node(n *yaml.Node, depth int) measure {
	if v.stopped {
		return measure{}
	}
	if n.Kind == yaml.AliasNode {
		return v.alias(n, depth)
	}
	v.tag(n)
	if n.Kind == yaml.ScalarNode {
		size := measure{nodes: 1, bytes: len(n.Value)}
		if n.Anchor != "" {
			v.sizes[n] = size
		}
		return size
	}
	if depth > maxDepth {
		v.stop("nested-too-deep", n, tooDeep, maxDepth)
		return measure{}
	}
	if n.Anchor != "" {
		v.open[n] = true
		defer delete(v.open, n)
	}
	size := v.children(n, depth)
	if n.Anchor != "" {
		v.sizes[n] = size
	}
	return size
}

func (v *vetter) children(n *yaml.Node, depth int) measure {
	// What is taken out is walked all the same: an alias elsewhere may stand for a part of it.
	written := n.Content
	if n.Kind == yaml.MappingNode {
		n.Content = v.usable(n)
	}
	size := measure{nodes: 1}
	for _, child := range written {
		if n.Kind == yaml.SequenceNode && child.Kind == yaml.MappingNode {
			v.items[child] = true
		}
		c := v.node(child, depth+1)
		size.nodes += c.nodes
		size.bytes += c.bytes
		size.height = max(size.height, c.height)
	}
	size.height++
	return size
}

func (v *vetter) alias(n *yaml.Node, depth int) measure {
	if v.open[n.Alias] {
		v.stop("alias-cycle", n, "the alias %q stands inside the value that it repeats", "*"+n.Value).
			WithNote(v.doc.placeOf(n.Alias), "the value %q begins here", "&"+n.Value)
		return measure{}
	}
	size := v.sizes[n.Alias]
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

func (v *vetter) stop(rule string, n *yaml.Node, format string, args ...any) *diag.Finding {
	v.stopped = true
	return v.list.Errorf(rule, v.doc.placeOf(n), format, args...)
}

// tag refuses tags, but for the three that say what is so anyway or that a text is a text.
func (v *vetter) tag(n *yaml.Node) {
	if n.Style&yaml.TaggedStyle == 0 {
		return
	}
	switch {
	case n.Kind == yaml.ScalarNode && n.Tag == "!!str",
		n.Kind == yaml.SequenceNode && n.Tag == "!!seq",
		n.Kind == yaml.MappingNode && n.Tag == "!!map":
		return
	}
	src := v.doc.sourceOf(n)
	v.list.Errorf("custom-tag", src.at(n.Line, n.Column, 0), "the tag %q has no meaning here", n.Tag).
		WithHint("%s", tagHint)
}

// usable gives the entries of a mapping without those that cannot be used: keys that are no text, keys that were there before,
// merges of what is no mapping.
func (v *vetter) usable(n *yaml.Node) []*yaml.Node {
	first := make(map[string]*yaml.Node, len(n.Content)/2)
	kept := make([]*yaml.Node, 0, len(n.Content))
	var again []*yaml.Node
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		if !v.key(key) {
			continue
		}
		text := follow(key).Value
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
		v.repeated(n, again, first)
	}
	return kept
}

// key reports whether a key is usable.
func (v *vetter) key(key *yaml.Node) bool {
	target := follow(key)
	if target.Kind != yaml.ScalarNode || target.Style == 0 && target.Value == "" {
		v.list.Errorf("bad-key", v.doc.placeOf(key), "a key must be a text").
			WithHint(`put a text that begins with "[", "{" or "?" in quotes`)
		return false
	}
	if len(target.Value) > longestKey {
		v.list.Errorf("bad-key", v.doc.placeOf(key), "a key has %d bytes, at most %d fit", len(target.Value), longestKey).
			WithHint("a text so long is a value: write a key and a \":\" before it")
		return false
	}
	return true
}

// repeated reports the keys of a mapping that were there before. In an entry of a list several of them are one mistake: the
// next entry has lost its "- ".
func (v *vetter) repeated(n *yaml.Node, again []*yaml.Node, first map[string]*yaml.Node) {
	lost := v.items[n] && n.Style&yaml.FlowStyle == 0
	if lost && len(again) > 1 {
		again = again[:1]
	}
	for _, key := range again {
		name := follow(key).Value
		f := v.list.Errorf("duplicate-key", v.doc.placeOf(key), "the key %q stands in this mapping twice", wording.Brief(name)).
			WithNote(v.doc.placeOf(first[name]), "it stands here first")
		if lost {
			f.WithHint(`if another entry of the list begins here, write "- " before it`)
		}
	}
}

// merge reports whether an entry is an ordinary one or a usable merge ("<<: *name").
func (v *vetter) merge(key, value *yaml.Node) bool {
	if !isMerge(key) {
		return true
	}
	target := follow(value)
	if target.Kind == yaml.SequenceNode {
		for _, item := range target.Content {
			if !v.mergeable(item) {
				return false
			}
		}
		return true
	}
	return v.mergeable(value)
}

func (v *vetter) mergeable(n *yaml.Node) bool {
	if follow(n).Kind == yaml.MappingNode {
		return true
	}
	v.list.Errorf("bad-merge", v.doc.placeOf(n), `"<<" takes in %s, wanted a mapping or a list of mappings`, Node{v.doc, n}.Kind())
	return false
}
