package live

import (
	"path/filepath"

	"gridferry/gen/version"
	"gridferry/plan/diag"
	"gridferry/plan/knob"
)

// state is what a page gets to know of a version.
type state struct {
	Version     string      `json:"version"`
	Title       string      `json:"title"`
	Family      string      `json:"family"` // that is shown first
	Good        string      `json:"good"`   // the version whose scene is the last good one; "" for none yet
	Scene       bool        `json:"scene"`  // this version has one, though perhaps not a good one
	Gone        bool        `json:"gone"`   // the plan cannot be read now; this is the last version
	Files       []textFile  `json:"files"`
	Findings    []finding   `json:"findings"`
	Summary     string      `json:"summary"`
	NotLookedAt []string    `json:"notLookedAt"`
	Figures     []Figure    `json:"figures"`
	Knobs       []knob.Knob `json:"knobs"`
	Other       string      `json:"other"` // the plan that this one is compared with; "" for none
	Families    []Family    `json:"families"`
}

type textFile struct {
	Name     string `json:"name"`
	Text     string `json:"text"` // "" where the page cannot have it
	Whole    bool   `json:"whole"`
	Digest   string `json:"digest"`
	Role     string `json:"role"`
	Writable bool   `json:"writable"`
	Draft    bool   `json:"draft"`
}

// finding is one, with the characters of its line that it is about: from Column to before End, counted from 1.
type finding struct {
	Severity string      `json:"severity"`
	Rule     string      `json:"rule"`
	File     string      `json:"file"`
	Line     int         `json:"line"`
	Column   int         `json:"column"`
	End      int         `json:"end"`
	Message  string      `json:"message"`
	Hint     string      `json:"hint"`
	Fix      *fix        `json:"fix,omitempty"` // what the hint would have in place of what was found
	Slots    [][2]string `json:"slots"`         // grids and slots
	Notes    []note      `json:"notes"`
}

// fix is a text in place of some characters of the finding's line.
type fix struct {
	Column int    `json:"column"`
	End    int    `json:"end"`
	Text   string `json:"text"`
}

type note struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Message string `json:"message"`
}

// stateOf is the state of a result; good is the last good one for whoever asks, nil for the present one.
func (s *Server) stateOf(one, good *result) *state {
	now, w := s.follower.present(), one.work
	st := &state{
		Version: one.version, Title: w.Title, Family: s.flow.Families[0].Name, Scene: w.Scene != nil || w.Drawable, Files: []textFile{}, Findings: []finding{}, Summary: w.Summary,
		NotLookedAt: orNone(w.NotLookedAt), Figures: orNone(w.Figures), Knobs: orNone(w.Knobs), Families: orNone(s.flow.Families),
		Other: filepath.ToSlash(s.other.name),
	}
	for _, r := range []*result{now.good, good, one} {
		if r != nil && r.work.Scene != nil {
			st.Good = r.version
		}
	}
	if now.gone != nil && one == now.result {
		st.Gone = true
		st.Findings = append(st.Findings, finding{
			Severity: diag.Error.String(), Rule: "plan-gone", File: filepath.ToSlash(s.follower.reads.name), Slots: [][2]string{}, Notes: []note{},
			Message: "the plan cannot be read any more: " + now.gone.Error(), Hint: "put it back, or save it anew from here",
		})
	}
	st.Findings = append(st.Findings, one.findings...)
	for _, f := range one.Files() {
		if f.Err == nil {
			st.Files = append(st.Files, fileOf(f))
		}
	}
	return st
}

func fileOf(f *version.File) textFile {
	t := textFile{Name: f.Name, Whole: whole(f), Digest: f.Digest, Role: f.Role, Writable: writable(f), Draft: f.Draft}
	if t.Whole {
		t.Text = f.Text
	}
	return t
}

func findingsOf(w *Work) []finding {
	var all []finding
	for _, f := range w.Findings {
		all = append(all, findingOf(f, w.Sources))
	}
	return all
}

func findingOf(f diag.Finding, sources *diag.Sources) finding {
	out := finding{
		Severity: f.Severity.String(), Rule: f.Rule, File: f.Place.File, Line: f.Place.Line, Column: f.Place.Col, End: sources.End(f.Place),
		Message: f.Message, Hint: f.Hint, Slots: [][2]string{}, Notes: []note{},
	}
	if at, ok := sources.Fixed(&f); ok {
		out.Fix = &fix{at.Col, at.Col + at.Width, f.Fix.Put}
	}
	for _, s := range f.Slots {
		out.Slots = append(out.Slots, [2]string{s.Grid, s.Slot})
	}
	for _, n := range f.Notes {
		out.Notes = append(out.Notes, note{n.Place.File, n.Place.Line, n.Place.Col, n.Message})
	}
	return out
}

// orNone is a list that JSON shows as one even where it is empty.
func orNone[T any](all []T) []T {
	if all == nil {
		return []T{}
	}
	return all
}
