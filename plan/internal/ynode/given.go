package ynode

import (
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"gridferry/plan/diag"
)

// readGiven reads a value from a command line. It gives the node and the text in which it stands.
func readGiven(value, file string, column int, list *diag.List) (*node, *source, bool) {
	left := strings.TrimLeft(value, " \t\r\n")
	shift := max(column, 1) - 1 + utf8.RuneCountInString(value[:len(value)-len(left)])
	src := newSource(file, strings.TrimRight(left, " \t\r\n"), shift)
	if src.text == "" {
		list.Errorf("set-value", diag.Place{File: file, Line: 1, Col: max(column, 1)}, "no value is given").
			WithHint(`write null to leave the place open, "" for an empty text`)
		return nil, nil, false
	}
	if !checkText(src, list) {
		return nil, nil, false
	}
	n := src.asValue()
	if n == nil {
		n = &node{kind: scalarNode, value: src.text, line: 1, column: 1}
	}
	doc := &document{source: src}
	before := list.Len()
	usable := vet(doc, n, list)
	return n, src, usable && list.Len() == before
}

// asValue reads the whole text as one YAML value in flow style, nil if it is not one or would be read as something that nobody
// means on a command line: a mapping for "a: b", a list for "- a", half of the text for "a # b".
func (s *source) asValue() *node {
	r := newReader(forLibrary(s.text))
	doc, err := r.next()
	if err != nil || len(s.lines) > 1 {
		return nil
	}
	if _, err := r.next(); err == nil {
		return nil
	}
	of := doc.Content[0]
	n := take(of, true)
	switch {
	case of.LineComment+of.FootComment+doc.FootComment != "":
		return nil
	case n.anchor() != "" || n.style&yaml.TaggedStyle != 0 || n.column != 1:
		return nil
	case n.kind == scalarNode && width(n, s.text) == utf8.RuneCountInString(s.text):
		return n
	case n.kind == sequenceNode && strings.HasPrefix(s.text, "[") && strings.HasSuffix(s.text, "]"):
		return n
	case n.kind == mappingNode && strings.HasPrefix(s.text, "{") && strings.HasSuffix(s.text, "}") && hasValues(n):
		return n
	}
	return nil
}

// hasValues is false for "{draft}", which YAML takes for a mapping with a key and nothing for it.
func hasValues(m *node) bool {
	for i := 1; i < len(m.content); i += 2 {
		if m.content[i].kind == scalarNode && m.content[i].style == 0 && m.content[i].value == "" {
			return false
		}
	}
	return true
}
