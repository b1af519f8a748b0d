package lsp_test

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
)

// TestOutline: folds and symbols are there in a text that cannot be parsed, too.
func TestOutline(t *testing.T) {
	plan := filepath.Join(demo(t, "mortar-cubes.plan.yaml", "bench.cell.yaml"), "mortar-cubes.plan.yaml")
	e := edit(t)
	of := map[string]any{"textDocument": map[string]any{"uri": uri(plan)}}
	for _, text := range []string{read(t, plan), strings.Replace(read(t, plan), "motion:", "motion: {{", 1)} {
		e.open(plan, text)
		lines := strings.Split(text, "\n")
		var folds []struct{ StartLine, EndLine int }
		e.ask("textDocument/foldingRange", of, &folds)
		for _, f := range folds {
			if f.StartLine >= f.EndLine || f.EndLine >= len(lines) {
				t.Errorf("%+v", f)
			}
		}
		var symbols []symbol
		e.ask("textDocument/documentSymbol", of, &symbols)
		said := outline(t, symbols, span{End: position{len(lines), 0}})
		for _, wanted := range []string{"grids(tray() balance() rack())", "transfers(1(", "tray → balance → rack"} {
			if !strings.Contains(said, wanted) || len(folds) < 4 {
				t.Errorf("%s\n%+v", said, folds)
			}
		}
		e.tell("textDocument/didClose", of)
	}
	e.open(plan, read(t, plan))
	var found []struct{ Name, ContainerName string }
	e.ask("workspace/symbol", map[string]any{"query": "BA"}, &found)
	text, _ := json.Marshal(found)
	if !strings.Contains(string(text), `{"Name":"balance","ContainerName":"grid"}`) || !strings.Contains(string(text), `{"Name":"bath","ContainerName":"frame"}`) {
		t.Errorf("%s", text)
	}
}

type symbol struct {
	Name, Detail          string
	Range, SelectionRange span
	Children              []symbol
}

// outline is symbols, to be read; each has to lie inside of the one around it.
func outline(t *testing.T, all []symbol, around span) string {
	t.Helper()
	var said []string
	for _, s := range all {
		if !inside(s.Range, around) || !inside(s.SelectionRange, s.Range) {
			t.Errorf("%s lies at %+v and is called so at %+v, inside of %+v", s.Name, s.Range, s.SelectionRange, around)
		}
		said = append(said, s.Name+"("+strings.TrimSpace(s.Detail+" "+outline(t, s.Children, s.Range))+")")
	}
	return strings.Join(said, " ")
}

func inside(a, b span) bool {
	before := func(p, q position) bool { return p.Line < q.Line || p.Line == q.Line && p.Character <= q.Character }
	return before(b.Start, a.Start) && before(a.End, b.End)
}
