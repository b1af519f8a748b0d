package lsp

import (
	"context"

	"github.com/creachadair/jrpc2"
)

// renamable is what a name is, for the editor to ask for another one.
type renamable struct {
	Range       span   `json:"range"`
	Placeholder string `json:"placeholder"`
}

// prepareRename is the name at a spot; nil for none.
func (s *Server) prepareRename(ctx context.Context, at *spot) (*renamable, error) {
	x, u, there, err := s.use(ctx, at, (*Server).indexOf)
	if err != nil || !there {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	return &renamable{x.reporter(s).span(u.Place), u.Name.Text}, nil
}

// renaming is the parameters of rename.
type renaming struct {
	spot
	NewName string `json:"newName"`
}

// workspaceEdit is changes of several files.
type workspaceEdit struct {
	Changes map[string][]textEdit `json:"changes"`
}

// rename gives the thing whose name stands at a spot another one: in the plan, in its cell and tables, and in all plans that have
// the same cell; everywhere or not at all.
func (s *Server) rename(ctx context.Context, p *renaming) (*workspaceEdit, error) {
	x, u, there, err := s.use(ctx, &p.spot, (*Server).shared)
	switch {
	case err != nil:
		return nil, err
	case !there:
		return nil, jrpc2.Errorf(requestFailed, "no name stands here")
	}
	edits, err := x.Rename(u.Name, p.NewName)
	if err != nil {
		return nil, jrpc2.Errorf(requestFailed, "%v", err)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	for path, d := range s.documents {
		if text, was := x.drafts[path]; !was || text != d.text {
			return nil, jrpc2.Errorf(contentModified, "the texts have changed meanwhile")
		}
	}
	r, changes := x.reporter(s), map[string][]textEdit{}
	for _, e := range edits {
		uri := r.uri(e.Place.File)
		changes[uri] = append(changes[uri], textEdit{r.span(e.Place), e.Text})
	}
	return &workspaceEdit{changes}, nil
}
