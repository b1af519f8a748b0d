package ynode

import (
	"errors"
	"io"
	"strings"

	"gopkg.in/yaml.v3"
)

// A plan may have a hundred thousand transfers, each on a line of its own: "- {from: tray A1, to: rack A1}". Of such lines, one
// below the other, the library is shown the first only; in the place of the others it finds blank lines. This is sound:
//
//   - The library itself says that an entry of a list in blocks stands on the first line, and that it holds what readLine makes of it.
//   - So that entry ends with its line, and nothing is open behind it but the list and what stands around that. The same holds
//     behind each of the other lines: "- " as far in as the one before begins the next entry of the list, and readLine
//     takes only what ends with its line.
//   - Neither anchors, aliases, tags nor remarks stand there, and no key twice.
//
// Where the library says otherwise, as in a block of text, or finds a mistake anywhere, it is shown all lines. TestLists and FuzzLists hold
// what comes out to what the library makes of whole texts.
//
// The lines are kept as they are, and what stands on one is read whenever it is asked for: to keep it would take five times the
// memory. BenchmarkLists: to read 100,000 such lines and to look at every value and its place takes half the work that the library
// takes for its tree alone, and a tenth of that tree's memory.

// readLists reads a text with lists of entries on lines; nil for what the library has to read as a whole.
func readLists(src *source) *node {
	lists, text := listsIn(src)
	if lists == nil {
		return nil
	}
	r := newReader(forLibrary(text))
	doc, err := r.next()
	if err != nil {
		return nil
	}
	if _, err := r.next(); !errors.Is(err, io.EOF) {
		return nil
	}
	t := taken{anchored: map[*yaml.Node]*node{}, lists: lists}
	root := t.node(doc.Content[0])
	if len(t.lists) > 0 {
		return nil
	}
	return root
}

// listsIn finds the entries that stand on lines, and gives the text with blank lines for all of a list but the first.
func listsIn(src *source) (lists [][]*node, text string) {
	var left strings.Builder
	var list []*node
	copied, indent, dry := 0, 0, lineReader{}
	end := func() {
		if len(list) > 1 {
			lists = append(lists, list)
		}
		list = nil
	}
	for i, l := range src.lines {
		text := src.line(i)
		n, in := dry.entry(text, i+1), len(text)-len(strings.TrimLeft(text, " "))
		if n == nil || in != indent {
			end()
		}
		if n == nil {
			continue
		}
		indent = in
		if list = append(list, n); len(list) > 1 {
			left.WriteString(src.text[copied:l.start] + " ") // a blank, or CR before it and LF behind it became one break
			copied = int(l.end)
		}
	}
	end()
	if lists == nil {
		return nil, ""
	}
	left.WriteString(src.text[copied:])
	return lists, left.String()
}

// entry gives the entry of a list that is all that stands on a line; nil for any other line.
func (r *lineReader) entry(text string, line int) *node {
	rest := strings.TrimLeft(text, " ")
	if !strings.HasPrefix(rest, "- ") {
		return nil
	}
	rest = strings.TrimLeft(rest[1:], " ")
	if !strings.HasPrefix(rest, "{") {
		return nil
	}
	column := 1 + len(text) - len(rest) // all before it are single bytes
	rest = strings.TrimRight(rest, " ")
	r.begin(rest, line, column)
	if r.whole() == nil {
		return nil
	}
	return &node{kind: lineNode, line: int32(line), column: int32(column), value: rest}
}

// goOn puts behind the last entry of a list those of the lines below it.
func (t *taken) goOn(list *node) {
	if len(t.lists) == 0 || list.kind != sequenceNode || list.style&yaml.FlowStyle != 0 {
		return
	}
	lines, first := t.lists[0], list.content[len(list.content)-1]
	if first.line == lines[0].line && first.column == lines[0].column && alike(first, follow(lines[0])) {
		list.content = append(list.content, lines[1:]...)
		t.lists = t.lists[1:]
	}
}

// alike reports whether two trees are the same, places and all.
func alike(a, b *node) bool {
	if a.kind != b.kind || a.style != b.style || a.line != b.line || a.column != b.column || a.value != b.value ||
		a.rare != nil || b.rare != nil || len(a.content) != len(b.content) {
		return false
	}
	for i := range a.content {
		if !alike(a.content[i], b.content[i]) {
			return false
		}
	}
	return true
}
