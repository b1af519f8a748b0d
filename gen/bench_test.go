package gen_test

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"

	"gridferry/gen"
	"gridferry/gen/expand"
	"gridferry/gen/family"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/timing"
	"gridferry/plan"
)

// benchJob is the benchmark's plan with so many rows of a hundred slots; a row is
// 1200 moves.
func benchJob(b *testing.B, rows int) *gen.Job {
	b.Helper()
	text, err := os.ReadFile(filepath.Join("..", "golden", "bench", "trays.plan.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	var settings []plan.Setting
	for _, grid := range []string{"a", "b"} {
		settings = append(settings, plan.Setting{Path: "grids." + grid + ".rows", Value: fmt.Sprint(rows)})
	}
	j := new(gen.Job)
	if !j.Read(plan.Source{File: "trays.plan.yaml", Data: text, Dir: "."}, settings, layout.Options{}) {
		b.Fatal(j.Findings.Sorted())
	}
	return j
}

func benchFamily(b *testing.B, j *gen.Job) *family.Family {
	b.Helper()
	f, ok := j.LoadFamily(os.DirFS(filepath.Join("..", "golden", "bench", "family")), "family")
	if !ok {
		b.Fatal(j.Findings.Sorted())
	}
	return f
}

// BenchmarkStages is what each stage costs a move: the list alone, then what is
// done with it.
func BenchmarkStages(b *testing.B) {
	const rows = 84
	j := benchJob(b, rows)
	f := benchFamily(b, j)
	stages := []struct {
		name string
		run  func() error
	}{
		{"expand", func() error {
			for range expand.Batches(j.Layout, expand.Whole) {
			}
			return nil
		}},
		{"count", func() error { move.Count(j.Batches()); return nil }},
		{"check", func() error { j.Check(); return nil }},
		{"time", func() error {
			timing.Measure(j.Batches(), timing.Machine{Acceleration: 2500})
			return nil
		}},
		{"csv", func() error { return move.WriteCSV(io.Discard, 0, j.Batches()) }},
		{"manifest", func() error { return j.Manifest(nil).WriteCSV(io.Discard) }},
		{"write", func() error { return j.Write(io.Discard, f) }},
	}
	for _, s := range stages {
		b.Run(s.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := s.run(); err != nil || j.Findings.HasErrors() {
					b.Fatal(err, j.Findings.Sorted())
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/(1200*rows), "ns/move")
		})
	}
}

// BenchmarkArm is what reading and checking cost a move of two full plates, without the cell's arm and with it.
func BenchmarkArm(b *testing.B) {
	const anArm = `
  arm:
    joints:
      - {axis: [0, 0, 1], point: [0, 0, 0], range: [-170, 170], speed: 200}
      - {axis: [0, 1, 0], point: [60, 0, 300], range: [-100, 130], speed: 200}
      - {axis: [0, 1, 0], point: [60, 0, 620], range: [-200, 70], speed: 200}
      - {axis: [1, 0, 0], point: [60, 0, 660], range: [-185, 185], speed: 300}
      - {axis: [0, 1, 0], point: [400, 0, 660], range: [-120, 120], speed: 300}
      - {axis: [1, 0, 0], point: [400, 0, 660], range: [-350, 350], speed: 400}
    flange: {at: [480, 0, 660], rpy: [0, 90, 0]}`
	for _, cell := range []struct{ name, arm string }{{"without", ""}, {"with", anArm}} {
		text := `format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 90]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  poses: {clear: {at: [420, 0, 300]}}` + cell.arm + `
parts: {peg: {mass: 0.1}}
grids:
  a: {frame: base, rows: 84, columns: 84, pitch: [1.5, 1.5], first: [350, -160, 60], part: peg, filled: all}
  b: {frame: base, rows: 84, columns: 84, pitch: [1.5, 1.5], first: [350, 10, 60], part: peg}
motion: {tool: jaw, approach: 30, speed: {travel: 500, near: 60}, clear: clear}
transfers: [{from: a, to: b}]
`
		b.Run(cell.name, func(b *testing.B) {
			b.ReportAllocs()
			var j *gen.Job
			for b.Loop() {
				j = new(gen.Job)
				if !j.Read(plan.Source{File: "plates.plan.yaml", Data: []byte(text), Dir: "."}, nil, layout.Options{}) || !j.Check() {
					b.Fatal(j.Findings.Sorted())
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(j.Counts().Moves), "ns/move")
		})
	}
}
