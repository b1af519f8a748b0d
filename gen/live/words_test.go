package live_test

import (
	"encoding/json"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen/live"
	"gridferry/plan"
	"gridferry/plan/knob"
	"gridferry/plan/suggest"
)

// into reads an answer.
func into[T any](t *testing.T, status int, text string) T {
	t.Helper()
	var v T
	if err := json.Unmarshal([]byte(text), &v); status != http.StatusOK || err != nil {
		t.Fatalf("%d %v: %s", status, err, text)
	}
	return v
}

// TestSuggestions: names come from the cell that a half-written plan names, also as a draft that is not saved.
func TestSuggestions(t *testing.T) {
	s := serve(t)
	file, cell := filepath.ToSlash(s.plan()), filepath.ToSlash(filepath.Join(s.folder, "bench.cell.yaml"))
	before, _, _ := strings.Cut(read(t, s.plan()), "    frame: left")
	texts := map[string]string{file: before + "    frame: ", cell: strings.Replace(read(t, cell), "\n  left:", "\n  leftmost:", 1)}
	line := 1 + strings.Count(before, "\n")
	status, text := s.post("suggest", map[string]any{"texts": texts, "file": file, "line": line, "column": 12})
	all := into[[]suggest.Suggestion](t, status, text)
	if len(all) < 3 || all[0].Text != "leftmost" || all[0].Column != 12 || all[0].End != 12 {
		t.Errorf("%+v", all)
	}
	status, text = s.post("means", map[string]any{"texts": texts, "file": file, "line": line, "column": 6})
	if m := into[*suggest.Meaning](t, status, text); m == nil || m.Path != "grids.tray.frame" || m.Column != 5 || m.End != 10 || len(m.Said) != 2 || !m.Needed {
		t.Errorf("%+v", m)
	}
	status, text = s.post("means", map[string]any{"texts": texts, "file": file, "line": 1 << 20, "column": 6})
	if m := into[*suggest.Meaning](t, status, text); m != nil {
		t.Errorf("%+v", m)
	}
	status, text = s.post("suggest", map[string]any{"texts": texts, "file": cell, "line": 1 << 20, "column": -1})
	if all := into[[]suggest.Suggestion](t, status, text); len(all) != 0 {
		t.Errorf("%+v", all)
	}
}

// TestKnobs: the state has the figures of plan and cell where they stand.
func TestKnobs(t *testing.T) {
	s := serve(t)
	status, text := s.get("state")
	got := into[struct {
		Knobs []knob.Knob
		Files []struct{ Name, Text string }
	}](t, status, text)
	if len(got.Knobs) < 20 {
		t.Fatalf("%+v", got.Knobs)
	}
	for _, k := range got.Knobs {
		for _, f := range got.Files {
			if f.Name == k.File && string([]rune(strings.Split(f.Text, "\n")[k.Line-1])[k.Column-1:k.End-1]) != k.Text {
				t.Errorf("%+v does not stand there", k)
			}
		}
	}
}

// TestWhy: about a line of the plan and of the cell, a move, and a line of the program; what is not there is said.
func TestWhy(t *testing.T) {
	s := serve(t)
	file, cell := filepath.ToSlash(s.plan()), filepath.ToSlash(filepath.Join(s.folder, "bench.cell.yaml"))
	for _, tt := range []struct {
		q      live.Question
		wanted string // in the answer; "" for none
	}{
		{live.Question{File: file, Line: 12}, "grids.tray.columns: How many columns"},
		{live.Question{File: file, Line: 12}, "This line is about the columns of the grid \"tray\"."},
		{live.Question{File: cell, Line: 1}, "first line of every cell"},
		{live.Question{Move: 4}, "Move 4 of "},
		{live.Question{ProgramLine: 1}, "head of the program"},
		{live.Question{Move: 100_000}, ""},
		{live.Question{Move: -1}, ""},
		{live.Question{ProgramLine: 100_000}, ""},
		{live.Question{File: "/etc/passwd", Line: 1}, ""},
		{live.Question{}, ""},
	} {
		status, text := s.post("why", map[string]any{"file": tt.q.File, "line": tt.q.Line, "move": tt.q.Move, "programLine": tt.q.ProgramLine, "family": "listing"})
		if tt.wanted == "" {
			if status != http.StatusNotFound {
				t.Errorf("%+v: %d %s", tt.q, status, text)
			}
			continue
		}
		a := into[live.Answer](t, status, text)
		if a.Title == "" || !strings.Contains(strings.Join(a.Lines, "\n"), tt.wanted) {
			t.Errorf("%+v: %+v", tt.q, a)
		}
	}
}

// TestOther: a second plan comes with its picture and with what differs; with errors it says so.
func TestOther(t *testing.T) {
	s := serve(t)
	if status, text := s.get("other"); status != http.StatusNotFound {
		t.Errorf("without another plan: %d %s", status, text)
	}
	folder := s.folder
	second := filepath.Join(folder, "second.plan.yaml")
	text := read(t, s.plan())
	write(t, second, strings.Replace(strings.Replace(text, "first: [30, 30, 20]       #", "first: [31, 30, 20]       #", 1), "near: 50", "near: 40", 1))
	s = serveWith(t, "listing", folder, plan.StarterPlan, "second.plan.yaml")
	type answer struct {
		Name  string
		Scene any
		live.Differences
	}
	status, got := s.get("other")
	a := into[answer](t, status, got)
	var said []string
	for _, m := range a.Moves {
		said = append(said, m.Text)
	}
	if a.Name != filepath.ToSlash(second) || a.Scene == nil || len(a.Slots) != 1 || a.Slots[0].Grid != "tray" || a.Slots[0].Count != 6 ||
		!strings.Contains(strings.Join(said, "\n"), "speed 50 mm/s becomes 40 mm/s") || !strings.HasPrefix(a.Summary, "different: ") {
		t.Errorf("%+v", a)
	}
	write(t, second, text)
	if status, got = s.get("other"); into[answer](t, status, got).Summary != "the same: all 6 transfers" {
		t.Error(got)
	}
	write(t, second, strings.Replace(text, "rows: 2", "rows: two", 1))
	status, got = s.get("other")
	if a := into[answer](t, status, got); a.Scene != nil || !strings.HasPrefix(a.Summary, "not compared: the other plan has errors: ") || a.Moves == nil || a.Slots == nil {
		t.Errorf("%+v", a)
	}
}
