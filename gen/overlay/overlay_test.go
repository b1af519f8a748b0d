package overlay_test

import (
	"fmt"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/overlay"
	"gridferry/golden/corpus"
	"gridferry/plan"
)

const folder = "../../testdata/demo/"

func read(t *testing.T, file string, settings ...string) *layout.Layout {
	t.Helper()
	source, err := plan.Open(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	var all []plan.Setting
	for _, text := range settings {
		s, ok := plan.NewSetting(text)
		if !ok {
			t.Fatal(text)
		}
		all = append(all, s)
	}
	job := new(gen.Job)
	if !job.Read(source, all, layout.Options{}) {
		t.Fatalf("%s: %v", file, job.Findings.Sorted())
	}
	return job.Layout
}

func TestSlots(t *testing.T) {
	cubes := folder + "mortar-cubes.plan.yaml"
	for _, tt := range []struct{ set, wanted string }{
		{"title=other", ""},
		// The rack stands across: its X is the base's Y, its Y the base's -X. B3 of the tray is missing.
		{"grids.rack.first=[31, 30, 25]", "24 slots of rack: moved by X +0.000, Y +1.000, Z +0.000 mm in base coordinates"},
		{"grids.rack.rows=3", "6 slots of rack: only in the first"},
		{"grids.rack.rows=5", "6 slots of rack: only in the second"},
		{"grids.tray.missing=B4", "tray B4: only in the first; tray B3: only in the second"},
		{"grids.balance.first=[60, 60, 26.5]", "balance A1: moved by X +0.000, Y +0.000, Z +1.500 mm in base coordinates"},
		// Columns 2 to 6 go 1 to 5 mm along Y, in four rows each; the first stays.
		{"grids.rack.pitch=[61, 60]", "4 slots of rack: moved by X +0.000, Y +1.000, Z +0.000 mm in base coordinates; " +
			"4 slots of rack: moved by X +0.000, Y +2.000, Z +0.000 mm in base coordinates; 4 slots of rack: moved by X +0.000, Y +3.000, Z +0.000 mm in base coordinates; " +
			"4 slots of rack: moved by X +0.000, Y +4.000, Z +0.000 mm in base coordinates; 4 slots of rack: moved by X +0.000, Y +5.000, Z +0.000 mm in base coordinates"},
	} {
		if got := said(overlay.Slots(read(t, cubes), read(t, cubes, tt.set))); got != tt.wanted {
			t.Errorf("%s: %s", tt.set, got)
		}
	}
}

// TestManyWays: a grid that is turned has slots that go each its own way; there are not many shifts of it.
func TestManyWays(t *testing.T) {
	cubes := folder + "mortar-cubes.plan.yaml"
	got := overlay.Slots(read(t, cubes), read(t, cubes, "cell.frames.stand.rpy=[0, 0, 91]"))
	if last := got[len(got)-1]; len(got) != 13 || last.By != nil || last.Count != 12 || last.Most <= 0 || !strings.Contains(last.Text, "moved by up to") {
		t.Errorf("%d: %+v", len(got), got)
	}
}

// TestAlike: a plan laid over itself has no differences, and of two plans what the one has only, the other lacks.
func TestAlike(t *testing.T) {
	var before *layout.Layout
	for _, file := range corpus.Plans(t, folder) {
		l := read(t, file)
		if got := said(overlay.Slots(l, read(t, file))); got != "" {
			t.Errorf("%s: %s", file, got)
		}
		if before != nil {
			there, back := counts(overlay.Slots(before, l)), counts(overlay.Slots(l, before))
			if there["a"] != back["b"] || there["b"] != back["a"] || there[""] != back[""] {
				t.Errorf("%s: %v one way, %v the other", file, there, back)
			}
		}
		before = l
	}
}

func said(all []overlay.Shift) string {
	var texts []string
	for _, s := range all {
		texts = append(texts, s.Text)
	}
	return strings.Join(texts, "; ")
}

func counts(all []overlay.Shift) map[string]int {
	n := map[string]int{}
	for _, s := range all {
		n[s.Only] += s.Count
		if s.Count < len(s.Slots) {
			n[fmt.Sprint("bad ", s.Grid)]++
		}
	}
	return n
}
