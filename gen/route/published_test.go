package route

import (
	"math"
	"slices"
	"testing"
)

// Assignment problems with known answers. Several have one best answer only, and
// then it is compared column by column.
func TestKnownAssignments(t *testing.T) {
	for _, c := range []struct {
		source  string
		costs   [][]int64
		want    int64
		columns []int // counting from 1
	}{
		{"the classic 4 × 4, read in several open texts, recomputed",
			[][]int64{{82, 83, 69, 92}, {77, 37, 49, 92}, {11, 69, 5, 86}, {8, 9, 98, 23}}, 140, []int{3, 2, 1, 4}},
		{"a 3 × 3 from memory, recomputed", [][]int64{{4, 1, 3}, {2, 0, 5}, {3, 2, 2}}, 5, []int{2, 1, 3}},
		// Remembered as 5 + 3 + 4; 1 + 3 + 8 is as good.
		{"another from memory, recomputed", [][]int64{{5, 9, 1}, {10, 3, 2}, {8, 7, 4}}, 12, nil},
		{"5 workers and 4 tasks, from memory, recomputed; the tasks are the rows",
			[][]int64{{90, 35, 125, 45, 50}, {80, 85, 95, 110, 100}, {75, 55, 90, 95, 90}, {70, 65, 95, 115, 100}}, 265, nil},
		// H. Kuhn, Naval Research Logistics Quarterly 2, 1955, 83-97 (from memory):
		// ratings to be made as large as they can be, hence the minus.
		{"Kuhn 1955, ratings", [][]int64{{-8, -7, -9, -9}, {-5, -2, -7, -8}, {-6, -1, -4, -9}, {-2, -3, -2, -6}}, -27, []int{1, 3, 4, 2}},
		{"Kuhn 1955, qualification", [][]int64{{-1, -1, -1, 0}, {0, 0, -1, -1}, {0, 0, 0, -1}, {0, 0, 0, -1}}, -3, nil},
	} {
		to, total := Assign(len(c.costs), len(c.costs[0]), func(i, j int) int64 { return c.costs[i][j] })
		if total != c.want {
			t.Errorf("%s: %d, wanted %d", c.source, total, c.want)
		}
		for i, column := range c.columns {
			if to[i] != column-1 {
				t.Errorf("%s: columns %v, wanted %v counting from 1", c.source, to, c.columns)
				break
			}
		}
	}
}

// TSPLIB (G. Reinelt, ORSA Journal on Computing 3(4), 1991, 376-384): latitude and
// longitude as DDD.MM, read in a copy of the library.
var (
	burma14 = [][2]float64{
		{16.47, 96.10}, {16.47, 94.44}, {20.09, 92.54}, {22.39, 93.37}, {25.23, 97.24}, {22.00, 96.05}, {20.47, 97.02},
		{17.20, 96.29}, {16.30, 97.38}, {14.05, 98.12}, {16.53, 97.38}, {21.52, 95.59}, {19.41, 97.13}, {20.09, 94.55},
	}
	ulysses16 = [][2]float64{
		{38.24, 20.42}, {39.57, 26.15}, {40.56, 25.32}, {36.26, 23.12}, {33.48, 10.54}, {37.56, 12.19}, {38.42, 13.11}, {37.52, 20.44},
		{41.23, 9.10}, {41.17, 13.05}, {36.08, -5.21}, {38.47, 15.13}, {38.15, 15.35}, {37.51, 15.17}, {35.49, 14.32}, {39.36, 19.56},
	}
	// From memory, held by its optimum.
	gr17 = [][]int64{
		{0},
		{633, 0},
		{257, 390, 0},
		{91, 661, 228, 0},
		{412, 227, 169, 383, 0},
		{150, 488, 112, 120, 267, 0},
		{80, 572, 196, 77, 351, 63, 0},
		{134, 530, 154, 105, 309, 34, 29, 0},
		{259, 555, 372, 175, 338, 264, 232, 249, 0},
		{505, 289, 262, 476, 196, 360, 444, 402, 495, 0},
		{353, 282, 110, 324, 61, 208, 292, 250, 352, 154, 0},
		{324, 638, 437, 240, 421, 329, 297, 314, 95, 578, 435, 0},
		{70, 567, 191, 27, 346, 83, 47, 68, 189, 439, 287, 254, 0},
		{211, 466, 74, 182, 243, 105, 150, 108, 326, 336, 184, 391, 145, 0},
		{268, 420, 53, 239, 199, 123, 207, 165, 383, 240, 140, 448, 202, 57, 0},
		{246, 745, 472, 237, 528, 364, 332, 349, 202, 685, 542, 157, 289, 426, 483, 0},
		{121, 518, 142, 84, 297, 35, 29, 36, 236, 390, 238, 301, 55, 96, 153, 336, 0},
	}
)

// geo is TSPLIB's distance between two places on the earth, with its own π and
// its cut instead of rounding, without which some distances are off by one.
func geo(places [][2]float64) func(a, b int) int64 {
	const pi, radius = 3.141592, 6378.388
	angle := func(v float64) float64 {
		whole := math.Trunc(v)
		return pi * (whole + 5*(v-whole)/3) / 180
	}
	return func(a, b int) int64 {
		if a == b {
			return 0
		}
		p, q := places[a], places[b]
		q1 := math.Cos(angle(p[1]) - angle(q[1]))
		q2 := math.Cos(angle(p[0]) - angle(q[0]))
		q3 := math.Cos(angle(p[0]) + angle(q[0]))
		return int64(radius*math.Acos(0.5*((1+q1)*q2-(1-q1)*q3)) + 1)
	}
}

func lowerTriangle(rows [][]int64) func(a, b int) int64 {
	return func(a, b int) int64 { return rows[max(a, b)][min(a, b)] }
}

// tour is a travelling salesman's problem that starts at node 0: the other nodes
// are one class.
func tour(n int, cost func(a, b int) int64, closed bool) *Problem {
	p := &Problem{
		Class: make([]int32, n-1), Period: 1,
		Cost:  func(a, b int) int64 { return cost(a+1, b+1) },
		First: func(a int) int64 { return cost(0, a+1) },
	}
	if closed {
		p.Last = func(a int) int64 { return cost(a+1, 0) }
	}
	return p
}

var tours = []struct {
	name         string
	n            int
	cost         func(a, b int) int64
	closed, open int64
}{
	// The closed optima are TSPLIB's (gr17 from memory); the open ones, from the
	// first node and without a return, were recomputed.
	{"burma14", 14, geo(burma14), 3323, 2880},
	{"ulysses16", 16, geo(ulysses16), 6859, 5201},
	{"gr17", 17, lowerTriangle(gr17), 2085, 1707},
}

func TestBurma14FirstDistance(t *testing.T) {
	if d := geo(burma14)(0, 1); d != 153 { // read in a copy of TSPLIB's notes
		t.Errorf("distance 1-2 is %d, wanted 153", d)
	}
}

func TestKnownToursExactly(t *testing.T) {
	t.Parallel()
	for _, c := range tours {
		for _, closed := range []bool{true, false} {
			p, want := tour(c.n, c.cost, closed), c.open
			if closed {
				want = c.closed
			}
			got := p.Solve()
			if got.Cost != want || !got.Exact || p.Length(got.Path) != want {
				t.Errorf("%s, closed %t: %d (exact %t, recounted %d), wanted %d", c.name, closed, got.Cost, got.Exact, p.Length(got.Path), want)
			}
			checkPermutation(t, p, got.Path)
		}
	}
}

// The search by small changes finds the same, and the bound from below stays
// below, near to it.
func TestKnownToursBySearch(t *testing.T) {
	t.Parallel()
	tours := tours
	if testing.Short() {
		tours = tours[:1]
	}
	for _, c := range tours {
		for _, closed := range []bool{true, false} {
			p, want := tour(c.n, c.cost, closed), c.open
			if closed {
				want = c.closed
			}
			r := newRow(p)
			got := r.answer(r.find(nil), false)
			if got.Cost != want {
				t.Errorf("%s, closed %t: %d, wanted %d", c.name, closed, got.Cost, want)
			}
			bound, _ := p.Bound(want)
			if bound > want || bound < want*9/10 {
				t.Errorf("%s, closed %t: bound %d, wanted between %d and %d", c.name, closed, bound, want*9/10, want)
			}
		}
	}
}

func checkPermutation(t *testing.T, p *Problem, path []int) {
	t.Helper()
	seen := slices.Sorted(slices.Values(path))
	for i, node := range seen {
		if node != i {
			t.Fatalf("%v is no permutation", path)
		}
	}
	for at, node := range path {
		if p.Class[node] != p.Class[at] {
			t.Fatalf("node %d of class %d stands at a position of class %d", node, p.Class[node], p.Class[at])
		}
	}
}
