package route

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// scattered is parts that lie anywhere in a square and go anywhere in it, in µm:
// picks and places take turns.
func scattered(parts int, seed uint64) *Problem {
	r := rand.New(rand.NewPCG(seed, 1))
	at := make([][2]float64, 2*parts)
	p := &Problem{Class: make([]int32, 2*parts), Period: 2}
	for i := range at {
		at[i] = [2]float64{1e6 * r.Float64(), 1e6 * r.Float64()}
		p.Class[i] = int32(i % 2)
	}
	p.Cost = func(a, b int) int64 { return int64(math.Hypot(at[a][0]-at[b][0], at[a][1]-at[b][1])) }
	return p
}

func BenchmarkSolve(b *testing.B) {
	for _, parts := range []int{8, 24, 96, 384, 1024} {
		b.Run(fmt.Sprint(parts), func(b *testing.B) {
			p := scattered(parts, 1)
			var a Answer
			for b.Loop() {
				a = p.Solve()
			}
			b.ReportMetric(100*float64(a.Cost)/float64(p.Length(count(2*parts))), "%of-written")
			bound, _ := p.Bound(a.Cost)
			b.ReportMetric(100*float64(a.Cost)/float64(bound)-100, "%above-bound")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(a.Work), "ns/work")
		})
	}
}

func count(n int) []int {
	path := make([]int, n)
	for i := range path {
		path[i] = i
	}
	return path
}
