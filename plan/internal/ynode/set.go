package ynode

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// Setting is one value given from outside the document, as in --set PATH=VALUE.
type Setting struct {
	Path  string // "grids.tray.rows"; entries of lists are counted from 1: "transfers.1.take"
	Value string // YAML: "5", "[60, 60]", "2.5 in"
	File  string // what findings call the text PATH=VALUE, such as "--set[1]"
}

// Set puts a value in place of the one at path, as if the text of the document had been edited there. It is false when list got
// an error.
//
// If the node there carries an anchor, every alias of it follows. If it is itself an alias, or lies inside of one, only this
// place changes: the alias becomes a value of its own. A key that came in through a merge ("<<") is set in the mapping that the
// path names, not where it was taken from.
//
// The value is read as YAML in flow style: a text, a number, [a list] or {a: mapping}; null leaves the place open. What is not
// one such value is taken as a text. A finding about the value stands at file, line 1, valueColumn; one about the path in the
// columns from 1, as in the text PATH=VALUE. Rules: set-path, set-value, and those of Parse.
func (n Node) Set(path, value, file string, valueColumn int, list *diag.List) bool {
	return n.SetBelow(0, path, value, file, valueColumn, list)
}

// SetBelow is Set for a document that the first parts of the path lead to.
func (n Node) SetBelow(parts int, path, value, file string, valueColumn int, list *diag.List) bool {
	return n.SetOrAdd(parts, path, value, file, valueColumn, nil, list)
}

// SetOrAdd is SetBelow that adds a key that is not there, where it is one of those that keys gives for the path before it.
func (n Node) SetOrAdd(parts int, path, value, file string, valueColumn int, keys func(parts []string) []string, list *diag.List) bool {
	given, src, ok := readGiven(value, file, valueColumn, list)
	if !ok {
		return false
	}
	p := pathFinder{root: n, file: file, list: list, from: parts, keys: keys}
	target := p.find(path)
	if target == nil {
		return false
	}
	anchor := target.anchor()
	*target = *given
	target.setAnchor(anchor)
	n.doc.markGiven(target, src)
	return true
}

// markGiven remembers for a node and all below it the text in which they stand.
func (d *document) markGiven(n *node, src *source) {
	if d.given == nil {
		d.given = make(map[*node]*source)
	}
	d.given[n] = src
	for _, child := range n.content {
		d.markGiven(child, src)
	}
}

// pathFinder follows a dotted path to a node.
type pathFinder struct {
	root  Node
	file  string
	list  *diag.List
	parts []string
	from  int // so many parts lead to root

	keys func(parts []string) []string // that may be added where a path leads; may be nil
}

// find gives the node at path, nil after reporting why there is none.
func (p *pathFinder) find(path string) *node {
	p.parts = strings.Split(path, ".")
	current := p.root.raw
	for i := p.from; i < len(p.parts); i++ {
		part := p.parts[i]
		if part == "" || current == nil {
			p.errorf(i, "a name is missing in the path %q", path).WithHint(`write it like "grids.tray.rows" or "transfers.1.take"`)
			return nil
		}
		p.root.doc.makeOwn(current)
		next := p.step(current, part)
		if next == nil {
			next = p.add(current, i)
		}
		if next == nil {
			p.missing(i, current)
			return nil
		}
		current = next
	}
	return current
}

// makeOwn puts a copy of what an alias stands for in its place, so that it can be changed there and nowhere else.
func (d *document) makeOwn(n *node) {
	n.open()
	if n.kind != aliasNode {
		return
	}
	at := *n
	src, given := d.given[at.alias()]
	*n = *d.copyOf(at.alias())
	n.line, n.column = at.line, at.column
	if _, own := d.given[n]; given && !own {
		d.given[n] = src
	}
}

// add writes part i of the path as a new key into a mapping, with nothing for it yet; nil where it may not.
func (p *pathFinder) add(parent *node, i int) *node {
	if parent.kind != mappingNode || !p.known(i) || !p.known(len(p.parts)-1) {
		return nil
	}
	column := utf8.RuneCountInString(strings.Join(p.parts[:i], "."))
	if i > 0 {
		column++
	}
	src := newSource(p.file, p.parts[i], column)
	key := &node{kind: scalarNode, value: p.parts[i], line: 1, column: 1}
	value := &node{kind: mappingNode, line: 1, column: 1} // of the keys below it; the last part gets its value
	p.root.doc.markGiven(key, src)
	p.root.doc.markGiven(value, src)
	parent.content = append(parent.content, key, value)
	return value
}

// known reports whether part i of the path is a key that may stand there.
func (p *pathFinder) known(i int) bool { return slices.Contains(p.others(i), p.parts[i]) }

// others is the keys that may stand where part i does.
func (p *pathFinder) others(i int) []string {
	if p.keys == nil {
		return nil
	}
	return p.keys(p.parts[:i])
}

// step gives the node one part further down, nil if there is none.
func (p *pathFinder) step(n *node, part string) *node {
	switch n.kind {
	case sequenceNode:
		i, err := strconv.Atoi(part)
		if err != nil || strconv.Itoa(i) != part || i < 1 || i > len(n.content) {
			return nil
		}
		return n.content[i-1]
	case mappingNode:
		for i := 0; i+1 < len(n.content); i += 2 {
			if !isMerge(n.content[i]) && follow(n.content[i]).value == part {
				return n.content[i+1]
			}
		}
		return p.ownCopy(n, part)
	}
	return nil
}

// ownCopy writes an entry that a mapping takes in through a merge into the mapping itself, so that it can be changed there and
// nowhere else.
func (p *pathFinder) ownCopy(m *node, key string) *node {
	if !hasMerge(m) {
		return nil
	}
	doc := p.root.doc
	for _, e := range (Node{doc, m}).Entries() {
		if e.Key.Text() == key {
			value := doc.copyOf(e.Value.raw)
			m.content = append(m.content, doc.copyOf(e.Key.raw), value)
			return value
		}
	}
	return nil
}

// copyOf copies a tree without its anchors: aliases go on standing for the original.
func (d *document) copyOf(n *node) *node {
	c := *n
	c.setAnchor("")
	c.content = nil
	if src, ok := d.given[n]; ok {
		d.given[&c] = src
	}
	for _, child := range n.content {
		c.content = append(c.content, d.copyOf(child))
	}
	return &c
}

// missing reports that part i of the path is not to be found in parent.
func (p *pathFinder) missing(i int, parent *node) {
	switch parent.kind {
	case mappingNode:
		p.missingKey(i, parent)
	case sequenceNode:
		p.missingEntry(i, len(parent.content))
	default:
		kind := Node{p.root.doc, parent}.Kind()
		p.errorf(i, "%s is %s, there is no %q in it", p.name(i), kind, p.parts[i]).WithHint("set %s as a whole", p.name(i))
	}
}

func (p *pathFinder) missingKey(i int, parent *node) {
	var keys []string
	for _, e := range (Node{p.root.doc, parent}).Entries() {
		keys = append(keys, e.Key.Text())
	}
	f := p.errorf(i, "there is no %q in %s", p.parts[i], p.name(i))
	near := p.list.Nearest(p.parts[i], append(slices.Clone(keys), p.others(i)...))
	switch {
	case near != "":
		f.WithHint("did you mean %q?", p.mended(i, near, parent))
	case len(keys) > 0:
		f.WithHint("%s holds %s", p.name(i), some(keys))
	default:
		f.WithHint("%s is empty", p.name(i))
	}
}

// mended is the path with part i replaced, as far as it leads somewhere.
func (p *pathFinder) mended(i int, part string, parent *node) string {
	path := strings.Join(append(p.parts[:i:i], part), ".")
	n := Node{p.root.doc, parent}.Child(part)
	for _, next := range p.parts[i+1:] {
		if n = n.Child(next); n.IsZero() {
			break
		}
		path += "." + next
	}
	return path
}

// Child gives the entry of a mapping or list that a part of a path names, the absent node if there is none.
func (n Node) Child(part string) Node {
	for _, e := range n.Entries() {
		if e.Key.Text() == part {
			return e.Value
		}
	}
	for i, item := range n.Items() {
		if strconv.Itoa(i+1) == part {
			return item
		}
	}
	return Node{}
}

func (p *pathFinder) missingEntry(i, length int) {
	part := p.parts[i]
	number, err := strconv.Atoi(part)
	switch {
	case err != nil || strconv.Itoa(number) != part:
		p.errorf(i, "%s is a list, wanted the number of an entry but found %q", p.name(i), part).
			WithHint("%s", p.entriesHint(i, length))
	case number < 1:
		p.errorf(i, "%s has no entry %d: counting begins at 1", p.name(i), number).WithHint("%s", p.entriesHint(i, length))
	default:
		p.errorf(i, "%s has no entry %d, it ends with %d", p.name(i), number, length).WithHint("%s", p.entriesHint(i, length))
	}
}

func (p *pathFinder) entriesHint(i, length int) string {
	if length == 0 {
		return "the list is empty: set it as a whole"
	}
	prefix := strings.Join(append(p.parts[:i:i], ""), ".")
	first, last := strconv.Quote(prefix+"1"), strconv.Quote(prefix+strconv.Itoa(length))
	if length == 1 {
		return "there is only " + first
	}
	return "there are " + first + " to " + last
}

// name is what the path leads to before part i, in quotes.
func (p *pathFinder) name(i int) string {
	if i == 0 {
		return "the file"
	}
	return strconv.Quote(strings.Join(p.parts[:i], "."))
}

// errorf reports a finding at part i of the path.
func (p *pathFinder) errorf(i int, format string, args ...any) *diag.Finding {
	col := 1
	for _, part := range p.parts[:i] {
		col += utf8.RuneCountInString(part) + 1
	}
	at := diag.Place{File: p.file, Line: 1, Col: col, Width: utf8.RuneCountInString(p.parts[i])}
	return p.list.Errorf("set-path", at, format, args...)
}

// some lists the first few names, in quotes.
func some(names []string) string {
	quoted := make([]string, len(names))
	for i, name := range names {
		quoted[i] = strconv.Quote(name)
	}
	return wording.List(quoted, 8)
}
