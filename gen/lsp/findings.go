package lsp

import (
	"context"
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"gridferry/plan/diag"
)

// diagnostic is a finding as the protocol has it.
type diagnostic struct {
	Range    span      `json:"range"`
	Severity int       `json:"severity"`
	Code     string    `json:"code"` // the rule
	Source   string    `json:"source"`
	Message  string    `json:"message"` // with the hint on a line of its own
	Related  []related `json:"relatedInformation,omitempty"`
	Data     *advice   `json:"data,omitempty"`
}

// related is a note.
type related struct {
	Location location `json:"location"`
	Message  string   `json:"message"`
}

// advice is a hint, for whoever makes an edit of it.
type advice struct {
	Hint string `json:"hint"`
}

// severities are the protocol's numbers.
var severities = map[diag.Severity]int{diag.Error: 1, diag.Warning: 2}

// reporter turns the findings of one work into diagnostics.
type reporter struct {
	encoding encoding
	drafts   map[string]string // as they were when the work began
	sources  *diag.Sources
	whole    string            // the file that findings without one are put into
	uris     map[string]string // of documents, as the editor writes them
}

// reporter is that of a work, whose findings without a place are shown at the beginning of a file.
func (s *Server) reporter(whole string, drafts map[string]string, w *Work) *reporter {
	r := &reporter{s.encoding, drafts, w.Sources, whole, map[string]string{}}
	for path, d := range s.documents {
		r.uris[path] = d.uri
	}
	return r
}

// all is the diagnostics of each file.
func (r *reporter) all(findings []diag.Finding) map[string][]diagnostic {
	found := map[string][]diagnostic{}
	for _, f := range findings {
		file := r.file(f.Place.File)
		found[file] = append(found[file], r.diagnostic(&f))
	}
	return found
}

func (r *reporter) diagnostic(f *diag.Finding) diagnostic {
	d := diagnostic{Range: r.span(f.Place), Severity: severities[f.Severity], Code: f.Rule, Source: "gridferry", Message: f.Message}
	if f.Hint != "" {
		d.Message += "\n" + f.Hint
		d.Data = &advice{f.Hint}
	}
	for _, n := range f.Notes {
		d.Related = append(d.Related, related{location{r.uri(n.Place.File), r.span(n.Place)}, n.Message})
	}
	return d
}

// file is the one that a finding is shown in.
func (r *reporter) file(name string) string {
	if name == "" {
		return r.whole
	}
	return name
}

func (r *reporter) uri(file string) string {
	if uri := r.uris[r.file(file)]; uri != "" {
		return uri
	}
	return uriOf(r.file(file))
}

// span is what a place covers: the file as a whole is its beginning, a line as a whole all of it.
func (r *reporter) span(at diag.Place) span {
	line, known := "", false
	if r.sources != nil {
		line, known = r.sources.Line(at.File, at.Line)
	}
	if !known {
		return span{position{max(at.Line-1, 0), 0}, position{max(at.Line-1, 0), 0}}
	}
	before := 0 // characters that only the editor counts
	if at.Line == 1 && strings.HasPrefix(r.drafts[at.File], mark) {
		line, before = mark+line, 1
	}
	on := func(column int) position {
		return position{at.Line - 1, r.encoding.units(line[:utf32Units.bytes(line, column-1+before)])}
	}
	if at.Col == 0 {
		return span{position{at.Line - 1, 0}, position{at.Line - 1, r.encoding.units(line)}}
	}
	return span{on(at.Col), on(r.sources.End(at))}
}

// publish tells the editor the findings of every file of which it does not know them yet. What rests on a subject that is
// worked on waits for that.
func (s *Server) publish() {
	var unsettled []*subject
	found := map[string][]diagnostic{}
	for _, is := range ordered(s.subjects) {
		one := s.subjects[is]
		if !one.settledNow() {
			unsettled = append(unsettled, one)
		}
		for file, all := range one.found {
			found[file] = append(found[file], all...)
		}
	}
	files := maps.Clone(found)
	for file := range s.published {
		files[file] = nil
	}
	for file := range s.documents {
		files[file] = nil
	}
	for _, file := range slices.Sorted(maps.Keys(files)) {
		if !slices.ContainsFunc(unsettled, func(one *subject) bool { return one.rests(file) }) {
			s.tell(file, found[file])
		}
	}
}

// published is the parameters of publishDiagnostics.
type published struct {
	URI         string       `json:"uri"`
	Version     *int         `json:"version,omitempty"`
	Diagnostics []diagnostic `json:"diagnostics"`
}

// tell tells the editor the findings of a file, unless it knows them.
func (s *Server) tell(file string, found []diagnostic) {
	p := published{URI: uriOf(file), Diagnostics: unlike(found)}
	if d := s.documents[file]; d != nil {
		p.URI, p.Version = d.uri, &d.version
	}
	text, _ := json.Marshal(p) // of texts and figures alone
	if before, some := s.published[file]; string(text) == before || !some && p.Version == nil && len(found) == 0 {
		return
	}
	s.published[file] = string(text)
	_ = s.rpc.Notify(context.Background(), "textDocument/publishDiagnostics", p) // the editor may have gone
}

// unlike leaves out what was said already: several plans may rest on one file.
func unlike(found []diagnostic) []diagnostic {
	all, said := []diagnostic{}, map[string]bool{}
	for _, d := range found {
		text, _ := json.Marshal(d)
		if !said[string(text)] {
			all, said[string(text)] = append(all, d), true
		}
	}
	return all
}
