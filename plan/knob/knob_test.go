package knob

import (
	"encoding/json"
	"maps"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"gridferry/plan"
	"gridferry/plan/diag"
	"gridferry/plan/unit"
)

const folder = "../../testdata/demo"

func plans(t testing.TB) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(folder, "*.plan.yaml"))
	if err != nil || len(found) < 15 {
		t.Fatal(found, err)
	}
	return found
}

// read reads a plan with settings, or with another text of one file.
func read(t testing.TB, file string, settings ...plan.Setting) (*plan.Plan, *diag.Sources, []diag.Finding) {
	t.Helper()
	source, err := plan.Open(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	var list diag.List
	sources := new(diag.Sources)
	return plan.Read(source, settings, &list, sources), sources, list.Sorted()
}

// meaning is all that a plan says, without the places where it says it.
func meaning(t testing.TB, p *plan.Plan) any {
	t.Helper()
	text, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	var all any
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	return bare(all)
}

func bare(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for _, key := range []string{"Place", "Written", "File", "Shown"} {
			delete(v, key)
		}
		for key := range v {
			v[key] = bare(v[key])
		}
	case []any:
		for i := range v {
			v[i] = bare(v[i])
		}
	}
	return v
}

// TestTurning turns every knob of every demo: the text changes there and nowhere else, and the plan is the one
// that "--set" gives.
func TestTurning(t *testing.T) {
	turned, every := 0, 4 // reading is what takes time
	if testing.Short() {
		every = 40
	}
	for _, file := range plans(t) {
		_, sources, _ := read(t, file)
		all := Of(sources.All())
		if len(all) < 10 {
			t.Errorf("%s has only %d knobs", file, len(all))
		}
		paths, copied := map[string]bool{}, copies(t, file)
		for _, k := range all {
			if paths[k.Path] {
				t.Errorf("%s: %s stands twice", file, k.Path)
			}
			paths[k.Path] = true
			value := k.Value + k.Step
			if value > k.Most {
				value = k.Value - k.Step
			}
			before, _ := sources.Text(k.File)
			after := k.Turn(before, value)
			one, other := strings.Split(before, "\n"), strings.Split(after, "\n")
			line := []rune(one[k.Line-1])
			if string(line[k.Column-1:k.End-1]) != k.Text {
				t.Fatalf("%s: %q does not stand at %+v", file, k.Text, k)
			}
			one[k.Line-1] = string(line[:k.Column-1]) + k.Worded(value) + string(line[k.End-1:])
			if !slices.Equal(one, other) {
				t.Fatalf("%s: turning %s changed more: %q", file, k.Path, other[k.Line-1])
			}
			if turned++; turned%every == 0 || len(all) < 40 && !testing.Short() {
				same(t, file, copied, k, value, after)
			}
		}
	}
	if turned < 800 {
		t.Errorf("only %d knobs", turned)
	}
}

// same holds a turned text to the setting of the same value. It stands in a folder of copies.
func same(t *testing.T, file, copied string, k Knob, value float64, text string) {
	t.Helper()
	changed := filepath.Join(filepath.Dir(copied), filepath.Base(k.File))
	before, err := os.ReadFile(changed)
	if err != nil {
		t.Fatal(err)
	}
	write(t, changed, []byte(text))
	defer write(t, changed, before)
	set, _, setFindings := read(t, file, k.Setting(value))
	turned, sources, turnedFindings := read(t, copied)
	if len(setFindings) != len(turnedFindings) {
		t.Errorf("%s: %s=%s: %v by --set, %v in the text", file, k.Path, k.Worded(value), setFindings, turnedFindings)
		return
	}
	if !reflect.DeepEqual(meaning(t, set), meaning(t, turned)) {
		t.Errorf("%s: %s=%s is another plan by --set than in the text", file, k.Path, k.Worded(value))
	}
	again := Of(sources.All())
	i := slices.IndexFunc(again, func(a Knob) bool { return a.Path == k.Path })
	if i < 0 || math.Abs(again[i].Value-value) > 1e-9 || again[i].Unit != k.Unit {
		t.Errorf("%s: %s reads %+v once it was turned to %g", file, k.Path, again[max(i, 0)], value)
	}
}

func write(t *testing.T, file string, data []byte) {
	t.Helper()
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// copies is a plan in a folder of its own, with all that may be beside it.
func copies(t *testing.T, file string) string {
	t.Helper()
	dir := t.TempDir()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(dir, e.Name()), data)
	}
	return filepath.Join(dir, filepath.Base(file))
}

// TestScales: ranges hold the value, have steps, and stay within the bounds of the keys.
func TestScales(t *testing.T) {
	for _, file := range plans(t) {
		_, sources, _ := read(t, file)
		for _, k := range Of(sources.All()) {
			count := (k.Value - k.Least) / k.Step
			switch {
			case k.Step <= 0 || k.Least > k.Value || k.Value > k.Most || k.Least == k.Most && !k.Whole:
				t.Errorf("%s: %+v", file, k)
			case math.Abs(count-math.Round(count)) > 1e-6:
				t.Errorf("%s: %s at %g is between two steps of %g from %g", file, k.Path, k.Value, k.Step, k.Least)
			case k.Group == "" || k.Name == "" || strings.Contains(k.Name, "_"):
				t.Errorf("%s: %s is called %q of %q", file, k.Path, k.Name, k.Group)
			}
		}
	}
}

const sample = `format: gridferry plan 1
cell:
  frames: {bath: {at: [1, 2 cm, "3 mm"], quaternion: [1, 0, 0, 0]}}
grids:
  tray: &tray
    rows: 4     # rows stay
    columns: 12
    pitch: [9, 9.5]
    motion: {speed: {near: 0.25 m/s}, approach: 40 mm}
  rack: {<<: *tray, columns: 3}
  nest: *tray
end: [{dwell: 1e3}, {dwell: 90 s}, {set: {output: 4, level: on}}]
`

// TestKnobs: which figures of a text are knobs, and how they are called.
func TestKnobs(t *testing.T) {
	var got []string
	for _, k := range Of(maps.All(map[string]string{"p.yaml": sample})) {
		text, _ := json.Marshal([]any{k.Group, k.Name, k.Path, k.Line, k.Column, k.End, k.Text, k.Unit, k.Least, k.Most, k.Step, k.Worded(k.Value + k.Step)})
		got = append(got, string(text))
	}
	wanted := strings.Split(strings.TrimSpace(`
["grid tray","rows","grids.tray.rows",6,11,12,"4","",1,14,1,"5"]
["grid tray","columns","grids.tray.columns",7,14,16,"12","",1,24,1,"13"]
["grid tray","pitch column to column","grids.tray.pitch.1",8,13,14,"9","mm",-41,59,1,"10"]
["grid tray","pitch row to row","grids.tray.pitch.2",8,16,19,"9.5","mm",4.5,14.5,0.1,"9.6"]
["grid tray","motion speed near","grids.tray.motion.speed.near",9,28,32,"0.25","m/s",0.005,0.5,0.005,"0.255"]
["grid tray","motion approach","grids.tray.motion.approach",9,49,51,"40","mm",1,80,1,"41"]
["grid rack","columns","grids.rack.columns",10,30,31,"3","",1,13,1,"4"]
["end","2 dwell","end.2.dwell",12,29,31,"90","s",0.1,180,0.1,"90.1"]
["frame bath","at x","cell.frames.bath.at.1",3,24,25,"1","mm",-49,51,1,"2"]
["frame bath","at y","cell.frames.bath.at.2",3,27,28,"2","cm",-3,7,0.1,"2.1"]
["frame bath","at z","cell.frames.bath.at.3",3,34,35,"3","mm",-47,53,1,"4"]
`), "\n")
	if !slices.Equal(got, wanted) {
		t.Errorf("got\n%s\nwanted\n%s", strings.Join(got, "\n"), strings.Join(wanted, "\n"))
	}
}

// TestEveryDimensionHasAStep: a figure of a dimension that was added later can be turned, too.
func TestEveryDimensionHasAStep(t *testing.T) {
	for d := unit.Dimension(1); d.Base() != ""; d++ {
		if steps[d] <= 0 {
			t.Errorf("%s has no step", d)
		}
	}
}

// TestManyKnobs: there are so many and no more, of a broken text none.
func TestManyKnobs(t *testing.T) {
	many := "format: gridferry plan 1\ngrids:\n" + strings.Repeat("  - {rows: 3}\n", 3)
	var b strings.Builder
	b.WriteString("format: gridferry plan 1\ntransfers:\n")
	for range 5000 {
		b.WriteString("  - {from: a, to: b, take: 3}\n")
	}
	if got := Of(maps.All(map[string]string{"p.yaml": b.String()})); len(got) != most {
		t.Error(len(got))
	}
	for _, text := range []string{many, "format: gridferry plan 1\ngrids: {", "", "[]", "format: gridferry variants 1\nvariants: []"} {
		if got := Of(maps.All(map[string]string{"p.yaml": text})); len(got) != 0 {
			t.Errorf("%q: %+v", text, got)
		}
	}
}

// BenchmarkOf: the knobs of a demo and its cell, which the live page asks for with every draft.
func BenchmarkOf(b *testing.B) {
	_, sources, _ := read(b, filepath.Join(folder, "mortar-cubes.plan.yaml"))
	for b.Loop() {
		if len(Of(sources.All())) == 0 {
			b.Fatal("none")
		}
	}
}
