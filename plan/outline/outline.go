// Package outline says what is on each line of a plan or a cell: the keys that lead
// there. It looks at the text alone and does not know what keys mean.
package outline

import (
	"slices"
	"strconv"
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// Outline is the keys and list entries of one file in the order of its lines.
type Outline struct {
	lines []string
	items []Item // in the order of lines
}

// Item is a key or a list entry.
type Item struct {
	Path  []string // keys, and places in lists from 1: transfers, 1, to
	Place diag.Place
}

// Of reads a file's outline from its text. A text that cannot be parsed has
// lines and no items.
func Of(file, text string) *Outline {
	o := &Outline{lines: diag.SplitLines(text)}
	var ignored diag.List // who wants to know has read the file before
	if root, ok := decode.File(file, text, &ignored); ok {
		o.walk(root, nil, diag.Place{})
	}
	return o
}

// walk takes in what is inside of a node. What an alias or a merge key stands
// for is written further up and was taken in there.
func (o *Outline) walk(n decode.Node, path []string, after diag.Place) {
	add := func(key string, place diag.Place, value decode.Node) {
		if !after.IsZero() && place.Less(after) {
			return
		}
		inner := append(append([]string{}, path...), key)
		o.items = append(o.items, Item{inner, place})
		o.walk(value, inner, place)
	}
	for _, e := range n.Entries() {
		add(e.Key.Text(), e.Key.Place(), e.Value)
	}
	for i, item := range n.Items() {
		add(strconv.Itoa(i+1), item.Place(), item)
	}
}

// Lines is how many lines the file has; a last one without a text does not count.
func (o *Outline) Lines() int {
	if n := len(o.lines); n > 0 && o.lines[n-1] == "" {
		return n - 1
	}
	return len(o.lines)
}

// Line is line n, from 1.
func (o *Outline) Line(n int) string { return o.lines[n-1] }

// Remark reports whether line n holds only a comment, or nothing.
func (o *Outline) Remark(n int) bool {
	text := strings.TrimSpace(o.Line(n))
	return text == "" || strings.HasPrefix(text, "#")
}

// At is the thing on line n: the outermost one that begins there, or else the
// nearest one around it; false where nothing is around it.
func (o *Outline) At(n int) (Item, bool) {
	first, begins := slices.BinarySearchFunc(o.items, n, func(item Item, n int) int { return item.Place.Line - n })
	if begins {
		return o.items[first], true
	}
	for i := first - 1; i >= 0; i-- {
		if o.items[i].Place.Col <= indent(o.Line(n)) {
			return o.items[i], true
		}
	}
	return Item{}, false
}

// Extent is the lines of the thing that begins on line n: up to the next line
// that stands no further in than its first key, without comments and blanks at its end.
func (o *Outline) Extent(n int) []int {
	if n < 1 || n > o.Lines() {
		return nil
	}
	lines := []int{n}
	column, last := indent(o.Line(n)), n
	for i := n + 1; i <= o.Lines() && (o.Remark(i) || indent(o.Line(i)) > column); i++ {
		if !o.Remark(i) {
			last = i
		}
	}
	for i := n + 1; i <= last; i++ {
		lines = append(lines, i)
	}
	return lines
}

func indent(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }

// anchor and alias are how YAML marks a value and stands for it elsewhere.
var (
	anchor = lazy.Regexp(`(?:^|[\s\[{,])&([^\s\[\]{},]+)`)
	alias  = lazy.Regexp(`(?:^|[\s\[{,])\*([^\s\[\]{},]+)`)
	remark = lazy.Regexp(`(?:^|\s)#.*$`)
)

// Aliases is the lines that stand for a value which is anchored on line n.
func (o *Outline) Aliases(n int) []int {
	names := map[string]bool{}
	for _, m := range anchor().FindAllStringSubmatch(remark().ReplaceAllString(o.Line(n), ""), -1) {
		names[m[1]] = true
	}
	var lines []int
	for i := n; i <= o.Lines() && len(names) > 0; i++ {
		for _, m := range alias().FindAllStringSubmatch(remark().ReplaceAllString(o.Line(i), ""), -1) {
			if names[m[1]] && i != n {
				lines = append(lines, i)
			}
		}
	}
	return lines
}
