package lsp

import (
	"context"
	"slices"
	"strings"

	"gridferry/gen/layout"
	"gridferry/plan/diag"
	"gridferry/plan/suggest"
)

// whole is the parameters of requests about a document.
type whole struct {
	TextDocument named `json:"textDocument"`
}

// lens is words above a line.
type lens struct {
	Range   span    `json:"range"`
	Command command `json:"command"`
}

// command is one that the editor does not know, since there is nothing to be done: it shows the title alone.
type command struct {
	Title   string `json:"title"`
	Command string `json:"command"`
}

// mostLenses is how many entries have one: of more nobody reads them.
const mostLenses = 1000

// codeLens says above the transfers of a plan what they make, and above each entry.
func (s *Server) codeLens(ctx context.Context, p *whole) ([]lens, error) {
	lenses := []lens{}
	s.mu.Lock()
	d, err := s.document(p.TextDocument.URI)
	if err != nil {
		s.mu.Unlock()
		return nil, err
	}
	is := what{aPlan, d.path}
	s.mu.Unlock()
	last, err := s.wait(ctx, is)
	if err != nil || last == nil || last.job == nil {
		return lenses, err
	}
	made := last.job.Entries(ctx)
	if len(made) < 2 {
		return lenses, nil
	}
	made = slices.Clone(made[:min(len(made), 1+mostLenses)])
	s.mu.Lock()
	defer s.mu.Unlock()
	r := s.reporter(is.path, s.drafts(), last.work)
	made[0].Place = transfersIn(is.path, r)
	for _, m := range made {
		if m.Place.File == is.path {
			at := r.span(m.Place)
			lenses = append(lenses, lens{span{at.Start, at.Start}, command{Title: m.String()}})
		}
	}
	return lenses, nil
}

// transfersIn is where the key stands that the entries are under.
func transfersIn(file string, r *reporter) (at diag.Place) {
	text, _ := r.sources.Text(file)
	suggest.Walk(file, text, func(path []string, _ string, key bool, place diag.Place) {
		if key && len(path) == 1 && path[0] == "transfers" {
			at = place
		}
	})
	return at
}

// showing is the parameters of inlayHint.
type showing struct {
	TextDocument named `json:"textDocument"`
	Range        span  `json:"range"`
}

// hint is words at the end of a line.
type hint struct {
	Position    position `json:"position"`
	Label       string   `json:"label"`
	PaddingLeft bool     `json:"paddingLeft"`
}

// inlayHint shows what follows from the touched points that stand in a part of a document.
func (s *Server) inlayHint(ctx context.Context, p *showing) ([]hint, error) {
	hints, said := []hint{}, map[hint]bool{}
	err := s.eachWork(ctx, p.TextDocument.URI, func(file string, r *reporter, last *looked) {
		if last.work.Layout == nil {
			return
		}
		for _, f := range derivedOf(last.work.Layout) {
			line, _ := r.sources.Line(f.place.File, f.place.Line)
			at := position{f.place.Line - 1, r.encoding.units(strings.TrimRight(line, " \t"))}
			h := hint{at, f.text, true}
			if f.place.File == file && touch(span{at, at}, p.Range) && !said[h] {
				hints, said[h] = append(hints, h), true
			}
		}
	})
	return hints, err
}

// figure is something that follows from what stands at a place.
type figure struct {
	place diag.Place
	text  string
}

// derivedOf is the figures that follow from what was touched, each at the line that it follows from: of frames, tool centre
// points and grids, and how far each point is off.
func derivedOf(l *layout.Layout) []figure {
	var all []figure
	add := func(at diag.Place, text string) { all = append(all, figure{at, text}) }
	for _, f := range l.Frames {
		if f.Fit == nil {
			continue
		}
		add(f.Place, f.Fit.Figures())
		if best := f.Fit.Best; best != nil {
			for i, p := range f.Fit.Points {
				add(p.Place, best.Each[i].Words())
			}
		}
	}
	for _, t := range l.Tools {
		if t.Fit == nil {
			continue
		}
		add(t.Place, t.Fit.Figures())
		for i, at := range t.Fit.Places {
			add(at, t.Fit.Each[i].Words())
		}
	}
	for _, g := range l.Grids {
		if g.Fit != nil {
			add(g.Place, g.Fit.Figures())
		}
	}
	return all
}
