package lsp

import (
	"context"
	"path"
	"slices"
	"strings"

	"gridferry/plan/diag"
	"gridferry/plan/outline"
	"gridferry/plan/suggest"
)

// symbol is a part of a document that has a name, with those inside of it.
type symbol struct {
	Name           string    `json:"name"`
	Detail         string    `json:"detail,omitempty"`
	Kind           int       `json:"kind"`
	Range          span      `json:"range"`
	SelectionRange span      `json:"selectionRange"`
	Children       []*symbol `json:"children,omitempty"`
}

// The kinds of symbols, by the protocol's numbers: there are none for grids or frames.
const (
	aKey   = 20
	aThing = 19 // an object
	anItem = 18 // of an array
)

// mostItems is how many entries of a list are symbols: more are found by other ways.
const mostItems = 1000

// documentSymbol is what a document holds: its first keys, what they name, and the entries of its lists.
func (s *Server) documentSymbol(_ context.Context, p *whole) ([]*symbol, error) {
	file, text, err := s.textOf(p.TextDocument.URI)
	if err != nil {
		return nil, err
	}
	if e := path.Ext(file); e != ".yaml" && e != ".yml" && e != ".json" {
		return []*symbol{}, nil
	}
	var sources diag.Sources
	sources.AddText(file, text)
	s.mu.Lock()
	r := &reporter{s.encoding, map[string]string{file: text}, &sources, file, nil}
	s.mu.Unlock()
	lines := diag.SplitLines(text)
	o := outliner{r: r, lines: lines, last: lastLines(lines), inside: map[string]*symbol{"": {Children: []*symbol{}}}}
	suggest.Walk(file, text, o.see)
	return o.inside[""].Children, nil
}

// lastLines is the last line of what begins on a line.
func lastLines(lines []string) map[int]int {
	last := map[int]int{}
	for _, f := range outline.Folds(lines) {
		last[f.First] = max(last[f.First], f.Last)
	}
	return last
}

// outliner makes the symbols of a document.
type outliner struct {
	r      *reporter
	lines  []string
	last   map[int]int
	inside map[string]*symbol // by their paths
	items  int
}

// see takes in a key or a text.
func (o *outliner) see(path []string, text string, key bool, at diag.Place) {
	of := path
	if len(of) > 1 && of[0] == "cell" {
		of = of[1:]
	}
	switch {
	case len(path) > 1 && (path[0] == "transfers" || path[0] == "variants"):
		o.item(path, text, key, at)
	case key && (len(path) == 1 || len(of) == 1):
		o.add(path, text, aKey, at)
	case key && len(of) == 2 && (suggest.Tables[of[0]] != "" || of[0] == "keep_out"):
		o.add(path, text, aThing, at)
	case key && len(of) == 3 && of[0] == "tools" && (of[2] == "zones" || of[2] == "body"):
		o.add(path, text, aKey, at)
	case key && len(of) == 4 && of[0] == "tools" && (of[2] == "zones" || of[2] == "body"):
		o.add(path, text, aThing, at)
	}
}

// add makes a symbol inside of the one that stands around it.
func (o *outliner) add(path []string, name string, kind int, at diag.Place) *symbol {
	around := o.inside[strings.Join(path[:len(path)-1], "\x00")]
	if around == nil || name == "" {
		return nil
	}
	here := o.r.span(at)
	extent := here
	if last := o.last[at.Line]; last > at.Line {
		extent.End = position{last - 1, o.r.encoding.units(o.lines[last-1])}
	} else {
		extent.End.Character = max(extent.End.Character, o.r.encoding.units(strings.TrimRight(o.lines[at.Line-1], " \t")))
	}
	one := &symbol{Name: name, Kind: kind, Range: extent, SelectionRange: here}
	around.Children = append(around.Children, one)
	o.inside[strings.Join(path, "\x00")] = one
	return one
}

// item takes in a part of an entry of the transfers, which is called by its stops, or of the variants.
func (o *outliner) item(path []string, text string, key bool, at diag.Place) {
	one := o.inside[path[0]+"\x00"+path[1]]
	if one == nil {
		if o.items++; o.items > mostItems {
			return
		}
		if one = o.add(path[:2], path[1], anItem, at); one == nil {
			return
		}
	}
	if key || len(path) < 3 || !slices.Contains([]string{"from", "to", "chain", "list", "name"}, path[2]) {
		return
	}
	if n := len(path); n > 3 && path[n-1] != "grid" && path[2] != "chain" || n > 5 {
		return // a step, not a stop
	}
	if one.Detail != "" {
		one.Detail += " → "
	}
	one.Detail += text
}

// found is a name anywhere.
type found struct {
	Name          string   `json:"name"`
	Kind          int      `json:"kind"`
	Location      location `json:"location"`
	ContainerName string   `json:"containerName"`
}

// searching is the parameters of workspace/symbol.
type searching struct {
	Query string `json:"query"`
}

// mostFound is how many names are given at most.
const mostFound = 200

// workspaceSymbol is the names in all plans that are open, and in what they name, that hold a text.
func (s *Server) workspaceSymbol(_ context.Context, p *searching) ([]found, error) {
	s.mu.Lock()
	var plans []string
	for _, is := range ordered(s.subjects) {
		if is.kind != aFamily {
			plans = append(plans, is.path)
		}
	}
	s.mu.Unlock()
	all, seen := []found{}, map[diag.Place]bool{}
	for _, name := range plans {
		x := s.indexed([]string{name})
		s.mu.Lock()
		r := x.reporter(s)
		for _, u := range x.Defined() {
			if len(all) < mostFound && !seen[u.Place] && strings.Contains(strings.ToLower(u.Name.Text), strings.ToLower(p.Query)) {
				seen[u.Place] = true
				all = append(all, found{u.Name.Text, aThing, location{r.uri(u.Place.File), r.span(u.Place)}, u.Name.What()})
			}
		}
		s.mu.Unlock()
	}
	return all, nil
}
