package ynode

import "gopkg.in/yaml.v3"

// Entries gives the entries of a mapping in the order in which they were written, nil for other kinds.
//
// A merge key ("<<") gives way, where it stands, to the entries that it takes in; keys written in the mapping itself win, and
// of several mappings that are taken in the earlier one.
func (n Node) Entries() []Entry {
	target := n.target()
	if target == nil || target.Kind != yaml.MappingNode {
		return nil
	}
	entries := make([]Entry, 0, len(target.Content)/2)
	if !hasMerge(target) {
		for i := 0; i+1 < len(target.Content); i += 2 {
			entries = append(entries, n.entry(target, i))
		}
		return entries
	}
	return n.withMerges(target, entries)
}

func (n Node) entry(m *yaml.Node, i int) Entry {
	return Entry{Node{n.doc, m.Content[i]}, Node{n.doc, m.Content[i+1]}}
}

func (n Node) withMerges(target *yaml.Node, entries []Entry) []Entry {
	seen := make(map[string]bool, len(target.Content)/2)
	for i := 0; i+1 < len(target.Content); i += 2 {
		if !isMerge(target.Content[i]) {
			seen[follow(target.Content[i]).Value] = true
		}
	}
	for i := 0; i+1 < len(target.Content); i += 2 {
		e := n.entry(target, i)
		if !isMerge(target.Content[i]) {
			entries = append(entries, e)
			continue
		}
		for _, taken := range e.Value.merged() {
			if key := taken.Key.Text(); !seen[key] {
				seen[key] = true
				entries = append(entries, taken)
			}
		}
	}
	return entries
}

// merged gives the entries of a mapping, or of all mappings of a list.
func (n Node) merged() []Entry {
	if n.Kind() == Map {
		return n.Entries()
	}
	var entries []Entry
	for _, item := range n.Items() {
		entries = append(entries, item.Entries()...)
	}
	return entries
}

func hasMerge(m *yaml.Node) bool {
	for i := 0; i < len(m.Content); i += 2 {
		if isMerge(m.Content[i]) {
			return true
		}
	}
	return false
}

// isMerge recognises the merge key of YAML 1.1 (yaml.org/type/merge.html). In quotes it is a key like any other.
func isMerge(key *yaml.Node) bool {
	return key.Kind == yaml.ScalarNode && key.Style == 0 && key.Value == "<<"
}
