package live_test

import (
	"encoding/json"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen/live"
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
	plan, cell := filepath.ToSlash(s.plan()), filepath.ToSlash(filepath.Join(s.folder, "bench.cell.yaml"))
	before, _, _ := strings.Cut(read(t, s.plan()), "    frame: left")
	texts := map[string]string{plan: before + "    frame: ", cell: strings.Replace(read(t, cell), "\n  left:", "\n  leftmost:", 1)}
	line := 1 + strings.Count(before, "\n")
	status, text := s.post("suggest", map[string]any{"texts": texts, "file": plan, "line": line, "column": 12})
	all := into[[]suggest.Suggestion](t, status, text)
	if len(all) < 3 || all[0].Text != "leftmost" || all[0].Column != 12 || all[0].End != 12 {
		t.Errorf("%+v", all)
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
	plan, cell := filepath.ToSlash(s.plan()), filepath.ToSlash(filepath.Join(s.folder, "bench.cell.yaml"))
	for _, tt := range []struct {
		q      live.Question
		wanted string // in the answer; "" for none
	}{
		{live.Question{File: plan, Line: 12}, "grids.tray.columns: How many columns"},
		{live.Question{File: plan, Line: 12}, "This line is about the columns of the grid \"tray\"."},
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
