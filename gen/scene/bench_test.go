package scene_test

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/plan"
)

// trays is the benchmark's plan of two trays with rows of a hundred slots, of which some parts go.
func trays(b *testing.B, rows, parts string) *gen.Job {
	data, err := os.ReadFile(filepath.Join("..", "..", "golden", "bench", "trays.plan.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	settings := []plan.Setting{{Path: "grids.a.rows", Value: rows}, {Path: "grids.b.rows", Value: rows}}
	if parts != "" {
		settings = append(settings, plan.Setting{Path: "transfers.1.take", Value: parts})
	}
	j := new(gen.Job)
	if !j.Read(plan.Source{File: "trays.plan.yaml", Data: data, Dir: "."}, settings, layout.Options{}) {
		b.Fatal(j.Findings.Sorted())
	}
	return j
}

// BenchmarkScene is what it takes from a plan that was read to the JSON of its scene, with the times of all moves.
func BenchmarkScene(b *testing.B) {
	all := demos(b)
	for _, c := range []struct {
		name   string
		job    *gen.Job
		joints bool
	}{
		{"24-slots", all["mortar-cubes"], false},
		{"24-slots-joints", all["mortar-cubes"], true},
		{"1536-slots", all["dense-plate"], false},
		{"20000-slots-few-moves", trays(b, "100", "40"), false},
		{"100000-slots-few-moves", trays(b, "500", "40"), false},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			o := large
			o.Joints = c.joints
			for b.Loop() {
				if err := c.job.Scene(io.Discard, nil, o); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(c.job.Counts().Moves), "moves")
		})
	}
}
