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
