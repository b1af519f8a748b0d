package lsp

import (
	"context"
	"path"
	"slices"

	"github.com/aymanbagabas/go-udiff"

	"gridferry/plan/tidy"
)

// formatted is the parameters of formatting. How many blanks a level takes is no choice of the editor's.
type formatted struct {
	TextDocument named `json:"textDocument"`
}

// yamlNames are the ends of names of files that are formatted.
var yamlNames = []string{".yaml", ".yml"}

func (s *Server) formatting(_ context.Context, p *formatted) ([]textEdit, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	d, err := s.document(p.TextDocument.URI)
	if err != nil || !slices.Contains(yamlNames, path.Ext(d.path)) {
		return nil, err
	}
	edits := []textEdit{}
	for _, e := range udiff.Strings(d.text, tidy.Text(d.text)) {
		edits = append(edits, textEdit{span{d.at(e.Start, s.encoding), d.at(e.End, s.encoding)}, e.New})
	}
	return edits, nil
}
