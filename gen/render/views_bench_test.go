package render

import (
	"io/fs"
	"os"
	"testing"

	"gridferry/gen/family"
	"gridferry/gen/family/blocks"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
	"gridferry/templates"
)

// benchCycle is what one transfer is made of, as gen/expand makes it.
var benchCycle = []struct {
	kind   move.Kind
	lifted bool
	load   float64
}{
	{move.Travel, true, 0.8},
	{move.Straight, false, 0.8},
	{move.Grip, false, 0.8},
	{move.Dwell, false, 0.8},
	{move.Select, false, 0.82},
	{move.Straight, true, 0.82},
	{move.Travel, true, 0.82},
	{move.Straight, false, 0.82},
	{move.Release, false, 0.82},
	{move.Dwell, false, 0.82},
	{move.Select, false, 0.8},
	{move.Straight, true, 0.8},
}

// forEachMove gives n moves from tray to tray, each in the same storage.
func forEachMove(n int, do func(*move.Move)) {
	m := move.Move{Frame: "base", FrameNumber: 1, Tool: "jaw", ToolNumber: 1, Leg: 1, Signal: 1, Seconds: 0.3, Place: diag.Place{File: "p.yaml", Line: 17, Col: 5}}
	m.At.RPY, m.Base.RPY = geom.RPY{Roll: 180}, geom.RPY{Roll: 180}
	for i := range n {
		k, transfer := i%len(benchCycle), i/len(benchCycle)
		step := benchCycle[k]
		m.N, m.Transfer, m.Kind, m.Load = i+1, transfer+1, step.kind, step.load
		m.Target = move.Target{Grid: "a", Slot: slot.Slot{Row: int32(transfer / 100), Col: int32(transfer % 100)}, Approach: step.lifted}
		first, height := 200.0, 20.0
		if k >= 6 {
			m.Target.Grid, first, height = "b", 2500.5, 30
		}
		if step.lifted {
			height += 100
		}
		m.Speed, m.FlyBy = 80, 0
		if step.kind == move.Travel {
			m.Speed, m.FlyBy = 500, 15
		}
		m.At.Vec = geom.Vec{X: first + float64(18.5*float64(transfer%100)), Y: 100 + float64(21.25*float64(transfer/100)), Z: height}
		m.Base.Vec = m.At.Vec
		do(&m)
	}
}

// benchFamilies are the shipped ones that write moves, and that of golden/bench.
func benchFamilies(b testing.TB) map[string]*blocks.Blocks {
	b.Helper()
	all := map[string]*blocks.Blocks{}
	for _, name := range append(templates.Names(), "bench") {
		files, err := fs.Sub(templates.FS, name)
		if name == "bench" {
			files, err = os.DirFS("../../golden/bench/family"), nil
		}
		if err != nil {
			b.Fatal(err)
		}
		f, ok := family.Load(files, name, new(diag.List), nil)
		if !ok {
			b.Fatal(name)
		}
		if !f.Rules.Loops {
			all[name] = f.Blocks
		}
	}
	return all
}

func benchViewer(f *blocks.Blocks) *viewer {
	return newViewer(f, move.Job{
		Plan: "trays.plan.yaml", Speed: 1000,
		Frames: []move.Frame{{Number: 1, Name: "base"}}, Tools: []move.Tool{{Number: 1, Name: "jaw"}},
	})
}

// BenchmarkViews is what a view costs, and the view with the block that prints it.
func BenchmarkViews(b *testing.B) {
	const n = 12_000
	for name, f := range benchFamilies(b) {
		v, p := benchViewer(f), f.NewPrinter()
		run := func(b *testing.B, print bool) {
			b.ReportAllocs()
			for b.Loop() {
				forEachMove(n, func(m *move.Move) {
					view, err := v.of(m)
					if err == nil && print {
						_, err = p.Print(m.Kind.String(), view)
					}
					if err != nil {
						b.Fatal(err)
					}
				})
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/move")
		}
		b.Run(name+"/view", func(b *testing.B) { run(b, false) })
		b.Run(name+"/block", func(b *testing.B) { run(b, true) })
	}
}
