package lsp

import (
	"context"
	"slices"
	"strings"
)

// quickFix is the protocol's word for an action that mends a finding.
const quickFix = "quickfix"

// acting is the parameters of codeAction.
type acting struct {
	TextDocument named `json:"textDocument"`
	Range        span  `json:"range"`
	Context      struct {
		Only []string `json:"only"` // kinds of actions; nil for all
	} `json:"context"`
}

// action is an edit that the editor offers.
type action struct {
	Title       string         `json:"title"`
	Kind        string         `json:"kind"`
	Diagnostics []diagnostic   `json:"diagnostics"`
	IsPreferred bool           `json:"isPreferred"`
	Edit        *workspaceEdit `json:"edit"`
}

// codeAction offers what the hints of findings in a part of a document would write there.
func (s *Server) codeAction(ctx context.Context, p *acting) ([]action, error) {
	actions := []action{}
	mends := func(kind string) bool { return kind == "" || kind == quickFix || strings.HasPrefix(kind, quickFix+".") }
	if p.Context.Only != nil && !slices.ContainsFunc(p.Context.Only, mends) {
		return actions, nil
	}
	err := s.eachWork(ctx, p.TextDocument.URI, func(file string, r *reporter, last *looked) {
		for _, f := range last.work.Findings {
			if f.Place.File != file {
				continue
			}
			at, ok := r.sources.Fixed(&f)
			d := r.diagnostic(&f)
			if !ok || !touch(d.Range, p.Range) {
				continue
			}
			edit := &workspaceEdit{map[string][]textEdit{r.uri(file): {{r.span(at), f.Fix.Put}}}}
			actions = append(actions, action{"write \"" + f.Fix.Put + "\"", quickFix, []diagnostic{d}, true, edit})
		}
	})
	return slices.CompactFunc(actions, func(a, b action) bool { return a.Title == b.Title && a.Diagnostics[0].Range == b.Diagnostics[0].Range }), err
}

// touch reports whether two parts of a document have a position in common.
func touch(a, b span) bool { return !a.End.before(b.Start) && !b.End.before(a.Start) }

func (p position) before(q position) bool {
	return p.Line < q.Line || p.Line == q.Line && p.Character < q.Character
}

// eachWork waits for the work on all that rests on a document, and gives each to a function, while the server is locked.
func (s *Server) eachWork(ctx context.Context, uri string, see func(file string, r *reporter, last *looked)) error {
	s.mu.Lock()
	d, err := s.document(uri)
	if err != nil {
		s.mu.Unlock()
		return err
	}
	file := d.path
	all := ordered(s.subjects)
	s.mu.Unlock()
	for _, is := range all {
		s.mu.Lock()
		one := s.subjects[is]
		rests := one != nil && one.rests(file)
		s.mu.Unlock()
		if !rests {
			continue
		}
		last, err := s.wait(ctx, is)
		if err != nil {
			return err
		}
		s.mu.Lock()
		if last != nil && last.work != nil {
			see(file, s.reporter(is.path, s.drafts(), last.work), last)
		}
		s.mu.Unlock()
	}
	return nil
}
