package readback_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"testing"

	"gridferry/gen/family"
	"gridferry/gen/family/reads"
	"gridferry/gen/move"
	"gridferry/templates"
)

// FuzzReader: whatever a file holds, reading it ends, goes through its lines in
// order, and does not depend on the pieces that it comes in.
//
//fuzz:2s
func FuzzReader(f *testing.F) {
	var families []*family.Family
	for _, name := range templates.Names() {
		families = append(families, shipped(f, name))
	}
	j := job(f, demos+"/tube-rack.plan.yaml")
	for i, fam := range families {
		program, _ := write(f, j, fam)
		f.Add(uint8(i), []byte(program[:2000]))
		f.Add(uint8(i), []byte(program[len(program)-2000:]))
	}
	f.Add(uint8(0), []byte("N10 G0 X1(\r\n\r\rG4 P.5\n"))
	f.Fuzz(func(t *testing.T, which uint8, data []byte) {
		fam := families[int(which)%len(families)]
		whole := readAll(t, fam, data, len(data)+1)
		r := rand.New(rand.NewPCG(uint64(len(data)), 3))
		if pieces := readAll(t, fam, data, 1+r.IntN(9)); pieces != whole {
			t.Errorf("in pieces it reads as\n%s\nas a whole as\n%s", pieces, whole)
		}
	})
}

func readAll(t *testing.T, f *family.Family, data []byte, piece int) (all string) {
	last := 0
	r := reads.NewReader(&f.Reads, move.Job{}, func(item *reads.Item) {
		if item.Line <= last || len(item.Text) == 0 {
			t.Errorf("line %d %q comes behind line %d", item.Line, item.Text, last)
		}
		last = item.Line
		all += fmt.Sprintf("%d %d %v %q\n", item.Line, item.Means, item.Kind, item.Text)
	})
	for len(data) > 0 {
		n := min(piece, len(data))
		written := bytes.Clone(data[:n])
		r.Write(written)
		for i := range written { // a writer uses its bytes again
			written[i] = '!'
		}
		data = data[n:]
	}
	r.Close()
	return all
}

// BenchmarkWrite is writing with the reading back beside it; the benchmark of
// gen/render is the same without.
func BenchmarkWrite(b *testing.B) {
	for _, name := range templates.Names() {
		b.Run(name, func(b *testing.B) {
			f, j := shipped(b, name), job(b, demos+"/tube-rack.plan.yaml")
			moves := move.Count(j.Batches()).Moves
			for b.Loop() {
				write(b, j, f)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(moves), "ns/move")
		})
	}
}
