package lsp_test

import (
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/creachadair/jrpc2"
	"github.com/creachadair/jrpc2/channel"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/lsp"
	plans "gridferry/plan"
)

// editor is a client of the library's, for which the server works as for any other: over two pipes.
type editor struct {
	t      testing.TB
	client *jrpc2.Client
	said   chan published
	ended  chan error
}

// published is what the server says of a document.
type published struct {
	URI         string
	Version     int
	Diagnostics []diagnostic
}

type diagnostic struct {
	Range    span
	Severity int
	Code     string
	Message  string
}

type span struct{ Start, End position }

type position struct{ Line, Character int }

// edit is an editor for which a server was started and initialized.
func edit(t testing.TB, encodings ...string) *editor {
	t.Helper()
	return editWith(t, gen.Served{Layout: layout.Options{Slots: layout.DefaultSlots}}.LSP(), encodings...)
}

func editWith(t testing.TB, server *lsp.Server, encodings ...string) *editor {
	t.Helper()
	fromEditor, toServer := io.Pipe()
	fromServer, toEditor := io.Pipe()
	e := &editor{t: t, said: make(chan published, 1000), ended: make(chan error, 1)}
	go func() {
		e.ended <- server.Run(context.Background(), fromEditor, toEditor)
		toEditor.Close()
	}()
	e.client = jrpc2.NewClient(channel.LSP(fromServer, toServer), &jrpc2.ClientOptions{OnNotify: e.heard})
	e.ask("initialize", map[string]any{"capabilities": map[string]any{"general": map[string]any{"positionEncodings": encodings}}}, nil)
	e.tell("initialized", map[string]any{})
	t.Cleanup(func() { e.client.Close() })
	return e
}

func (e *editor) heard(r *jrpc2.Request) {
	var p published
	if err := r.UnmarshalParams(&p); err != nil || r.Method() != "textDocument/publishDiagnostics" {
		e.t.Errorf("%s: %v", r.Method(), err)
	}
	e.said <- p
}

func (e *editor) ask(method string, params, answer any) {
	e.t.Helper()
	r, err := e.client.Call(context.Background(), method, params)
	if err == nil && answer != nil {
		err = r.UnmarshalResult(answer)
	}
	if err != nil {
		e.t.Fatalf("%s: %v", method, err)
	}
}

func (e *editor) tell(method string, params any) {
	e.t.Helper()
	if err := e.client.Notify(context.Background(), method, params); err != nil {
		e.t.Fatalf("%s: %v", method, err)
	}
}

func uri(path string) string { return "file:///" + strings.TrimPrefix(filepath.ToSlash(path), "/") }

func (e *editor) open(path, text string) {
	e.t.Helper()
	e.tell("textDocument/didOpen", map[string]any{"textDocument": map[string]any{"uri": uri(path), "languageId": "yaml", "version": 1, "text": text}})
}

// change replaces a part of a document.
func (e *editor) change(path string, version int, at span, text string) {
	e.t.Helper()
	e.tell("textDocument/didChange", map[string]any{
		"textDocument": map[string]any{"uri": uri(path), "version": version}, "contentChanges": []any{map[string]any{"range": at, "text": text}},
	})
}

// until waits for what the server says of a version of a document; 0 for one that is not open.
func (e *editor) until(path string, version int) []diagnostic {
	e.t.Helper()
	return e.untilAll(version, path)[0]
}

// untilAll is until for documents of which it speaks in any order.
func (e *editor) untilAll(version int, paths ...string) [][]diagnostic {
	e.t.Helper()
	said, left := make([][]diagnostic, len(paths)), slices.Clone(paths)
	for tooLong := time.After(time.Minute); slices.ContainsFunc(left, func(path string) bool { return path != "" }); {
		select {
		case p := <-e.said:
			if i := slices.IndexFunc(left, func(path string) bool { return p.URI == uri(path) && p.Version == version }); i >= 0 {
				said[i], left[i] = p.Diagnostics, ""
			}
		case <-tooLong:
			e.t.Fatalf("nothing is said of version %d of %v", version, left)
		}
	}
	return said
}

// words are diagnostics, to be read.
func words(all []diagnostic) string {
	text, _ := json.Marshal(all)
	return string(text)
}

// bench is a folder with the starter's plan and cell.
func bench(t testing.TB) (plan, cell string) {
	t.Helper()
	folder := t.TempDir()
	if err := os.CopyFS(folder, plans.Starter()); err != nil {
		t.Fatal(err)
	}
	return filepath.Join(folder, "first.plan.yaml"), filepath.Join(folder, "bench.cell.yaml")
}

func read(t testing.TB, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestFindings: those of a plan are there while it is typed, and gone again.
func TestFindings(t *testing.T) {
	plan, _ := bench(t)
	e := edit(t)
	e.open(plan, read(t, plan))
	if found := e.until(plan, 1); len(found) > 0 {
		t.Fatal(words(found))
	}
	e.change(plan, 2, span{}, "odd: 1 # é𝔸\n")
	if found := e.until(plan, 2); len(found) != 1 || found[0].Code != "unknown-key" || found[0].Range != (span{End: position{0, 3}}) {
		t.Fatal(words(found))
	}
	e.change(plan, 3, span{End: position{1, 0}}, "")
	if found := e.until(plan, 3); len(found) > 0 {
		t.Fatal(words(found))
	}
}

// TestDrafts: what is not saved counts, in the cell as in the plan, and is said where it stands.
func TestDrafts(t *testing.T) {
	plan, cell := bench(t)
	e := edit(t)
	e.open(plan, read(t, plan))
	e.until(plan, 1)
	e.open(cell, strings.Replace(read(t, cell), "frames:", "frame:", 1))
	if found := e.until(cell, 1); !strings.Contains(words(found), "unknown-key") {
		t.Fatal(words(found))
	}
}

// TestFilesWithoutTheirPlan: files that are opened together belong to a plan beside them, though it is not open and another one is.
func TestFilesWithoutTheirPlan(t *testing.T) {
	folder := demo(t, "mortar-cubes.plan.yaml", "bench.cell.yaml", "worklist.plan.yaml", "worklist.cell.yaml", "worklist.csv", "worklist-rack-1.csv", "worklist-rack-2.csv", "worklist-rack-3.csv")
	open, cell, list := filepath.Join(folder, "mortar-cubes.plan.yaml"), filepath.Join(folder, "worklist.cell.yaml"), filepath.Join(folder, "worklist.csv")
	e := edit(t)
	e.open(open, read(t, open))
	e.open(cell, strings.Replace(read(t, cell), "frames:", "frame:", 1))
	e.open(list, read(t, list)+"X001;nowhere A1;plate-1 A1;\n")
	found := e.untilAll(1, cell, list)
	if ofCell, ofList := words(found[0]), words(found[1]); !strings.Contains(ofCell, "unknown-key") || !strings.Contains(ofList, "nowhere") {
		t.Error(ofCell, ofList)
	}
}

// TestLeave: the server ends as the editor asks it to.
func TestLeave(t *testing.T) {
	e := edit(t)
	e.ask("shutdown", nil, nil)
	e.tell("exit", nil)
	if err := <-e.ended; err != nil {
		t.Error(err)
	}
}
