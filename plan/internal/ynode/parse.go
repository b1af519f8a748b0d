package ynode

import (
	"errors"
	"io"
	"strings"

	"gridferry/plan/diag"
)

// Parse reads one YAML (or JSON) document. What is wrong with it as YAML goes to list. It is false when nothing usable came
// out; when it is true there may still be findings, and what they speak of is left out of the tree.
//
// Rules: yaml-syntax, unknown-anchor, not-utf8, control-character, file-too-big, too-many-values, second-document, empty-document, bad-key,
// duplicate-key, alias-cycle, alias-bomb, nested-too-deep, bad-merge, custom-tag.
func Parse(file, text string, list *diag.List) (Node, bool) {
	if len(text) > maxSize {
		list.Errorf("file-too-big", diag.Place{File: file}, "the file has %d bytes, more than the %d that are read", len(text), maxSize).
			WithHint("%s", fewerHint)
		return Node{}, false
	}
	// Columns are counted after a byte order mark, by the library and by everybody else.
	text = strings.TrimPrefix(text, "\ufeff")
	if !checkMarks(file, text, list) {
		return Node{}, false
	}
	src := newSource(file, text, 0)
	if !checkText(src, list) || !checkDirectives(src, list) {
		return Node{}, false
	}
	root, ok := readTree(src, list)
	if !ok {
		return Node{}, false
	}
	doc := &document{source: src}
	if !vet(doc, root, list) {
		return Node{}, false
	}
	return Node{doc, root}, true
}

// readTree reads the one document of a text.
func readTree(src *source, list *diag.List) (*node, bool) {
	if root := readLists(src); root != nil {
		return root, true
	}
	text := forLibrary(src.text)
	r := newReader(text)
	var root *node
	doc, err := r.next()
	if err == nil {
		root = take(doc.Content[0], text != src.text)
	}
	if errors.Is(err, io.EOF) || root != nil && isNull(root) {
		list.Errorf("empty-document", diag.Place{File: src.file}, "there is nothing in the file")
		return nil, false
	}
	if err != nil {
		reportSyntax(src, r.fault(err), list)
		return nil, false
	}
	second, err := r.next()
	switch {
	case errors.Is(err, io.EOF):
	case err != nil:
		reportSyntax(src, r.fault(err), list)
		return nil, false
	default:
		list.Errorf("second-document", src.at(second.Line, second.Column, 0), "a second document begins here, wanted one only").
			WithHint(`put it in a file of its own, or take out the line "---"`)
	}
	return root, true
}
