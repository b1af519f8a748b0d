package lsp

import (
	"context"
	"fmt"
	"path"

	"gridferry/gen/family/blocks"
	"gridferry/gen/version"
	"gridferry/plan/suggest"
)

// completionList is what may be written at a place.
type completionList struct {
	IsIncomplete bool             `json:"isIncomplete"`
	Items        []completionItem `json:"items"`
}

// completionItem is one thing that may.
type completionItem struct {
	Label         string   `json:"label"`
	Kind          int      `json:"kind"`
	Documentation string   `json:"documentation,omitempty"`
	SortText      string   `json:"sortText"`
	FilterText    string   `json:"filterText"`
	TextEdit      textEdit `json:"textEdit"`
}

// itemKinds are the protocol's numbers of what is offered, nearest to what it is.
var itemKinds = map[string]int{
	string(suggest.Key): 10, string(suggest.Name): 18, string(suggest.Word): 12,
	string(blocks.OfferField): 5, string(blocks.OfferFunction): 3, string(blocks.OfferWord): 14, string(blocks.OfferBlock): 7,
}

// add offers a text for a part of a document. The order stays; editors sort by text otherwise.
func (l *completionList) add(kind, label, insert, doc string, part span) {
	l.Items = append(l.Items, completionItem{
		Label: label, Kind: itemKinds[kind], Documentation: doc, SortText: fmt.Sprintf("%04d", len(l.Items)), FilterText: insert, TextEdit: textEdit{part, insert},
	})
}

func (s *Server) completion(_ context.Context, p *spot) (*completionList, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	d, err := s.document(p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	list := &completionList{Items: []completionItem{}}
	if d.isTemplate() {
		at := d.offset(p.Position, s.encoding)
		offers, from, to := blocks.Offered(d.text, at)
		for _, o := range offers {
			list.add(string(o.Kind), o.Text, o.Text, o.Doc, span{d.at(from, s.encoding), d.at(to, s.encoding)})
		}
		return list, nil
	}
	line, column := d.characters(p.Position, s.encoding)
	for _, g := range suggest.Of(s.texts(d), d.path, line, column) {
		list.add(string(g.Kind), g.Text, g.Insert, g.Doc, d.part(line, g.Column, g.End, s.encoding))
	}
	return list, nil
}

// isTemplate reports whether a document is one of a family's templates.
func (d *document) isTemplate() bool { return path.Ext(d.path) == ".tmpl" }

// texts are those that have a say in what may be written in a document: those of the plan that rests on it or, where none does, its own.
// In a table, which has no keys, nothing is known of what may be.
func (s *Server) texts(d *document) []suggest.File {
	if path.Ext(d.path) == ".csv" {
		return nil
	}
	for _, is := range ordered(s.subjects) {
		if is.kind != aPlan || !s.subjects[is].rests(d.path) {
			continue
		}
		if v, err := version.Open(is.path, s.drafts()); err == nil {
			files := suggest.Files(v.Source())
			if v.Find(d.path) != nil {
				return files
			}
		}
	}
	return []suggest.File{{Name: d.path, Text: d.text, Form: s.flow.Form(path.Base(d.path))}}
}
