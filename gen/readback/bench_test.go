package readback_test

import (
	"fmt"
	"os"
	"slices"
	"testing"

	"gridferry/gen"
	"gridferry/gen/expand"
	"gridferry/gen/family"
	"gridferry/gen/move"
	"gridferry/gen/readback"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// benchRows of a hundred slots are 1200 moves each.
const benchRows = 10

// benchPlan is the benchmark's plan, see golden/bench.
const benchPlan = "../../golden/bench/trays.plan.yaml"

// BenchmarkChecker is what reading a program back costs a move, with the move list
// and the program made beforehand.
func BenchmarkChecker(b *testing.B) {
	rows := fmt.Sprint(benchRows)
	j := job(b, benchPlan, plan.Setting{Path: "grids.a.rows", Value: rows}, plan.Setting{Path: "grids.b.rows", Value: rows})
	moves := slices.Collect(expand.Moves(j.Layout))
	for _, f := range benchFamilies(b) {
		b.Run(f.Label, func(b *testing.B) {
			program, ok := write(b, j, f)
			if !ok {
				b.Fatal(told(&j.Findings))
			}
			b.ReportAllocs()
			for b.Loop() {
				checkOnce(b, f, j, moves, []byte(program))
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(moves)), "ns/move")
		})
	}
}

func benchFamilies(b *testing.B) []*family.Family {
	families := []*family.Family{load(b, os.DirFS("../../golden/bench/family"), "bench")}
	for _, name := range []string{"starter", "iso6983", "st", "listing"} {
		families = append(families, shipped(b, name))
	}
	return families
}

// checkOnce reads a program in pieces of 64 KiB, as it is written.
func checkOnce(b *testing.B, f *family.Family, j *gen.Job, moves []move.Move, program []byte) {
	var list diag.List
	c := readback.NewChecker(&f.Reads, tablesOf(j), slices.Chunk(moves, move.BatchSize), &list, nil)
	for piece := range slices.Chunk(program, 64<<10) {
		if _, err := c.Write(piece); err != nil {
			b.Fatal(err)
		}
	}
	if c.Close(); list.Len() > 0 {
		b.Fatal(told(&list))
	}
}

// tablesOf is what reading back asks of a job: its frames and tools.
func tablesOf(j *gen.Job) *move.Job {
	job := &move.Job{Speed: j.Layout.Cell.Machine.Speed.V, Place: j.Layout.Place}
	for _, f := range j.Layout.Frames {
		job.Frames = append(job.Frames, move.Frame{Number: f.Number, Name: f.Name, Base: move.Point{Vec: f.Base.T, RPY: f.Base.R.RPY()}})
	}
	for _, t := range j.Layout.Tools {
		job.Tools = append(job.Tools, move.Tool{
			Number: t.Number, Name: t.Name, TCP: move.Point{Vec: t.TCP.T, RPY: t.TCP.R.RPY()}, Mass: t.Mass, CentreOfGravity: t.CentreOfGravity,
		})
	}
	return job
}
