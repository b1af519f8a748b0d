package lsp

import (
	"context"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/creachadair/jrpc2"

	"gridferry/gen/version"
	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/names"
)

// index is the names of some plans, in texts as they were at one moment.
type index struct {
	*names.Index
	drafts map[string]string
}

// reporter turns its places into parts of documents; the server is locked meanwhile.
func (x *index) reporter(s *Server) *reporter {
	return s.reporter("", x.drafts, &Work{Sources: x.Sources()})
}

// indexOf is the names of the plans that a document belongs to.
func (s *Server) indexOf(ctx context.Context, path string) (*index, error) {
	plans, err := s.plansWith(ctx, path)
	if err != nil {
		return nil, err
	}
	return s.indexed(plans), nil
}

// plansWith is the plans that a document belongs to: itself, or those that name it. A cell that no plan names stands for itself.
func (s *Server) plansWith(ctx context.Context, file string) ([]string, error) {
	s.mu.Lock()
	var plans []*subject
	for _, is := range ordered(s.subjects) {
		if is.kind == aPlan {
			plans = append(plans, s.subjects[is])
		}
	}
	s.mu.Unlock()
	var all []string
	for _, one := range plans {
		if one.path == file {
			return []string{file}, nil
		}
		if _, err := s.wait(ctx, one.what); err != nil {
			return nil, err
		}
		s.mu.Lock()
		if slices.Contains(one.names, file) {
			all = append(all, one.path)
		}
		s.mu.Unlock()
	}
	if len(all) == 0 {
		all = append(all, file)
	}
	return all, nil
}

// indexed is the names of some plans, read anew once a text has changed.
func (s *Server) indexed(plans []string) *index {
	of := strings.Join(plans, "\x00")
	s.mu.Lock()
	known, x, drafts := s.indexes, s.indexes[of], s.drafts()
	s.mu.Unlock()
	if x != nil {
		return x
	}
	var sources []plan.Source
	for _, name := range plans {
		if texts, err := version.Open(filepath.FromSlash(name), drafts); err == nil {
			sources = append(sources, texts.Source())
		}
	}
	x = &index{names.Of(sources...), drafts}
	s.mu.Lock()
	defer s.mu.Unlock()
	known[of] = x // which is of no use any more if the texts have changed meanwhile
	return x
}

// mostShared is how many plans are looked at for those that share a cell.
const mostShared = 1000

// shared is the names of the plans that a document belongs to, and of all others that have the same cell: of those that are open, and
// those in the folders of the plans and of the cell.
func (s *Server) shared(ctx context.Context, file string) (*index, error) {
	plans, err := s.plansWith(ctx, file)
	if err != nil {
		return nil, err
	}
	cells := cellsOf(s.indexed(plans))
	others, err := s.besideAny(append(slices.Clone(plans), cells...))
	if err != nil {
		return nil, err
	}
	for _, other := range others {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if !slices.Contains(plans, other) && overlap(cells, cellsOf(s.indexed([]string{other}))) {
			plans = append(plans, other)
		}
	}
	return s.indexed(plans), nil
}

// cellsOf is the files of an index that several plans may share.
func cellsOf(x *index) []string {
	return slices.DeleteFunc(x.Files(), isPlan)
}

func overlap(a, b []string) bool {
	return slices.ContainsFunc(a, func(name string) bool { return slices.Contains(b, name) })
}

// besideAny is the plans in the folders of some files, and those that are open.
func (s *Server) besideAny(files []string) ([]string, error) {
	found := map[string]bool{}
	s.mu.Lock()
	for file, d := range s.documents {
		if is, some := d.kindOf(); some && is.kind == aPlan {
			found[file] = true
		}
	}
	s.mu.Unlock()
	looked := map[string]bool{}
	for _, file := range files {
		folder := folderOf(file)
		if looked[folder] {
			continue
		}
		looked[folder] = true
		entries, _ := os.ReadDir(filepath.FromSlash(folder)) // it may not be there yet
		for _, e := range entries {
			if isPlan(e.Name()) {
				found[inFolder(folder, e.Name())] = true
			}
		}
	}
	if len(found) > mostShared {
		return nil, jrpc2.Errorf(requestFailed, "more than %d plans lie beside this one: which of them share its cell is not looked for", mostShared)
	}
	return slices.Sorted(maps.Keys(found)), nil
}

// use is the name at a spot, with the index that has it.
func (s *Server) use(ctx context.Context, at *spot, of func(*Server, context.Context, string) (*index, error)) (*index, names.Use, bool, error) {
	s.mu.Lock()
	d, err := s.document(at.TextDocument.URI)
	if err != nil {
		s.mu.Unlock()
		return nil, names.Use{}, false, err
	}
	file := d.path
	line, column := d.characters(at.Position, s.encoding)
	s.mu.Unlock()
	x, err := of(s, ctx, file)
	if err != nil {
		return nil, names.Use{}, false, err
	}
	u, there := x.At(file, line, column)
	return x, u, there, nil
}

// locations are places as the editor has them.
func (s *Server) locations(x *index, places []diag.Place) []location {
	s.mu.Lock()
	defer s.mu.Unlock()
	r, all := x.reporter(s), make([]location, 0, len(places))
	for _, p := range places {
		all = append(all, location{r.uri(p.File), r.span(p)})
	}
	return all
}
