package ynode

// Entries gives the entries of a mapping in the order in which they were written, nil for other kinds.
//
// A merge key ("<<") gives way, where it stands, to the entries that it takes in; keys written in the mapping itself win, and
// of several mappings that are taken in the earlier one.
func (n Node) Entries() []Entry {
	target := n.target()
	if target == nil || target.kind != mappingNode {
		return nil
	}
	entries := make([]Entry, 0, len(target.content)/2)
	if !hasMerge(target) {
		for i := 0; i+1 < len(target.content); i += 2 {
			entries = append(entries, n.entry(target, i))
		}
		return entries
	}
	return n.withMerges(target, entries)
}

func (n Node) entry(m *node, i int) Entry {
	return Entry{Node{n.doc, m.content[i]}, Node{n.doc, m.content[i+1]}}
}

func (n Node) withMerges(target *node, entries []Entry) []Entry {
	seen := make(map[string]bool, len(target.content)/2)
	for i := 0; i+1 < len(target.content); i += 2 {
		if !isMerge(target.content[i]) {
			seen[follow(target.content[i]).value] = true
		}
	}
	for i := 0; i+1 < len(target.content); i += 2 {
		e := n.entry(target, i)
		if !isMerge(target.content[i]) {
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

func hasMerge(m *node) bool {
	for i := 0; i < len(m.content); i += 2 {
		if isMerge(m.content[i]) {
			return true
		}
	}
	return false
}

// isMerge recognises the merge key of YAML 1.1 (yaml.org/type/merge.html). In quotes it is a key like any other.
func isMerge(key *node) bool {
	return key.kind == scalarNode && key.style == 0 && key.value == "<<"
}
