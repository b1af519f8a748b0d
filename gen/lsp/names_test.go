package lsp_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// location is a part of a file.
type location struct {
	URI   string
	Range span
}

// at is a request about the first place of some words in a text, and so many characters behind.
func at(path, text, words string, behind int) map[string]any {
	before, _, _ := strings.Cut(text, words)
	line := strings.Count(before, "\n")
	column := len([]rune(before[strings.LastIndex(before, "\n")+1:])) + behind
	return map[string]any{"textDocument": map[string]any{"uri": uri(path)}, "position": position{line, column}}
}

// with is a request with one thing more.
func with(request map[string]any, key string, value any) map[string]any {
	request[key] = value
	return request
}

// shown is locations, to be read: file, line and what stands there.
func shown(t *testing.T, all []location, texts map[string]string) []string {
	t.Helper()
	var words []string
	for _, l := range all {
		path := strings.TrimPrefix(l.URI, "file://")
		text, draft := texts[path]
		if !draft {
			text = read(t, path)
		}
		line := []rune(strings.Split(text, "\n")[l.Range.Start.Line])
		words = append(words, filepath.Base(path)+": "+string(line[l.Range.Start.Character:l.Range.End.Character])+" of "+strings.TrimSpace(string(line)))
	}
	return words
}

// demo is a folder with some of the demo's files.
func demo(t testing.TB, names ...string) string {
	t.Helper()
	folder := t.TempDir()
	for _, name := range names {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(read(t, filepath.Join("..", "..", "testdata", "demo", name))), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// TestDefinition: from a plan to the frame in its cell, which is not open, and to a grid that is not saved.
func TestDefinition(t *testing.T) {
	folder := demo(t, "mortar-cubes.plan.yaml", "bench.cell.yaml")
	plan, cell := filepath.Join(folder, "mortar-cubes.plan.yaml"), filepath.Join(folder, "bench.cell.yaml")
	text := strings.ReplaceAll(read(t, plan), "balance", "𝔸scale")
	e := edit(t)
	e.open(plan, text)
	var found []location
	e.ask("textDocument/definition", at(plan, text, "frame: bath", 8), &found)
	if got := shown(t, found, nil); len(got) != 1 || !strings.HasPrefix(got[0], "bench.cell.yaml: bath of bath:") {
		t.Error(got)
	}
	e.ask("textDocument/definition", at(plan, text, "{grid: 𝔸scale", 9), &found)
	if len(found) != 1 || found[0].URI != uri(plan) || found[0].Range.End.Character-found[0].Range.Start.Character != 7 { // 𝔸 takes two
		t.Error(found)
	}
	e.ask("textDocument/definition", at(plan, text, "title:", 2), &found)
	if len(found) != 0 {
		t.Error(found)
	}
	e.open(cell, read(t, cell))
	e.ask("textDocument/references", with(at(cell, read(t, cell), "  bath:", 3), "context", map[string]bool{"includeDeclaration": false}), &found)
	got := shown(t, found, map[string]string{plan: text})
	if want := []string{"bench.cell.yaml: bath of bath_wall:", "bench.cell.yaml: bath of bath_end:", "mortar-cubes.plan.yaml: bath of frame: bath"}; len(got) != 3 ||
		!slices.EqualFunc(got, want, strings.HasPrefix) {
		t.Errorf("%q", got)
	}
}

// TestHighlight: the places of a name in its own document.
func TestHighlight(t *testing.T) {
	plan := filepath.Join(demo(t, "mortar-cubes.plan.yaml", "bench.cell.yaml"), "mortar-cubes.plan.yaml")
	e := edit(t)
	e.open(plan, read(t, plan))
	var found []struct {
		Range span
		Kind  int
	}
	e.ask("textDocument/documentHighlight", at(plan, read(t, plan), "  tray:", 4), &found)
	if len(found) != 2 || found[0].Kind != 3 || found[1].Kind != 2 || found[1].Range.Start.Line <= found[0].Range.Start.Line {
		t.Errorf("%+v", found)
	}
}

// edits are those of several files.
type edits struct {
	Changes map[string][]struct {
		Range   span
		NewText string
	}
}

// renamed is the text of a file after some edits, of which none may lie over another one.
func (c edits) applied(t *testing.T, path, text string) string {
	t.Helper()
	lines := strings.Split(text, "\n")
	changes := slices.Clone(c.Changes[uri(path)])
	slices.Reverse(changes)
	for _, e := range changes {
		line := []rune(lines[e.Range.Start.Line])
		lines[e.Range.Start.Line] = string(line[:e.Range.Start.Character]) + e.NewText + string(line[e.Range.End.Character:])
	}
	return strings.Join(lines, "\n")
}

// TestRename: a grid in the plan and its worklist, which is not open; nothing is said to be wrong afterwards.
func TestRename(t *testing.T) {
	folder := demo(t, "worklist.plan.yaml", "worklist.cell.yaml", "worklist.csv", "worklist-rack-1.csv", "worklist-rack-2.csv", "worklist-rack-3.csv")
	plan, list := filepath.Join(folder, "worklist.plan.yaml"), filepath.Join(folder, "worklist.csv")
	text := read(t, plan)
	e := edit(t)
	e.open(plan, text)
	before := e.until(plan, 1)
	var where struct {
		Range       span
		Placeholder string
	}
	e.ask("textDocument/prepareRename", at(plan, text, "  rack-1:", 4), &where)
	if where.Placeholder != "rack-1" || where.Range.End.Character != 8 {
		t.Errorf("%+v", where)
	}
	var change edits
	e.ask("textDocument/rename", with(at(plan, text, "  rack-1:", 4), "newName", "left"), &change)
	if len(change.Changes) != 2 || len(change.Changes[uri(list)]) < 50 {
		t.Fatalf("%d files, %d edits of the list", len(change.Changes), len(change.Changes[uri(list)]))
	}
	e.open(list, change.applied(t, list, read(t, list)))
	after := change.applied(t, plan, text)
	if strings.Contains(after, "rack-1:") || strings.Count(after, "left") < 1 {
		t.Error(after)
	}
	e.tell("textDocument/didChange", map[string]any{
		"textDocument": map[string]any{"uri": uri(plan), "version": 2}, "contentChanges": []any{map[string]any{"text": after}},
	})
	if found := e.until(plan, 2); words(found) != words(before) {
		t.Error(words(found))
	}
	if err := e.why("textDocument/rename", with(at(plan, after, "  left:", 4), "newName", "rack-2")); !strings.Contains(err, "there is a grid \"rack-2\" already") {
		t.Error(err)
	}
	if err := e.why("textDocument/rename", with(at(plan, after, "title:", 1), "newName", "x")); !strings.Contains(err, "no name stands here") {
		t.Error(err)
	}
}

// why is what the server says of a request that it does not answer.
func (e *editor) why(method string, params any) string {
	e.t.Helper()
	_, err := e.client.Call(e.t.Context(), method, params)
	if err == nil {
		e.t.Fatalf("%s was answered", method)
	}
	return err.Error()
}

// TestRenameInOtherPlans: a frame has its new name in every plan that has the same cell, though none of them is open.
func TestRenameInOtherPlans(t *testing.T) {
	folder := demo(t, "mortar-cubes.plan.yaml", "mortar-cubes-scale.plan.yaml", "bench.cell.yaml", "caps.plan.yaml", "caps.cell.yaml")
	plan := filepath.Join(folder, "mortar-cubes.plan.yaml")
	e := edit(t)
	e.open(plan, read(t, plan))
	var change edits
	e.ask("textDocument/rename", with(at(plan, read(t, plan), "frame: bath", 9), "newName", "basin"), &change)
	var files []string
	for file := range change.Changes {
		files = append(files, filepath.Base(file))
	}
	slices.Sort(files)
	if want := []string{"bench.cell.yaml", "mortar-cubes-scale.plan.yaml", "mortar-cubes.plan.yaml"}; !slices.Equal(files, want) {
		t.Error(files)
	}
}

// TestActions: a misspelt grid is mended by its letters alone.
func TestActions(t *testing.T) {
	plan := filepath.Join(demo(t, "mortar-cubes.plan.yaml", "bench.cell.yaml"), "mortar-cubes.plan.yaml")
	text := strings.Replace(read(t, plan), "- tray", "- trai", 1)
	e := edit(t)
	e.open(plan, text)
	request := at(plan, text, "- trai", 3)
	delete(request, "position")
	before, _, _ := strings.Cut(text, "- trai")
	here := position{strings.Count(before, "\n"), 9}
	request["range"], request["context"] = span{here, here}, map[string]any{"diagnostics": []any{}}
	var actions []struct {
		Title, Kind string
		Edit        edits
	}
	e.ask("textDocument/codeAction", request, &actions)
	if len(actions) != 1 || actions[0].Title != `write "tray"` || actions[0].Kind != "quickfix" {
		t.Fatalf("%+v", actions)
	}
	if got := actions[0].Edit.applied(t, plan, text); got != read(t, plan) {
		t.Error(got)
	}
	request["context"] = map[string]any{"diagnostics": []any{}, "only": []string{"refactor"}}
	e.ask("textDocument/codeAction", request, &actions)
	if len(actions) != 0 {
		t.Errorf("%+v", actions)
	}
}
