package render_test

import (
	"io"
	"io/fs"
	"testing"

	"gridferry/gen/family"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/render"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
	"gridferry/templates"
)

// manyMoves is n moves of a made-up job, never held as a list.
func manyMoves(n int) move.Seq {
	down := geom.RPY{Roll: 180}
	kinds := []move.Kind{move.Travel, move.Straight, move.Grip, move.Dwell, move.Straight, move.Travel, move.Straight, move.Release, move.Dwell, move.Straight}
	return func(yield func(move.Move) bool) {
		for i := range n {
			x, y := float64(i%97)*3.7, float64(i%89)*-2.3
			m := move.Move{
				N: i + 1, Transfer: i/10 + 1, Leg: 1, Kind: kinds[i%10],
				Target: move.Target{Grid: "tray", Slot: slot.Slot{Row: int32(i % 26), Col: int32(i % 12)}},
				Frame:  "base", FrameNumber: 1, Tool: "jaw", ToolNumber: 1, Load: 0.85,
				At: move.Point{Vec: geom.Vec{X: x, Y: y, Z: 95.5}, RPY: down}, Base: move.Point{Vec: geom.Vec{X: x, Y: y, Z: 95.5}, RPY: down},
				Speed: 500, Signal: 1, Seconds: 0.3, Place: diag.Place{File: "p.yaml", Line: 31, Col: 5},
			}
			if !yield(m) {
				return
			}
		}
	}
}

func BenchmarkRender(b *testing.B) {
	const n = 100_000
	for _, name := range templates.Names() {
		b.Run(name, func(b *testing.B) {
			sub, err := fs.Sub(templates.FS, name)
			if err != nil {
				b.Fatal(err)
			}
			f, _ := family.Load(sub, name, new(diag.List), nil)
			b.ReportAllocs()
			for b.Loop() {
				var list diag.List
				if err := render.Program(io.Discard, f.Blocks, benchJob(), move.Batched(manyMoves(n)), &list); err != nil || list.Len() > 0 {
					b.Fatal(err, found(&list))
				}
			}
		})
	}
}
