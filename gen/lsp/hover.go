package lsp

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"gridferry/gen/family/blocks"
	"gridferry/plan/diag"
	"gridferry/plan/suggest"
)

// hovered is what is said of a place.
type hovered struct {
	Contents markup `json:"contents"`
	Range    *span  `json:"range,omitempty"`
}

// markup is a text for people.
type markup struct {
	Kind  string `json:"kind"`
	Value string `json:"value"`
}

// saying is some sentences, a line each; nil for none. What comes from a file is shown, never obeyed: so it is no Markdown.
func saying(lines []string, part *span) *hovered {
	if len(lines) == 0 {
		return nil
	}
	seen := make([]string, len(lines))
	for i, line := range lines {
		seen[i] = diag.Visible(line)
	}
	return &hovered{markup{"plaintext", strings.Join(seen, "\n")}, part}
}

func (s *Server) hover(ctx context.Context, p *spot) (*hovered, error) {
	s.mu.Lock()
	d, err := s.document(p.TextDocument.URI)
	if err != nil {
		s.mu.Unlock()
		return nil, err
	}
	if d.isTemplate() {
		defer s.mu.Unlock()
		return s.hoverTemplate(d, p.Position), nil
	}
	line, column := d.characters(p.Position, s.encoding)
	meaning, known := suggest.Means(s.texts(d), d.path, line, column)
	text, encoding := d.line(line-1), s.encoding
	plans := s.plansOf(d.path)
	part := d.part(line, meaning.Column, meaning.End, encoding)
	s.mu.Unlock()

	lines := meaning.Said
	for _, is := range plans {
		looked, err := s.wait(ctx, is)
		if err != nil {
			return nil, err
		}
		if looked == nil || looked.work.Layout == nil {
			continue
		}
		lines = append(lines, slotsAt(looked.work.Layout, d.path, text, column, meaning.Path)...)
		if n := entryOf(meaning.Path); n > 0 && is.path == d.path {
			lines = append(lines, madeBy(looked.job.Entries(ctx), n)...)
		}
		break
	}
	if !known {
		return saying(lines, nil), nil
	}
	return saying(lines, &part), nil
}

// plansOf is the plans that rest on a file.
func (s *Server) plansOf(file string) []what {
	return slices.DeleteFunc(ordered(s.subjects), func(is what) bool { return is.kind != aPlan || !s.subjects[is].rests(file) })
}

// entryOf is the number of the entry of transfers that a path leads into; 0 for none.
func entryOf(path string) int {
	parts := strings.Split(path, ".")
	if len(parts) < 2 || parts[0] != "transfers" {
		return 0
	}
	n, _ := strconv.Atoi(parts[1])
	return n
}

// madeBy says what an entry makes, counted from 1.
func madeBy(entries []Entry, n int) []string {
	if n >= len(entries) {
		return nil
	}
	return []string{"This entry makes " + entries[n].String() + "."}
}

// hoverTemplate says what a field, a function or a word of a template is.
func (s *Server) hoverTemplate(d *document, at position) *hovered {
	_, from, to := blocks.Offered(d.text, d.offset(at, s.encoding))
	offers, _, _ := blocks.Offered(d.text, to)
	for _, o := range offers {
		if o.Text == d.text[from:to] {
			part := span{d.at(from, s.encoding), d.at(to, s.encoding)}
			return saying([]string{o.Text + ": " + o.Doc}, &part)
		}
	}
	return nil
}
