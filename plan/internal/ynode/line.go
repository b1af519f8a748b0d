package ynode

import (
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

const (
	// deepest is how deep lists and mappings may stand inside each other on a line that is read here.
	deepest = 8
	// mostKeys is how many keys a mapping may have here, and longestHere how many bytes each.
	mostKeys, longestHere = 16, 128
)

// lineReader reads a value in brackets on one line: mappings, lists, words without marks that mean something, and quotes
// without escapes. It takes nothing that the library would refuse, or read in another way, and may give up on anything.
type lineReader struct {
	text    string
	at      int // the byte that comes next
	line    int
	column  int // of byte counted
	counted int
	depth   int
	nodes   []node // room for those to come
}

// readLine reads what stands on one line from a column on; false for what it does not take.
func readLine(text string, line, column int) (*node, bool) {
	r := lineReader{nodes: make([]node, 0, 1+2*strings.Count(text, ": "))}
	r.begin(text, line, column)
	n := r.whole()
	return n, n != nil
}

// begin has the reader read another text. The nodes of the one before are given up.
func (r *lineReader) begin(text string, line, column int) {
	*r = lineReader{text: text, line: line, column: column, nodes: r.nodes[:0]}
}

// whole is the mapping that the whole text is, nil for any other text.
func (r *lineReader) whole() *node {
	n := r.value()
	if r.at < len(r.text) {
		return nil
	}
	return n
}

// value reads a value, nil for what is left to the library.
func (r *lineReader) value() *node {
	switch r.next() {
	case '{':
		return r.in('}', yaml.MappingNode, r.entries)
	case '[':
		return r.in(']', yaml.SequenceNode, r.items)
	}
	return r.scalar()
}

// in reads what stands in brackets, one or more with commas between them.
func (r *lineReader) in(closing byte, kind yaml.Kind, one func(*node) bool) *node {
	n := r.node(kind, yaml.FlowStyle, r.at, "")
	r.depth++
	defer func() { r.depth-- }()
	for r.depth <= deepest {
		r.at++
		r.blanks()
		if !one(n) {
			return nil
		}
		r.blanks()
		switch r.next() {
		case closing:
			r.at++
			return n
		case ',':
		default:
			return nil
		}
	}
	return nil
}

// items reads an item of a list.
func (r *lineReader) items(list *node) bool {
	item := r.value()
	list.content = append(list.content, item)
	return item != nil
}

// entries reads an entry of a mapping.
func (r *lineReader) entries(m *node) bool {
	key := r.scalar()
	if key == nil || len(key.value) > longestHere || len(m.content) >= 2*mostKeys || !strings.HasPrefix(r.text[r.at:], ": ") {
		return false
	}
	for i := 0; i < len(m.content); i += 2 {
		if m.content[i].value == key.value {
			return false
		}
	}
	r.at++
	r.blanks()
	value := r.value()
	m.content = append(m.content, key, value)
	return value != nil
}

// scalar reads a text, in quotes or not.
func (r *lineReader) scalar() *node {
	switch c := r.next(); {
	case c == '"':
		return r.quoted(`"\`, yaml.DoubleQuotedStyle)
	case c == '\'':
		return r.quoted(`'`, yaml.SingleQuotedStyle)
	case isWord(c), strings.IndexByte("+-.", c) >= 0 && r.at+1 < len(r.text) && isDigit(r.text[r.at+1]):
		return r.plain()
	}
	return nil
}

// quoted reads a text in quotes in which none of some characters stands, of which the first ends it.
func (r *lineReader) quoted(not string, style yaml.Style) *node {
	from := r.at
	n := strings.IndexAny(r.text[from+1:], not)
	if n < 0 || r.text[from+1+n] != not[0] || strings.HasPrefix(r.text[from+n+2:], not[:1]) || strings.Contains(r.text[from:from+n], "\t") {
		return nil
	}
	r.at = from + n + 2
	return r.node(scalarNode, style, from, r.text[from+1:from+1+n])
}

// plain reads words.
func (r *lineReader) plain() *node {
	from, end := r.at, r.at
	for ; r.at < len(r.text); r.at++ {
		switch c := r.text[r.at]; {
		case isWord(c), strings.IndexByte("+-./()", c) >= 0, c == ':' && r.at+1 < len(r.text) && isWord(r.text[r.at+1]):
			end = r.at + 1
		case c == ' ':
		default:
			r.at = end
			return r.node(scalarNode, 0, from, r.text[from:end])
		}
	}
	return nil // a bracket is missing
}

// next is the next byte, 0 at the end.
func (r *lineReader) next() byte {
	if r.at < len(r.text) {
		return r.text[r.at]
	}
	return 0
}

func (r *lineReader) blanks() {
	for r.next() == ' ' {
		r.at++
	}
}

// node is one that begins at a byte.
func (r *lineReader) node(kind yaml.Kind, style yaml.Style, from int, value string) *node {
	r.column += utf8.RuneCountInString(r.text[r.counted:from])
	r.counted = from
	if len(r.nodes) == cap(r.nodes) {
		r.nodes = make([]node, 0, 8)
	}
	r.nodes = append(r.nodes, node{kind: kind, style: style, line: int32(r.line), column: int32(r.column), value: value})
	return &r.nodes[len(r.nodes)-1]
}

// isWord reports whether a byte may stand anywhere in a plain text and means nothing but itself.
func isWord(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || isDigit(c) || c == '_' || c >= utf8.RuneSelf
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }
