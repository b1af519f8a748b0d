package names

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"gridferry/plan"
	"gridferry/plan/diag"
)

// in reads a plan, p.plan.yaml, with files beside it.
func in(text string, beside map[string]string) *Index {
	return Of(plan.Source{File: "p.plan.yaml", Data: []byte(text), Dir: ".", Read: func(n plan.Named) ([]byte, error) {
		if text, there := beside[n.File]; there {
			return []byte(text), nil
		}
		return nil, os.ErrNotExist
	}})
}

// cell is a cell as it stands in a plan.
const cell = `format: gridferry plan 1
cell:
  tools: {jaw: {body: {palm: {from: [0, 0, 0]}}, zones: {left: {at: [0, 0, 0]}}, fetch: [{go: high}, {line: low}]}}
  frames: {bath: {at: [0, 0, 0]}, lid: {parent: bath}, far: {parent: base}}
  poses: {high: {frame: lid}, low: {at: [0, 0, 0]}}
  keep_out: {wall: {frame: bath}}
`

// grids is a plan around it.
const grids = cell + `parts: {cube: {mass: 1}, tube: {mass: 1}}
grids:
  tray: {frame: bath, part: cube, contents: tray.csv, missing: [A1], motion: {entry: [high, low], tool: jaw}}
  rack: {frame: far, part: tube, filled: all}
  bin: {frame: lid, filled: [A1, "B2:B3"]}
motion: {tool: jaw, clear: none, start: high}
begin: [{go: high}]
transfers:
  - {from: tray A1:B4, to: rack, motion: {clear: low}}
  - chain: [tray C1:C6, {grid: rack A1, then: [{line: low}]}, bin]
  - list: work.csv
variants:
  - {name: one, set: {grids.tray.rows: 2, cell.frames.bath.at: [1, 2, 3], motion.tool: jaw}}
  - {each: {"grids.rack.part": [cube, tube], cell.tools.jaw.zones.left.at: [[1, 2, 3]]}}
`

var tables = map[string]string{
	"tray.csv": "slot,id,part\nA2,x,tube\nA3,y,\"cube\"\n",
	"work.csv": "\ufeffsep=;\nTo;from;note\nrack A1;tray A1;tray\n\"bin B2\"; tray B1;\"two\nlines\"\nrack;bin\n",
}

// TestUses finds every name by its letters.
func TestUses(t *testing.T) {
	x := in(grids, tables)
	want := map[string]int{
		"grid tray": 6, "grid rack": 6, "grid bin": 4, "part cube": 4, "part tube": 4, "tool jaw": 5, "frame bath": 5, "frame lid": 3, "frame far": 2,
		"pose high": 5, "pose low": 5, "keep-out box wall": 1, "zone left": 2, "box palm": 1,
	}
	got := map[string]int{}
	for n := range x.of {
		uses := x.Uses(n)
		got[n.What()+" "+n.Text] = len(uses)
		defined := 0
		for _, u := range uses {
			line, _ := x.sources.Line(u.Place.File, u.Place.Line)
			if letters := string([]rune(line)[u.Place.Col-1:][:u.Place.Width]); !u.Plain || letters != n.Text {
				t.Errorf("%v: %q, wanted %q", u.Place, letters, n.Text)
			}
			if u.Defines {
				defined++
			}
			for _, column := range []int{u.Place.Col, u.Place.Col + u.Place.Width} {
				if at, ok := x.At(u.Place.File, u.Place.Line, column); !ok || at != u {
					t.Errorf("at column %d there is %+v, wanted %+v", column, at, u)
				}
			}
		}
		if defined != 1 {
			t.Errorf("the %s %q is defined %d times", n.What(), n.Text, defined)
		}
	}
	if !maps.Equal(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
	if _, ok := x.At("p.plan.yaml", 1, 4); ok {
		t.Error("the format has a name")
	}
}

// TestHalfWritten: names are found where a text cannot be parsed.
func TestHalfWritten(t *testing.T) {
	x := in(strings.Replace(grids, "motion: {tool: jaw, clear", "motion: tool: [jaw, {clear", 1), tables)
	whole := in(grids, tables)
	lost := 0
	for n := range whole.of {
		if len(x.Uses(n)) < len(whole.Uses(n)) {
			lost++
		}
	}
	for _, u := range x.uses {
		line, _ := x.sources.Line(u.Place.File, u.Place.Line)
		if letters := string([]rune(line)[u.Place.Col-1:][:u.Place.Width]); u.Plain && letters != u.Name.Text {
			t.Errorf("%v: %q, wanted %q", u.Place, letters, u.Name.Text)
		}
	}
	if lost > 2 { // jaw and high stand on the line that is wrong
		t.Errorf("%d names are not wholly known", lost)
	}
	if _, err := x.Rename(Name{Table: "frames", Text: "bath"}, "tub"); err == nil || !strings.Contains(err.Error(), "mend this first") {
		t.Error(err)
	}
}

// apply edits the files of a plan.
func apply(x *Index, edits []Edit) map[string]string {
	all := map[string]string{}
	for name, text := range x.sources.All() {
		lines := diag.SplitLines(text)
		for _, e := range slices.Backward(edits) {
			if e.Place.File == name {
				line := []rune(lines[e.Place.Line-1])
				lines[e.Place.Line-1] = string(line[:e.Place.Col-1]) + e.Text + string(line[e.Place.Col-1+e.Place.Width:])
			}
		}
		all[name] = strings.Join(lines, "\n")
	}
	return all
}

func TestRename(t *testing.T) {
	tray := Name{"p.plan.yaml", "grids", "", "tray"}
	tests := []struct {
		name, text string
		of         Name
		want       string // of the plan
	}{
		{"quoted keys", "grids: {\"tray\": {frame: a}, 'rack': {frame: a}}\ntransfers: [{from: 'tray A1', to: \"rack\"}]\n", tray,
			"grids: {\"NEW\": {frame: a}, 'rack': {frame: a}}\ntransfers: [{from: 'NEW A1', to: \"rack\"}]\n"},
		{"JSON", `{"grids":{"tray":{"part":"tray"}},"transfers":[{"from":"tray A1","to":"tray\tB1"}]}`, tray,
			`{"grids":{"NEW":{"part":"tray"}},"transfers":[{"from":"NEW A1","to":"NEW\tB1"}]}`},
		{"an alias follows its anchor", "grids: {tray: {frame: a}}\ntransfers: [{from: &t tray, to: *t}, {from: *t, to: tray}]\n", tray,
			"grids: {NEW: {frame: a}}\ntransfers: [{from: &t NEW, to: *t}, {from: *t, to: NEW}]\n"},
		{"merges", "cell: {frames: {bath: {at: [0, 0, 0]}}}\ngrids:\n  tray: &t {frame: bath}\n  rack: {<<: *t, part: x}\n", Name{Table: "frames", Text: "bath"},
			"cell: {frames: {NEW: {at: [0, 0, 0]}}}\ngrids:\n  tray: &t {frame: NEW}\n  rack: {<<: *t, part: x}\n"},
		{"a long selection", "grids: {tray: {}}\ntransfers:\n  - from: tray A1,\n      B1\n    to: >\n      rack\n", tray,
			"grids: {NEW: {}}\ntransfers:\n  - from: NEW A1,\n      B1\n    to: >\n      rack\n"},
		{"letters of several bytes", "title: ä\ngrids: {ö: {}, tray: {}}\ntransfers: [{from: ö, to: tray}]\n", tray,
			"title: ä\ngrids: {ö: {}, NEW: {}}\ntransfers: [{from: ö, to: NEW}]\n"},
		{"names that begin alike", "grids: {tray: {}, tray-2: {}, tray_: {}}\ntransfers: [{from: tray-2, to: tray}]\n", tray,
			"grids: {NEW: {}, tray-2: {}, tray_: {}}\ntransfers: [{from: tray-2, to: NEW}]\n"},
		{"joints", "cell: {arm: {joints: [{name: a}, {name: b}], links: {a: [], b: []}}}\n", Name{Table: "joints", Text: "b"},
			"cell: {arm: {joints: [{name: a}, {name: NEW}], links: {a: [], NEW: []}}}\n"},
		{"zones of two tools", "cell: {tools: {a: {zones: {left: {}}}, b: {zones: {left: {}}}}}\n", Name{Table: "zones", Of: "b", Text: "left"},
			"cell: {tools: {a: {zones: {left: {}}}, b: {zones: {NEW: {}}}}}\n"},
		{"a path of a variant", "grids: {tray: {}}\nvariants: [{set: {grids.tray.frame: tray}}]\n", tray,
			"grids: {NEW: {}}\nvariants: [{set: {grids.NEW.frame: tray}}]\n"},
	}
	for _, tt := range tests {
		x := in("format: gridferry plan 1\n"+tt.text, nil)
		if strings.HasPrefix(tt.text, "{") {
			x = in(tt.text, nil)
		}
		edits, err := x.Rename(tt.of, "NEW")
		if got := strings.TrimPrefix(apply(x, edits)["p.plan.yaml"], "format: gridferry plan 1\n"); err != nil || got != tt.want {
			t.Errorf("%s: %v\n%s\nwanted\n%s", tt.name, err, got, tt.want)
		}
	}
}

// TestRenameInTables: worklists and contents follow.
func TestRenameInTables(t *testing.T) {
	x := in(grids, tables)
	edits, err := x.Rename(Name{"p.plan.yaml", "grids", "", "bin"}, "box-1")
	if got := apply(x, edits)["work.csv"]; err != nil || got != "sep=;\nTo;from;note\nrack A1;tray A1;tray\n\"box-1 B2\"; tray B1;\"two\nlines\"\nrack;box-1\n" {
		t.Errorf("%v %q", err, got)
	}
	edits, err = x.Rename(Name{"p.plan.yaml", "parts", "", "cube"}, "block")
	if got := apply(x, edits)["tray.csv"]; err != nil || got != "slot,id,part\nA2,x,tube\nA3,y,\"block\"\n" {
		t.Errorf("%v %q", err, got)
	}
}

// TestRenameRefused: nothing is changed where not everything can be, or where the new name is none.
func TestRenameRefused(t *testing.T) {
	frame := func(name string) Name { return Name{Table: "frames", Text: name} }
	const two = "format: gridferry plan 1\ncell: {frames: {bath: {}, lid: {}}, poses: {high: {}}, arm: {joints: [{name: a}, {}]}}\n"
	for _, tt := range []struct {
		text string
		of   Name
		to   string
		want string
	}{
		{two, frame("bath"), "my bath", "is no name"},
		{two, frame("bath"), "", "is no name"},
		{two, frame("bath"), strings.Repeat("x", 65), "is no name"},
		{two, frame("bath"), "base", "a meaning of its own"},
		{two, Name{Table: "poses", Text: "high"}, "none", "a meaning of its own"},
		{two, frame("bath"), "null", "a meaning of its own"},
		{two, frame("bath"), "lid", `there is a frame "lid" already: p.plan.yaml:2:27`},
		{two, Name{Table: "joints", Text: "a"}, "J2", "a joint without a name"},
		{two, frame("tub"), "x", `no frame "tub" is defined`},
		{two + "grids: {a: {frame: tub}}\n", frame("bath"), "tub", `p.plan.yaml:3:20 speaks of a frame "tub" that is not there`},
		{two + "grids: {a: {frame: \"b\\u0061th\"}}\n", frame("bath"), "tub", `p.plan.yaml:3:20: write the name "bath" out here`},
		{two + "grids: {a: {frame: >\n  bath\n}}\n", frame("bath"), "tub", `mend this first`},
		{two + "grids:\n  a:\n    frame: >-\n      bath\n", frame("bath"), "tub", `p.plan.yaml:5:12: write the name "bath" out here`},
		{two + "title: &t bath\ngrids: {a: {frame: *t}}\n", frame("bath"), "tub", `p.plan.yaml:4:20: write the name "bath" out here`},
		{two + "grids: {a: {frame: &t bath}}\ntitle: *t\n", frame("bath"), "tub", `p.plan.yaml:3:23: this stands for another text as well`},
		{two + "grids: {bath: {frame: &t bath}}\ntransfers: [{from: *t, to: a}]\n", frame("bath"), "tub", `this stands for the grid "bath" as well`},
		{two + "grids: {a: {contents: none.csv}}\n", frame("bath"), "tub", "mend this first, since the name may stand there too: none.csv: file does not exist"},
	} {
		edits, err := in(tt.text, nil).Rename(tt.of, tt.to)
		if err == nil || edits != nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s\n%+v to %q: %v, wanted %q", tt.text, tt.of, tt.to, err, tt.want)
		}
	}
	if edits, err := in(two, nil).Rename(frame("bath"), "bath"); edits != nil || err != nil {
		t.Error(edits, err)
	}
}

// TestSeveralPlans: plans share the names of their cell, and have grids of their own.
func TestSeveralPlans(t *testing.T) {
	texts := map[string]string{
		"c.cell.yaml":     "format: gridferry cell 1\nmeasured: m.yaml\nframes: {bath: {}}\n",
		"m.yaml":          "format: gridferry measured 1\nframes: {bath: {at: [0, 0, 0]}}\n",
		"other.cell.yaml": "format: gridferry cell 1\nframes: {bath: {}}\n",
		"a.plan.yaml":     "format: gridferry plan 1\ncell: c.cell.yaml\ngrids: {tray: {frame: bath}}\nvariants: [{name: x, cells: [other.cell.yaml]}]\n",
		"b.plan.yaml":     "format: gridferry plan 1\ncell: c.cell.yaml\ngrids: {tray: {frame: bath}}\n",
	}
	source := func(name string) plan.Source {
		return plan.Source{File: name, Data: []byte(texts[name]), Dir: ".", Read: func(n plan.Named) ([]byte, error) { return []byte(texts[n.File]), nil }}
	}
	x := Of(source("a.plan.yaml"), source("b.plan.yaml"))
	var files []string
	for _, u := range x.Uses(Name{Table: "frames", Text: "bath"}) {
		files = append(files, fmt.Sprint(u.Place.File, u.Defines))
	}
	if want := []string{"a.plan.yamlfalse", "b.plan.yamlfalse", "c.cell.yamltrue", "m.yamlfalse", "other.cell.yamltrue"}; !slices.Equal(files, want) {
		t.Errorf("%v", files)
	}
	if got := x.Uses(Name{"b.plan.yaml", "grids", "", "tray"}); len(got) != 1 || got[0].Place != (diag.Place{File: "b.plan.yaml", Line: 3, Col: 9, Width: 4}) {
		t.Errorf("%+v", got)
	}
}

// BenchmarkIndex is the names of a hundred thousand transfers, a line each: parsed, and of a text that cannot be.
func BenchmarkIndex(b *testing.B) {
	text := grids[:strings.Index(grids, "  - {from")] + strings.Repeat("  - {from: tray A1, to: rack B2}\n", 100_000)
	for name, text := range map[string]string{"parsed": text, "broken": text + "]\n", "one line": strings.ReplaceAll(text[strings.Index(text, "\ntransfers:"):], "\n  - ", " ")} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				x := in(text, tables)
				if n := len(x.uses); n < 200_000 && name != "one line" {
					b.Fatal(n)
				}
			}
		})
	}
}
