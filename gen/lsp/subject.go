package lsp

import (
	"cmp"
	"context"
	"maps"
	"path"
	"slices"
	"strings"

	"gridferry/plan"
	"gridferry/plan/suggest"
)

// what is a subject by its kind and its name.
type what struct {
	kind kind
	path string // of the file or the folder
}

// kind is what a subject is.
type kind int

const (
	aPlan   kind = iota // with the files that it names
	aCell               // that no plan names, with those that it names
	aFamily             // a folder
)

// subject is something that is checked as a whole.
type subject struct {
	what
	names []string // of the files that it rests on; nil as long as that is not known
	found map[string][]diagnostic
	last  *looked // nil as long as there is none

	stale   bool // its files have changed since the work began
	running bool
	gone    bool               // nobody is interested any more
	cancel  context.CancelFunc // of the work that is under way
}

// looked is a subject as it was last worked on.
type looked struct {
	digest string
	job    Job
	work   *Work
}

// settledNow reports whether its last work was on the present texts.
func (b *subject) settledNow() bool { return !b.stale && !b.running }

// rests reports whether the subject rests on a file, or may: while it is worked on it may come to any file beside it or below.
func (b *subject) rests(file string) bool {
	if b.kind == aFamily {
		return folderOf(file) == b.path
	}
	return b.path == file || slices.Contains(b.names, file) || !b.settledNow() && strings.HasPrefix(file, folderOf(b.path)+"/")
}

// kindOf is what a document makes a subject of; false where it is part of others at most.
func (d *document) kindOf() (what, bool) {
	base := path.Base(d.path)
	if base == familyFile || path.Ext(base) == ".tmpl" {
		return what{aFamily, folderOf(d.path)}, true
	}
	switch format := suggest.FormatOf(d.text); {
	case format == plan.Format:
		return what{aPlan, d.path}, true
	case format == plan.CellFormat:
		return what{aCell, d.path}, true
	case isPlan(base): // with a slip in its format
		return what{aPlan, d.path}, true
	case strings.HasSuffix(base, ".cell.yaml"):
		return what{aCell, d.path}, true
	}
	return what{}, false
}

// isPlan reports whether a file is called as plans are.
func isPlan(name string) bool { return strings.HasSuffix(name, ".plan.yaml") }

// changed is called when a document was opened, edited or closed: what rests on it is worked on anew.
func (s *Server) changed(file string) {
	s.indexes = map[string]*index{}
	s.choose()
	for _, one := range s.subjects {
		if one.rests(file) {
			s.begin(one)
		}
	}
	s.publish()
}

// again works on everything anew, and looks anew for the plans that files belong to.
func (s *Server) again() {
	s.indexes = map[string]*index{}
	for _, d := range s.documents {
		d.looked = false
	}
	s.choose()
	for _, one := range s.subjects {
		s.begin(one)
	}
}

// choose decides what the subjects are: plans and families that are open. A file that none of the open plans names belongs to the plans
// beside it that do; a cell without any is looked at alone.
func (s *Server) choose() {
	wanted := map[what]bool{}
	var others []*document
	known := true // which files the open plans name
	for _, p := range slices.Sorted(maps.Keys(s.documents)) {
		d := s.documents[p]
		is, some := d.kindOf()
		if some && is.kind == aFamily && !s.isFamily(is.path) {
			continue
		}
		if !some || is.kind == aCell {
			others = append(others, d)
			continue
		}
		wanted[is] = true
		if one := s.subjects[is]; is.kind == aPlan && (one == nil || one.names == nil) {
			known = false
		}
	}
	if known {
		for _, d := range others {
			for _, is := range s.belongs(d, wanted) {
				wanted[is] = true
			}
		}
	}
	for is, one := range s.subjects {
		if !wanted[is] && (known || is.kind == aFamily) {
			s.drop(one)
		}
	}
	for _, is := range ordered(wanted) {
		if s.subjects[is] == nil {
			s.subjects[is] = &subject{what: is}
			s.begin(s.subjects[is])
		}
	}
}

// belongs is the subjects of a document that makes none by itself.
func (s *Server) belongs(d *document, open map[what]bool) []what {
	for is := range open {
		if one := s.subjects[is]; one != nil && is.kind == aPlan && slices.Contains(one.names, d.path) {
			return nil
		}
	}
	if !d.looked {
		d.beside, d.looked = s.plansBeside(d.path), true
	}
	var all []what
	for _, p := range d.beside {
		all = append(all, what{aPlan, p})
	}
	if is, some := d.kindOf(); some && len(all) == 0 {
		all = append(all, is)
	}
	return all
}

// drop forgets a subject, with its findings.
func (s *Server) drop(one *subject) {
	one.gone = true
	if one.cancel != nil {
		one.cancel()
	}
	delete(s.subjects, one.what)
}

// ordered is some subjects in an order that is always the same.
func ordered[V any](some map[what]V) []what {
	return slices.SortedFunc(maps.Keys(some), func(a, b what) int { return cmp.Or(cmp.Compare(a.path, b.path), cmp.Compare(a.kind, b.kind)) })
}
