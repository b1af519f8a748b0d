package plan_test

import (
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"gridferry/plan"
	"gridferry/plan/diag"
)

// TestCellsAreKept: with cells that are kept a plan reads as it does without, again and again, whatever settings change and
// whatever is wrong; and a cell without a finding, which no setting changes, is read once.
func TestCellsAreKept(t *testing.T) {
	dir := t.TempDir()
	const tools = "tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.8, grip: {output: 1, level: on}, release: {output: 1, level: off}}}\n"
	for name, text := range map[string]string{
		"good.cell.yaml": "format: gridferry cell 1\nmeasured: m.yaml\nframes: {f: {at: [1, 2, 3]}}\n" + tools, "m.yaml": "format: gridferry measured 1\nframes: {f: {at: [4, 5, 6]}}\n",
		"bad.cell.yaml": "format: gridferry cell 1\nframes: {f: {at: [1, 2]}}\n" + tools, "none.cell.yaml": "",
		"p.yaml": "format: gridferry plan 1\ncell: good.cell.yaml\nparts: {p: {mass: 1}}\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	alone := source(t, filepath.Join(dir, "p.yaml"))
	kept, shared := alone, map[*plan.Cell]int{}
	kept.Cells = new(plan.Cells)
	for _, settings := range [][]plan.Setting{
		nil, {{Path: "title", Value: "x"}}, {{Path: "cell.frames.f.at", Value: "[7, 8, 9]"}}, {{Path: "cell.name", Value: "x"}}, {{Path: "cell.measured", Value: "null"}},
		{{Path: "cell", Value: "bad.cell.yaml"}}, {{Path: "cell", Value: "none.cell.yaml"}}, {{Path: "cell", Value: "gone.cell.yaml"}}, {{Path: "cell", Value: "{" + tools[:len(tools)-1] + "}"}},
		{{Path: "cell", Value: "null"}}, {{Path: "cell", Value: "good.cell.yaml"}}, {{Path: "parts.p.mass", Value: "heavy"}}, {{Path: "grids", Value: "{}"}},
	} {
		var wanted, found diag.List
		var read, again diag.Sources
		p := plan.Read(alone, settings, &wanted, &read)
		for range 2 {
			found, again = diag.List{}, diag.Sources{}
			q := plan.Read(kept, settings, &found, &again)
			if !reflect.DeepEqual(p, q) || !reflect.DeepEqual(wanted.Sorted(), found.Sorted()) {
				t.Errorf("%v: with a cell that is kept the plan is %+v, with\n%v\nwanted %+v, with\n%v", settings, q, found.Sorted(), p, wanted.Sorted())
			}
			if texts, want := maps.Collect(again.All()), maps.Collect(read.All()); !maps.Equal(texts, want) {
				t.Errorf("%v: the texts are %v, wanted %v", settings, texts, want)
			}
			shared[q.Cell]++
		}
	}
	delete(shared, nil)
	most := 0
	for _, times := range shared {
		most = max(most, times)
	}
	if most != 10 {
		t.Errorf("of the readings with one cell, which no setting changes, %d have the same one: %v", most, shared)
	}
}
