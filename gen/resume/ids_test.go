package resume_test

import (
	"os"
	"path/filepath"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/resume"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// named is a plan of parts of two kinds with ids: a worklist, and a chain that takes some of them on.
const named = `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  poses: {clear: {at: [300, 0, 300]}}
parts: {p: {mass: 0.1, size: [10, 10, 10]}, q: {mass: 0.3, size: [10, 10, 30]}}
grids:
  tray: {frame: base, rows: 1, columns: 4, pitch: [40, 0], first: [200, 0, 20], contents: tray.csv}
  rack: {frame: base, rows: 1, columns: 4, pitch: [40, 0], first: [200, 100, 20]}
  bath: {frame: base, rows: 1, columns: 4, pitch: [40, 0], first: [200, 200, 20]}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}, clear: clear}
transfers:
  - list: work.csv
  - {chain: ["rack A1, A2", "bath A4, A1", "tray A1, A2"]}
`

func TestResumedJobsKnowWhichPartIsWhich(t *testing.T) {
	folder := t.TempDir()
	for name, text := range map[string]string{
		"tray.csv": "slot,id,part\nA1,P-1,p\nA2,Q-2,q\nA3,P-3,p\n",
		"work.csv": "from,to\ntray A3,rack A4\ntray A2,rack A1\ntray A1,rack A2\n",
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	// Which part is where before each transfer, written down by hand; the first slot is the one that it leaves.
	states := []map[string]string{
		{"tray A3": "P-3", "tray A2": "Q-2", "tray A1": "P-1"},
		{"tray A2": "Q-2", "rack A4": "P-3", "tray A1": "P-1"},
		{"tray A1": "P-1", "rack A4": "P-3", "rack A1": "Q-2"},
		{"rack A1": "Q-2", "rack A2": "P-1", "rack A4": "P-3"},
		{"rack A2": "P-1", "bath A4": "Q-2", "rack A4": "P-3"},
		{"bath A4": "Q-2", "bath A1": "P-1", "rack A4": "P-3"},
		{"bath A1": "P-1", "tray A1": "Q-2", "rack A4": "P-3"},
	}
	taken := []string{"tray A3", "tray A2", "tray A1", "rack A1", "rack A2", "bath A4", "bath A1"}
	mass := map[string]float64{"P-1": 1.1, "Q-2": 1.3, "P-3": 1.1}
	for i, want := range states {
		for _, holding := range []bool{false, true} {
			var list diag.List
			l := layout.Resolve(plan.Read(plan.Source{File: "p", Data: []byte(named), Dir: folder}, nil, &list, new(diag.Sources)), layout.Options{}, &list)
			if list.HasErrors() {
				t.Fatal(list.Sorted())
			}
			state, start := resume.Prepare(l, resume.Request{Transfer: i + 1, Holding: holding}, &list)
			if list.HasErrors() || state.ID == nil || *state.ID != want[taken[i]] {
				t.Fatalf("transfer %d: %v, the part %v", i+1, list.Sorted(), state.ID)
			}
			now := l.Follow()
			for _, g := range l.Grids {
				for k := range g.Size() {
					at, id := g.Name+" "+g.Label(g.Slot(k)), ""
					if p := now.ID(g, k); p != nil {
						id = *p
					}
					if wanted := want[at]; holding && at == taken[i] && id != "" || !(holding && at == taken[i]) && id != wanted {
						t.Errorf("transfer %d, holding %t: %q is in %q, wanted %q", i+1, holding, id, at, wanted)
					}
				}
			}
			heaviest := 0.0
			for m := range expand.Rest(l, start) {
				if m.Transfer == i+1 {
					heaviest = max(heaviest, m.Load)
				}
			}
			if heaviest != mass[*state.ID] {
				t.Errorf("transfer %d, holding %t: the load is %g kg at most, wanted that of %s", i+1, holding, heaviest, *state.ID)
			}
		}
	}
}
