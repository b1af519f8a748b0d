package plan_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/plan"
	"gridferry/plan/diag"
)

// TestSetAddsKeys: a key that a plan or a cell can have is added where it is not written;
// any other is reported, with the nearest.
func TestSetAddsKeys(t *testing.T) {
	source := source(t, "../testdata/demo/tube-rack.plan.yaml")
	read := func(path, value string) (*plan.Plan, *diag.List) {
		var list diag.List
		return plan.Read(source, []plan.Setting{{Path: path, Value: value}}, &list, new(diag.Sources)), &list
	}
	p, list := read("grids.dense.missing", "[B2, C3]")
	if list.HasErrors() {
		t.Fatal(list.Sorted())
	}
	for _, g := range p.Grids {
		if missing := g.Name.V == "dense"; missing != (len(g.Missing) > 0) {
			t.Errorf("grid %s: missing %+v", g.Name.V, g.Missing)
		}
	}
	p, list = read("cell.frames.left.number", "7")
	for _, f := range p.Cell.Frames {
		if n := f.Number; list.HasErrors() || f.Name.V == "left" && (n.V != 7 || n.Place.File != "--set[1]") {
			t.Errorf("%v: %+v", list.Sorted(), n)
		}
	}
	for path, want := range map[string]string{
		"grids.dense.mising":      `did you mean`,
		"grids.other.missing":     `"grids" holds`,
		"cell.frames.left.numero": `did you mean "cell.frames.left.number"`,
		"grids.dense.missing.B2":  `there is no "missing"`,
	} {
		_, list := read(path, "[B2]")
		if all := list.Sorted(); len(all) != 1 || all[0].Rule != "set-path" || !strings.Contains(all[0].Hint+all[0].Message, want) {
			t.Errorf("%s: %v", path, all)
		}
	}
}

func source(t *testing.T, file string) plan.Source {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return plan.Source{File: filepath.Base(file), Data: data, Dir: filepath.Dir(file)}
}
