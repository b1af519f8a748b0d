package route

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// every calls try with each arrangement of nodes that keeps the classes.
func every(p *Problem, try func(path []int)) {
	path := make([]int, 0, len(p.Class))
	used := make([]bool, len(p.Class))
	var next func()
	next = func() {
		at := len(path)
		if at == len(p.Class) {
			try(path)
			return
		}
		for node := range p.Class {
			if !used[node] && p.Class[node] == p.Class[at] {
				used[node] = true
				path = append(path, node)
				next()
				path, used[node] = path[:at], false
			}
		}
	}
	next()
}

// layered is a random problem: positions alternate, some stay fixed, and classes
// change on the way as layers do.
func layered(r *rand.Rand, n int) *Problem {
	at := make([][2]float64, n+2)
	for i := range at {
		at[i] = [2]float64{1000 * r.Float64(), 1000 * r.Float64()}
	}
	apart := func(a, b int) int64 { return int64(math.Hypot(at[a][0]-at[b][0], at[a][1]-at[b][1])) }
	p := &Problem{Class: make([]int32, n), Period: 2, Cost: apart}
	turn := r.IntN(n)
	for i := range n {
		p.Class[i] = int32(i % 2)
		if i > turn {
			p.Class[i] += 2 * int32(r.IntN(2))
		}
		if r.IntN(6) == 0 {
			p.Class[i] = int32(100 + i)
		}
	}
	if r.IntN(2) == 0 {
		p.First = func(a int) int64 { return apart(n, a) }
	}
	if r.IntN(2) == 0 {
		p.Last = func(a int) int64 { return apart(a, n+1) }
	}
	return p
}

// The exact answer is the best of all arrangements, the search is never below it,
// and the bound never above it.
func TestAgainstEveryArrangement(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	for n := range 160 {
		p := layered(r, 2+n%8)
		best := int64(math.MaxInt64)
		every(p, func(path []int) { best = min(best, p.Length(path)) })
		got := p.Solve()
		checkPermutation(t, p, got.Path)
		if got.Cost != best || !got.Exact || p.Length(got.Path) != best {
			t.Fatalf("%d: %d (exact %t, recounted %d), the best of all is %d\n%v", n, got.Cost, got.Exact, p.Length(got.Path), best, p.Class)
		}
		row := newRow(p)
		if len(row.class) > 0 {
			found := row.answer(row.find(nil), false)
			checkPermutation(t, p, found.Path)
			if found.Cost < best || found.Cost > p.Length(count(len(p.Class))) {
				t.Fatalf("%d: the search says %d, the best of all is %d", n, found.Cost, best)
			}
		}
		if bound, _ := p.Bound(got.Cost); bound > best {
			t.Fatalf("%d: the bound %d is above the best of all, %d", n, bound, best)
		}
	}
}

// An assignment is never beaten by any permutation, in any number of columns.
func TestAssignAgainstEveryPermutation(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 2))
	for range 300 {
		rows := 1 + r.IntN(5)
		columns := rows + r.IntN(3)
		costs := randomCosts(r, rows, columns)
		to, total := Assign(rows, columns, func(i, j int) int64 { return costs[i][j] })
		best := int64(math.MaxInt64)
		var next func(i int, used int, sum int64)
		next = func(i, used int, sum int64) {
			if i == rows {
				best = min(best, sum)
				return
			}
			for j := range columns {
				if used>>j&1 == 0 {
					next(i+1, used|1<<j, sum+costs[i][j])
				}
			}
		}
		next(0, 0, 0)
		checkAssignment(t, costs, to, total)
		if total != best {
			t.Fatalf("%v: %d, the best of all is %d", costs, total, best)
		}
	}
}

func randomCosts(r *rand.Rand, rows, columns int) [][]int64 {
	costs := make([][]int64, rows)
	for i := range costs {
		for range columns {
			costs[i] = append(costs[i], int64(r.IntN(2000))-500)
		}
	}
	return costs
}

func checkAssignment(t *testing.T, costs [][]int64, to []int, total int64) {
	t.Helper()
	sum := int64(0)
	for i, j := range to {
		sum += costs[i][j]
	}
	unique := slices.Compact(slices.Sorted(slices.Values(to)))
	if sum != total || len(unique) != len(costs) {
		t.Fatalf("%v: columns %v, total %d, recounted %d", costs, to, total, sum)
	}
}

// Large problems: classes are kept, no start is made worse, the same problem has
// the same answer, and the bound holds the search to a few per cent.
func TestSearchOfLargeProblems(t *testing.T) {
	t.Parallel()
	sizes := []int{12, 60}
	if testing.Short() {
		sizes = sizes[:1]
	}
	for _, parts := range sizes {
		p := scattered(parts, 3)
		for i := range p.Class { // two layers each, taken and filled in turn
			p.Class[i] = int32(i%2) + 2*int32(i/parts)
		}
		start := count(2 * parts)
		for i := 0; i+2 < parts; i += 2 {
			start[i], start[i+2] = start[i+2], start[i]
		}
		got, again := p.Solve(start), p.Solve(start)
		checkPermutation(t, p, got.Path)
		if !slices.Equal(got.Path, again.Path) {
			t.Errorf("%d parts: two answers to one problem", parts)
		}
		if got.Cost > p.Length(start) || got.Cost != p.Length(got.Path) {
			t.Errorf("%d parts: %d, started with %d, recounted %d", parts, got.Cost, p.Length(start), p.Length(got.Path))
		}
		bound, _ := p.Bound(got.Cost)
		t.Logf("%d parts: %.2f %% above the bound", parts, 100*float64(got.Cost-bound)/float64(bound))
		if bound > got.Cost || bound < got.Cost*9/10 {
			t.Errorf("%d parts: the bound is %d below %d", parts, bound, got.Cost)
		}
	}
}

// Where only one side may change it is an assignment, and exact at any size.
func TestOneSideAloneIsExact(t *testing.T) {
	p := scattered(100, 5)
	for i := 0; i < len(p.Class); i += 2 {
		p.Class[i] = int32(1000 + i)
	}
	got := p.Solve()
	if !got.Exact {
		t.Error("not exact")
	}
	checkPermutation(t, p, got.Path)
	if bound, _ := p.Bound(got.Cost); bound > got.Cost {
		t.Errorf("the bound %d is above the optimum %d", bound, got.Cost)
	}
	for i := 1; i < len(p.Class); i += 2 { // no two places can change for the better
		for j := 1; j < i; j += 2 {
			other := slices.Clone(got.Path)
			other[i], other[j] = other[j], other[i]
			if p.Length(other) < got.Cost {
				t.Fatalf("%d and %d changed make it shorter", i, j)
			}
		}
	}
}
