package plan_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/golden/outside"
	"gridferry/plan"
	"gridferry/plan/diag"
)

const jawBody = "mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}"

// readCell reads a plan whose cell and measured values are files of the folder
// "below", and gives the cell with what was found.
func readCell(t *testing.T, cell, measured string, settings ...string) (*plan.Cell, []diag.Finding) {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"below/cell.yaml": "format: gridferry cell 1\nmeasured: now.yaml\n" + cell,
		"below/now.yaml":  "format: gridferry measured 1\n" + measured,
		"below/old.yaml":  "format: gridferry measured 1\nframes: {bath: {at: [9, 9, 9]}}\n",
	} {
		if err := os.MkdirAll(filepath.Join(dir, "below"), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	text := "format: gridferry plan 1\ncell: below/cell.yaml\ngrids: {}\nmotion: {tool: jaw, approach: 50, speed: {travel: 100, near: 50}}\ntransfers: []\n"
	return readPlan(t, dir, text, settings...)
}

func readPlan(t *testing.T, dir, text string, settings ...string) (*plan.Cell, []diag.Finding) {
	t.Helper()
	var all []plan.Setting
	for _, s := range settings {
		path, value, _ := strings.Cut(s, "=")
		all = append(all, plan.Setting{Path: path, Value: value})
	}
	var list diag.List
	var sources diag.Sources
	p := plan.Read(plan.Source{File: "p.yaml", Data: []byte(text), Dir: dir}, all, &list, &sources)
	return p.Cell, list.Sorted()
}

func none(t *testing.T, findings []diag.Finding) {
	t.Helper()
	for _, f := range findings {
		t.Errorf("%s: %s [%s]", f.Place, f.Message, f.Rule)
	}
}

// What was measured takes the place of what the cell says, key by key; where a frame
// is counts as one. Everything keeps the place in its own file.
func TestMeasuredValuesLieOverTheCell(t *testing.T) {
	c, findings := readCell(t,
		"tools: {jaw: {tcp: {at: [0, 0, 100]}, "+jawBody+"}}\nframes:\n  table: {at: [1, 2, 3]}\n  bath: {parent: table, at: [4, 5, 6], rpy: [0, 0, 90]}\n  rack:\n",
		"tools: {jaw: {tcp: {at: [0, 0, 101]}}}\nframes:\n  bath: {three_points: {origin: [0, 0, 0], along_x: [9, 0, 0], toward_y: [0, 9, 0]}}\n  rack: {at: [7, 8, 9]}\n")
	none(t, findings)
	jaw, table, bath, rack := c.Tools[0], c.Frames[0], c.Frames[1], c.Frames[2]
	if jaw.TCP.At.V != [3]float64{0, 0, 101} || jaw.Mass.V != 1 {
		t.Errorf("jaw: got %+v", jaw)
	}
	if table.Pose.At.V != [3]float64{1, 2, 3} || rack.Pose.At.V != [3]float64{7, 8, 9} {
		t.Errorf("table, rack: got %+v, %+v", table.Pose, rack.Pose)
	}
	if bath.ThreePoints == nil || bath.Pose.At.IsSet() || bath.Pose.RPY.IsSet() || bath.Parent.V != "table" {
		t.Errorf("bath: got %+v", bath)
	}
	for what, place := range map[string]diag.Place{"jaw": jaw.TCP.At.Place, "bath": bath.ThreePoints.Place, "rack": rack.Pose.At.Place} {
		if filepath.Base(place.File) != "now.yaml" {
			t.Errorf("%s: got the place %s, want one in now.yaml", what, place)
		}
	}
}

// A setting goes to where the value in force stands.
func TestSettingsReachMeasuredValues(t *testing.T) {
	const cell = "tools: {jaw: {tcp: {at: [0, 0, 100]}, " + jawBody + "}}\nframes: {bath: {at: [4, 5, 6]}}\n"
	const measured = "frames: {bath: {at: [40, 50, 60]}}\n"
	for setting, want := range map[string][3]float64{
		"cell.frames.bath.at=[1, 2, 3]":   {1, 2, 3},
		"cell.frames.bath.at.2=7":         {40, 7, 60},
		"cell.frames.bath={at: [1,1,1]}":  {1, 1, 1},
		"cell.tools.jaw.mass=2":           {40, 50, 60},
		"cell.measured=old.yaml":          {9, 9, 9},
		"cell.frames.bath.at.3=0.25 in":   {40, 50, 6.35},
		"cell.tools.jaw.tcp.at=[0, 0, 9]": {40, 50, 60},
	} {
		c, findings := readCell(t, cell, measured, setting)
		none(t, findings)
		if got := c.Frames[0].Pose.At.V; got != want {
			t.Errorf("%s: got %v, want %v", setting, got, want)
		}
	}
}

// A setting that what was measured hides is not passed over.
func TestHiddenSettingIsTold(t *testing.T) {
	_, findings := readCell(t, "tools: {jaw: {tcp: {at: [0, 0, 100]}, "+jawBody+"}}\nframes: {bath: {at: [4, 5, 6]}}\n",
		"frames: {bath: {three_points: {origin: [0, 0, 0], along_x: [9, 0, 0], toward_y: [0, 9, 0]}}}\n", "cell.frames.bath.at.1=8")
	if len(findings) != 1 || findings[0].Rule != "set-hidden" || findings[0].Place.File != "--set[1]" {
		t.Errorf("got %+v", findings)
	}
}

// A cell in place may have a measured file, too; it lies beside the plan.
func TestMeasuredValuesOfACellInPlace(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "now.yaml"), []byte("format: gridferry measured 1\nframes: {bath: {at: [7, 8, 9]}}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	text := "format: gridferry plan 1\ncell:\n  measured: now.yaml\n  tools: {jaw: {tcp: {at: [0, 0, 100]}, " + jawBody + "}}\n  frames: {bath: {}}\ngrids: {}\nmotion: {tool: jaw, approach: 50, speed: {travel: 100, near: 50}}\ntransfers: []\n"
	c, findings := readPlan(t, dir, text, "cell.frames.bath.at.1=70", "cell.tools.jaw.mass=3")
	none(t, findings)
	if c.Frames[0].Pose.At.V != [3]float64{70, 8, 9} || c.Tools[0].Mass.V != 3 {
		t.Errorf("got %+v, %+v", c.Frames[0].Pose, c.Tools[0].Mass)
	}
}

// Neither the words of the path nor a link lead out of the plan's folder.
func TestMeasuredFileStaysInTheFolder(t *testing.T) {
	secret := filepath.Join(t.TempDir(), "secret.yaml")
	if err := os.WriteFile(secret, []byte("format: gridferry measured 1\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.Symlink(secret, filepath.Join(dir, "link.yaml")); err != nil {
		outside.Missing(t, err)
	}
	for _, name := range []string{"../x.yaml", secret, "link.yaml", "a/../../x.yaml", "."} {
		text := "format: gridferry plan 1\ncell:\n  measured: " + name + "\n  tools: {}\ngrids: {}\nmotion: {tool: jaw, approach: 50, speed: {travel: 100, near: 50}}\ntransfers: []\n"
		_, findings := readPlan(t, dir, text)
		if len(findings) != 1 || findings[0].Rule != "measured-unreadable" {
			t.Errorf("%s: got %+v", name, findings)
		}
	}
}
