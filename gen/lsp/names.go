package lsp

import (
	"context"

	"gridferry/plan/diag"
)

// definition is where the thing is defined whose name stands at a spot.
func (s *Server) definition(ctx context.Context, at *spot) ([]location, error) {
	return s.uses(ctx, at, (*Server).indexOf, func(defines bool) bool { return defines })
}

// asking is the parameters of references.
type asking struct {
	spot
	Context struct {
		IncludeDeclaration bool `json:"includeDeclaration"`
	} `json:"context"`
}

// references are all places where a name stands, in other plans too that have the same cell.
func (s *Server) references(ctx context.Context, at *asking) ([]location, error) {
	return s.uses(ctx, &at.spot, (*Server).shared, func(defines bool) bool { return !defines || at.Context.IncludeDeclaration })
}

// uses are the places of the name at a spot, as far as they are wanted.
func (s *Server) uses(ctx context.Context, at *spot, of func(*Server, context.Context, string) (*index, error), wanted func(defines bool) bool) ([]location, error) {
	x, here, there, err := s.use(ctx, at, of)
	if err != nil || !there {
		return nil, err
	}
	var places []diag.Place
	for _, u := range x.Uses(here.Name) {
		if wanted(u.Defines) {
			places = append(places, u.Place)
		}
	}
	return s.locations(x, places), nil
}

// highlighted is a place of a name in its own document.
type highlighted struct {
	Range span `json:"range"`
	Kind  int  `json:"kind"`
}

// The kinds of what is highlighted, by the protocol's numbers.
const (
	refers  = 2
	defines = 3
)

// highlight is every place in a document where the name stands.
func (s *Server) highlight(ctx context.Context, at *spot) ([]highlighted, error) {
	x, here, there, err := s.use(ctx, at, (*Server).indexOf)
	if err != nil || !there {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	r := x.reporter(s)
	var all []highlighted
	for _, u := range x.Uses(here.Name) {
		if u.Place.File != here.Place.File {
			continue
		}
		kind := refers
		if u.Defines {
			kind = defines
		}
		all = append(all, highlighted{r.span(u.Place), kind})
	}
	return all, nil
}
