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

// TestShortForms: slots that a flag names as missing go with those of the plan; the first that
// it names as filled takes the place of the plan's. They come last, and change one grid alone.
func TestShortForms(t *testing.T) {
	const text = "format: gridferry plan 1\ngrids:\n  tray: &tray {missing: [A1], filled: all}\n  rack: *tray\n"
	for _, tt := range []struct{ settings, missing, filled, rules string }{
		{"missing tray B3, missing tray A2:B2, set grids.tray.missing=C1", "C1 B3 A2:B2", "all", ""},
		{"missing   tray   B3  ", "A1 B3", "all", ""},
		{"filled tray B3, filled tray A2", "A1", "B3 A2", ""},
		{"filled tray none", "A1", "none", ""},
		{"filled rack B3, missing rack B3", "A1", "all", ""},
		{"missing trai B3", "A1", "all", `--missing[1]:1:1: error: there is no grid "trai" [unknown-name]; did you mean "tray"?`},
		{"filled tray A1, set title=x, filled bed B3", "A1", "A1", `--filled[2]:1:1: error: there is no grid "bed" [unknown-name]; there are: tray, rack`},
		{"filled tray al", "A1", "all", `--filled[1]:1:6: error: found "al", wanted all, none or slots such as "A1:B6" [bad-selection]; did you mean "all"?`},
	} {
		var list diag.List
		var settings []plan.Setting
		for _, one := range strings.Split(tt.settings, ", ") {
			flag, text, _ := strings.Cut(one, " ")
			s, ok := plan.NewSetting(text)
			for i := range plan.ShortForms {
				if f := &plan.ShortForms[i]; f.Name == flag {
					s, ok = f.Setting(text)
				}
			}
			if !ok {
				t.Fatalf("%q was refused", one)
			}
			settings = append(settings, s)
		}
		p := plan.Read(plan.Source{File: "p.yaml", Data: []byte(text), Dir: "."}, settings, &list, new(diag.Sources))
		found := ""
		for _, f := range list.Sorted() {
			if strings.HasPrefix(f.Place.File, "--") {
				found += f.Place.String() + ": error: " + f.Message + " [" + f.Rule + "]; " + f.Hint
			}
		}
		g := p.Grids[0]
		filled := map[bool]string{true: "all", false: "none"}[g.Filled.All]
		if g.Filled.Slots != nil {
			filled = texts(g.Filled.Slots)
		}
		if g.Name.V != "tray" || texts(g.Missing) != tt.missing || filled != tt.filled || found != tt.rules {
			t.Errorf("%s: missing %s, filled %s, %s", tt.settings, texts(g.Missing), filled, found)
		}
	}
}

func texts(all []plan.Text) string {
	var words []string
	for _, one := range all {
		words = append(words, one.V)
	}
	return strings.Join(words, " ")
}

func source(t *testing.T, file string) plan.Source {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return plan.Source{File: filepath.Base(file), Data: data, Dir: filepath.Dir(file)}
}
