package lsp

import (
	"context"

	"gridferry/plan/diag"
	"gridferry/plan/outline"
)

// fold is lines that the editor can show as one, counted from 0.
type fold struct {
	StartLine int    `json:"startLine"`
	EndLine   int    `json:"endLine"`
	Kind      string `json:"kind,omitempty"`
}

// foldingRange is what can be folded in a document.
func (s *Server) foldingRange(_ context.Context, p *whole) ([]fold, error) {
	_, text, err := s.textOf(p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	folds := []fold{}
	for _, f := range outline.Folds(diag.SplitLines(text)) {
		kind := ""
		if f.Remarks {
			kind = "comment"
		}
		folds = append(folds, fold{f.First - 1, f.Last - 1, kind})
	}
	return folds, nil
}

// textOf is the file and the text of a document.
func (s *Server) textOf(uri string) (file, text string, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	d, err := s.document(uri)
	if err != nil {
		return "", "", err
	}
	return d.path, d.text, nil
}
