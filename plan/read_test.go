package plan_test

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/plan"
	"gridferry/plan/diag"
)

// read reads a text as a plan that lies in the present folder.
func read(text string, settings ...plan.Setting) (*plan.Plan, []diag.Finding) {
	var list diag.List
	var sources diag.Sources
	p := plan.Read(plan.Source{File: "p", Data: []byte(text), Dir: "."}, settings, &list, &sources)
	return p, list.Sorted()
}

const small = `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 800 g, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
parts: {p: &part {mass: 0.5 lb}}
grids:
  a: &a {frame: base, rows: 2, columns: &n 3, pitch: [2 in, 50], first: [0, 0, 1 cm], part: p}
  b: {<<: *a, columns: *n, filled: "A1:A2"}
motion: {tool: jaw, approach: 60, speed: {travel: 15 m/min, near: 40}}
transfers: [{from: a, to: b, order: {to: serpentine}}]
`

func TestEveryValueKeepsItsPlace(t *testing.T) {
	p, findings := read(small)
	if len(findings) > 0 {
		t.Fatal(findings)
	}
	lines := strings.Split(small, "\n")
	for _, c := range []struct {
		place      diag.Place
		line       int
		text       string // what stands there
		got, wants float64
	}{
		{p.Cell.Tools[0].Mass.Place, 3, "800 g", p.Cell.Tools[0].Mass.V, 0.8},
		{p.Parts[0].Mass.Place, 4, "0.5 lb", p.Parts[0].Mass.V, 0.226796185}, // 1 lb = 0.45359237 kg, international pound
		{p.Grids[0].Pitch.Place, 6, "[2 in", p.Grids[0].Pitch.V[0], 50.8},
		{p.Grids[0].First.Place, 6, "[0, 0, 1 cm]", p.Grids[0].First.V[2], 10},
		{p.Grids[1].Columns.Place, 7, "*n,", float64(p.Grids[1].Columns.V), 3},
		{p.Grids[1].Pitch.Place, 6, "[2 in", p.Grids[1].Pitch.V[1], 50}, // through the merge
		{p.Motion.Travel.Place, 8, "15 m/min", p.Motion.Travel.V, 250},
		{p.Transfers[0].To.Place, 9, "serpentine", 0, 0},
	} {
		if c.place.File != "p" || c.place.Line != c.line || !strings.HasPrefix(lines[c.line-1][c.place.Col-1:], c.text) || c.got != c.wants {
			t.Errorf("%q of line %d: %v at %v, wanted %v", c.text, c.line, c.got, c.place, c.wants)
		}
	}
}

// TestSettingsFollowAnchors: a value that is anchored is changed for every alias; one
// that came through a merge only where it was named.
func TestSettingsFollowAnchors(t *testing.T) {
	for _, c := range []struct {
		path, value string
		a, b        int // columns
	}{
		{"grids.a.columns", "5", 5, 5},
		{"grids.b.columns", "5", 3, 5},
	} {
		p, findings := read(small, plan.Setting{Path: c.path, Value: c.value})
		if len(findings) > 0 || p.Grids[0].Columns.V != c.a || p.Grids[1].Columns.V != c.b {
			t.Errorf("%s=%s: %d and %d, wanted %d and %d; %v", c.path, c.value, p.Grids[0].Columns.V, p.Grids[1].Columns.V, c.a, c.b, findings)
		}
	}
	p, findings := read(small, plan.Setting{Path: "grids.b.rows", Value: "7"})
	if len(findings) > 0 || p.Grids[0].Rows.V != 2 || p.Grids[1].Rows.V != 7 {
		t.Errorf("rows of a merged grid: %d and %d, wanted 2 and 7; %v", p.Grids[0].Rows.V, p.Grids[1].Rows.V, findings)
	}
	p, _ = read(small, plan.Setting{Path: "grids.a.rows", Value: "4"}, plan.Setting{Path: "grids.a.rows", Value: "6"})
	if p.Grids[0].Rows.V != 6 {
		t.Errorf("of two settings of one value %d holds, wanted the later one", p.Grids[0].Rows.V)
	}
}

// TestJSONIsYAML: the same plan as JSON.
func TestJSONIsYAML(t *testing.T) {
	p, findings := read(`{"format": "gridferry plan 1", "title": "a \/ \ud83d\ude00",
	"cell": {"tools": {"jaw": {"tcp": {"at": [0, 0, 100]}, "mass": 0.8, "grip": {"output": 1, "level": "on"}, "release": {"output": 1, "level": "off"}}}},
	"grids": {"a": {"frame": "base", "rows": 1, "columns": 1, "first": [1.5e2, 0, -0.5]}},
	"motion": {"tool": "jaw", "approach": 60, "speed": {"travel": 200, "near": 40}}, "transfers": []}`)
	if len(findings) > 0 || p.Title.V != "a / 😀" || p.Grids[0].First.V != [3]float64{150, 0, -0.5} || p.Grids[0].First.Place.Line != 3 {
		t.Errorf("%+v, %v", p, findings)
	}
}

func TestOpen(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := errors.Join(os.MkdirAll("deep/er", 0o777), os.WriteFile("deep/er/a.yaml", []byte("x"), 0o666)); err != nil {
		t.Fatal(err)
	}
	s, err := plan.Open(filepath.Join("deep", "er", "a.yaml"), nil)
	if err != nil || s.File != "deep/er/a.yaml" || string(s.Data) != "x" || s.Dir != filepath.Join("deep", "er") {
		t.Errorf("%+v, %v", s, err)
	}
	s, err = plan.Open("-", strings.NewReader("y"))
	if err != nil || s.File != "<stdin>" || string(s.Data) != "y" || s.Dir != "." {
		t.Errorf("%+v, %v", s, err)
	}
	for _, name := range []string{"nowhere", "deep"} {
		if _, err := plan.Open(name, nil); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("opening %q: %v", name, err)
		}
	}
	// A stream without an end is not read to its end.
	s, err = plan.Open("-", endless{})
	if err != nil || len(s.Data) != plan.LargestFile+1 {
		t.Errorf("an endless stream gives %d bytes, %v", len(s.Data), err)
	}
}

type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = '#'
	}
	return len(p), nil
}

// TestCellFilesStayInThePlansFolder: a plan that somebody sends must not open files
// elsewhere, by whatever road.
func TestCellFilesStayInThePlansFolder(t *testing.T) {
	top := t.TempDir()
	inside := filepath.Join(top, "inside")
	cell := []byte("format: gridferry cell 1\ntools: {}\n")
	if err := errors.Join(os.MkdirAll(filepath.Join(inside, "sub"), 0o777), os.WriteFile(filepath.Join(top, "secret.yaml"), cell, 0o666),
		os.WriteFile(filepath.Join(inside, "sub", "cell.yaml"), cell, 0o666), os.Symlink(filepath.Join(top, "secret.yaml"), filepath.Join(inside, "link.yaml"))); err != nil {
		t.Fatal(err)
	}
	for name, allowed := range map[string]bool{
		"sub/cell.yaml": true, "./sub/../sub/cell.yaml": true,
		"../secret.yaml": false, "sub/../../secret.yaml": false, filepath.Join(top, "secret.yaml"): false, "link.yaml": false, `sub\\cell.yaml`: false, "sub": false, "": false,
	} {
		var list diag.List
		var sources diag.Sources
		text := strings.Replace(small, small[strings.Index(small, "cell:"):strings.Index(small, "parts:")], "cell: \""+name+"\"\n", 1)
		p := plan.Read(plan.Source{File: "p", Data: []byte(text), Dir: inside}, nil, &list, &sources)
		if (p.Cell != nil) != allowed {
			t.Errorf("cell %q: read %v, wanted %v; %v", name, p.Cell != nil, allowed, list.Sorted())
		}
		if !allowed && !list.HasErrors() {
			t.Errorf("cell %q is refused without a word", name)
		}
	}
}

func TestStarterIsSound(t *testing.T) {
	files, err := fs.Glob(plan.Starter(), "*")
	if err != nil || len(files) != 2 || !slices.Contains(files, plan.StarterPlan) {
		t.Fatalf("%v, %v", files, err)
	}
	for _, name := range files {
		data, err := fs.ReadFile(plan.Starter(), name)
		if err != nil || !bytes.HasSuffix(data, []byte("\n")) || bytes.Contains(data, []byte("\r")) || bytes.Contains(data, []byte("\t")) {
			t.Errorf("%s: %v, or it does not end its last line, or holds tabs or carriage returns", name, err)
		}
	}
}

var _ io.Reader = endless{}
