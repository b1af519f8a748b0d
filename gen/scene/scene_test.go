package scene_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/scene"
	"gridferry/plan"
)

// large is bounds that no demo reaches.
var large = scene.Options{Moves: 60_000, Slots: 150_000, Joints: true}

// demos are the demo plans, read, by name.
func demos(t testing.TB) map[string]*gen.Job {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "demo", "*.plan.yaml"))
	if err != nil || len(files) < 15 {
		t.Fatal(len(files), err)
	}
	jobs := map[string]*gen.Job{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		jobs[strings.TrimSuffix(filepath.Base(file), ".plan.yaml")] = read(t, plan.Source{File: filepath.Base(file), Data: data, Dir: filepath.Dir(file)})
	}
	return jobs
}

func read(t testing.TB, source plan.Source) *gen.Job {
	t.Helper()
	j := new(gen.Job)
	if !j.Read(source, nil, layout.Options{}) {
		t.Fatal(j.Findings.Sorted())
	}
	return j
}

// shown is a job's scene, written and read.
func shown(t testing.TB, j *gen.Job, o scene.Options) *scene.Scene {
	t.Helper()
	var text bytes.Buffer
	if err := j.Scene(&text, nil, o); err != nil {
		t.Fatal(err)
	}
	s := new(scene.Scene)
	d := json.NewDecoder(&text)
	d.DisallowUnknownFields()
	if err := d.Decode(s); err != nil {
		t.Fatal(err)
	}
	return s
}

// TestSlotsAreWhereMovesGo: the scene's tool stands where the list's does, and at every grip and release the TCP that
// works is at the slot of the scene: exactly, or as far off as a zone beside the one at its slot may be, or as a part
// may be dropped.
func TestSlotsAreWhereMovesGo(t *testing.T) {
	for name, j := range demos(t) {
		s := shown(t, j, large)
		where, works := places(s), 0
		var at move.Move // the last motion
		for m := range j.Moves() {
			if m.Kind.IsMotion() || m.Shifts {
				at = m
			}
			i := m.N - 1
			if at.N > 0 && (vec(s.Moves.At, i).Dist(at.Base.Vec) > 0.001 || s.Moves.Tool[i] != int32(at.ToolNumber-1)) {
				t.Fatalf("%s: after move %d the tool %d is at %v of the list, and %d at %v of the scene", name, m.N, at.ToolNumber-1, at.Base.Vec, s.Moves.Tool[i], vec(s.Moves.At, i))
			}
			if !m.Takes() && !m.Puts() {
				continue
			}
			works++
			by := j.Layout.Tools[m.ToolNumber-1]
			stands := by.At(j.Layout.Tools[at.ToolNumber-1], at.Base)
			grid, slot, off := s.Grids[s.Moves.Slot[2*i]], where[s.Moves.Slot[2*i]][s.Moves.Slot[2*i+1]], 0.001
			if m.Puts() {
				off += j.Layout.FiguresOf(&m).ReleaseAbove.V
			}
			if m.Group > 0 {
				off += layout.ZoneOff
			}
			if grid.Name != m.Target.Grid || slot.Dist(stands.Vec) > off {
				t.Fatalf("%s: move %d works at %s, %v, and in the scene at %s, %v", name, m.N, m.Target, stands.Vec, grid.Name, slot)
			}
		}
		if works == 0 {
			t.Errorf("%s: nothing was looked at", name)
		}
	}
}

// places are the slots of all grids by their indexes.
func places(s *scene.Scene) (all []map[int32]geom.Vec) {
	for _, g := range s.Grids {
		of := map[int32]geom.Vec{}
		for n := range len(g.At) / 3 {
			i := int32(n)
			if !g.Whole {
				i = g.Index[n]
			}
			of[i] = vec(g.At, n)
		}
		all = append(all, of)
	}
	return all
}

func vec(flat []float64, i int) geom.Vec {
	return geom.Vec{X: flat[3*i], Y: flat[3*i+1], Z: flat[3*i+2]}
}
