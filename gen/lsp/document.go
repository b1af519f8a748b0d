package lsp

import (
	"context"
	"slices"
	"strings"
	"unicode/utf8"

	"gridferry/plan/diag"
)

// document is a text that is open in the editor, and may not be saved.
type document struct {
	uri     string
	path    string // of its file, with "/"
	version int
	text    string
	starts  []int32 // of its lines

	beside []string // plans that name the file, of which none need be open
	looked bool     // for those
}

// change puts another text into a document.
func (d *document) change(text string) { d.text, d.starts = text, diag.LineStarts(text) }

// line is a line, counted from 0; "" behind the last.
func (d *document) line(n int) string {
	if n < 0 || n >= len(d.starts) {
		return ""
	}
	return diag.LineOf(d.text, d.starts, n)
}

// offset is the bytes before a position. Behind the end of a line is its end, as the protocol has it, and behind the last line that
// of the text.
func (d *document) offset(at position, e encoding) int {
	switch {
	case at.Line < 0:
		return 0
	case at.Line >= len(d.starts):
		return len(d.text)
	}
	return int(d.starts[at.Line]) + e.bytes(d.line(at.Line), max(at.Character, 0))
}

// edit replaces a part of a document.
func (d *document) edit(part span, text string, e encoding) {
	from, to := d.offset(part.Start, e), d.offset(part.End, e)
	if from > to {
		from, to = to, from
	}
	d.change(d.text[:from] + text + d.text[to:])
}

// mark is the byte order mark that a text may begin with. Findings and suggestions do not count it, editors do.
const mark = "\ufeff"

// marked is how many characters of a line nobody but the editor counts.
func (d *document) marked(line int) int {
	if line == 0 && strings.HasPrefix(d.text, mark) {
		return 1
	}
	return 0
}

// characters is a position as findings have theirs: line and column from 1, in characters.
func (d *document) characters(at position, e encoding) (line, column int) {
	text := d.line(at.Line)
	before := utf8.RuneCountInString(text[:e.bytes(text, max(at.Character, 0))])
	return at.Line + 1, 1 + max(before-d.marked(at.Line), 0)
}

// position is the other way round.
func (d *document) position(line, column int, e encoding) position {
	text := d.line(line - 1)
	return position{line - 1, e.units(text[:utf32Units.bytes(text, column-1+d.marked(line-1))])}
}

// at is the position of a byte of the text.
func (d *document) at(offset int, e encoding) position {
	n, found := slices.BinarySearch(d.starts, int32(offset))
	if !found {
		n--
	}
	return position{n, e.units(d.text[d.starts[n]:offset])}
}

// part is from one column of a line to before another one, both as findings have them.
func (d *document) part(line, column, end int, e encoding) span {
	return span{d.position(line, column, e), d.position(line, end, e)}
}

// opened is the parameters of didOpen.
type opened struct {
	TextDocument struct {
		URI     string `json:"uri"`
		Version int    `json:"version"`
		Text    string `json:"text"`
	} `json:"textDocument"`
}

func (s *Server) didOpen(_ context.Context, p *opened) error {
	path, ok := pathOf(p.TextDocument.URI)
	if !ok {
		return nil // a text that is no file has no other files beside it
	}
	d := &document{uri: p.TextDocument.URI, path: path, version: p.TextDocument.Version}
	d.change(p.TextDocument.Text)
	s.mu.Lock()
	defer s.mu.Unlock()
	s.documents[path] = d
	s.changed(path)
	return nil
}

// edited is the parameters of didChange.
type edited struct {
	TextDocument struct {
		URI     string `json:"uri"`
		Version int    `json:"version"`
	} `json:"textDocument"`
	ContentChanges []struct {
		Range *span  `json:"range"` // nil for the whole text
		Text  string `json:"text"`
	} `json:"contentChanges"`
}

func (s *Server) didChange(_ context.Context, p *edited) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	d, err := s.document(p.TextDocument.URI)
	if err != nil {
		return err
	}
	for _, c := range p.ContentChanges {
		if c.Range == nil {
			d.change(c.Text)
		} else {
			d.edit(*c.Range, c.Text, s.encoding)
		}
	}
	d.version = p.TextDocument.Version
	s.changed(d.path)
	return nil
}

// closed is the parameters of didClose and didSave.
type closed struct {
	TextDocument named `json:"textDocument"`
}

// didSave looks again: other programs may have changed files meanwhile.
func (s *Server) didSave(_ context.Context, p *closed) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.again()
	return nil
}

func (s *Server) didClose(_ context.Context, p *closed) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	d, err := s.document(p.TextDocument.URI)
	if err != nil {
		return err
	}
	delete(s.documents, d.path)
	s.changed(d.path)
	return nil
}

// document is an open one by its URI.
func (s *Server) document(uri string) (*document, error) {
	path, ok := pathOf(uri)
	if d := s.documents[path]; ok && d != nil {
		return d, nil
	}
	return nil, invalid("the document %q is not open", uri)
}

// drafts are the texts of all documents, by the names of their files.
func (s *Server) drafts() map[string]string {
	texts := make(map[string]string, len(s.documents))
	for path, d := range s.documents {
		texts[path] = d.text
	}
	return texts
}
