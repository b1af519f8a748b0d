package route

// Problem asks for the shortest way through a row of positions. Every position
// has a class, and holds one node of that class: slots to pick from at the first
// position, slots to put down at the second, and so on. Node k is of the class of
// position k; so "node k at position k" is a solution, the one that everything is
// compared with.
type Problem struct {
	// Class of each position. Positions that must keep their node have a class
	// of their own.
	Class []int32
	// Period is after how many positions the pattern of classes comes again, as
	// far as it does: 2 where picks and places alternate; 1 or more.
	Period int
	// Cost between two nodes that follow each other; the same in both directions.
	Cost func(a, b int) int64
	// First is the cost of getting to the first node, Last of leaving the last
	// one; nil for none.
	First, Last func(node int) int64
}

// Limit is the most positions that a way is searched for: the lengths between
// all of them are kept.
const Limit = 2048

// Answer is a way and what is known about it.
type Answer struct {
	Path  []int // the node at each position
	Cost  int64
	Exact bool // no way is shorter
	// Work is what the search has cost, in lengths looked at: some nanoseconds each.
	Work int
}

// row is a problem with its lengths looked up once.
type row struct {
	*Problem
	n      int
	length []int64   // n × n
	class  [][]int32 // positions of each class that has several
	shared []bool    // positions that are in such a class
	work   int       // lengths looked at
}

func newRow(p *Problem) *row {
	n := len(p.Class)
	r := &row{Problem: p, n: n, length: make([]int64, n*n), shared: make([]bool, n), work: n * n}
	for a := range n {
		for b := range a {
			d := p.Cost(a, b)
			r.length[a*n+b], r.length[b*n+a] = d, d
		}
	}
	r.classes()
	return r
}

// classes lists the positions of every class in the order in which the classes
// come.
func (r *row) classes() {
	at := map[int32]int{}
	var all [][]int32
	for p, c := range r.Class {
		i, met := at[c]
		if !met {
			i = len(all)
			at[c] = i
			all = append(all, nil)
		}
		all[i] = append(all[i], int32(p))
	}
	for _, positions := range all {
		if len(positions) < 2 {
			continue
		}
		r.class = append(r.class, positions)
		for _, p := range positions {
			r.shared[p] = true
		}
	}
}

// link is the cost between position p, which holds a, and the next one, which
// holds b; p is -1 before the first position, and n-1 at the last one.
func (r *row) link(p int, a, b int32) int64 {
	switch {
	case p < 0:
		if r.First == nil {
			return 0
		}
		return r.First(int(b))
	case p == r.n-1:
		if r.Last == nil {
			return 0
		}
		return r.Last(int(a))
	default:
		return r.length[int(a)*r.n+int(b)]
	}
}

// at is the node at a position, and 0 beyond the ends, where link does not ask.
func at(path []int32, p int) int32 {
	if p < 0 || p >= len(path) {
		return 0
	}
	return path[p]
}

func (r *row) cost(path []int32) int64 {
	sum := int64(0)
	for p := -1; p < r.n; p++ {
		sum += r.link(p, at(path, p), at(path, p+1))
	}
	return sum
}

func (r *row) answer(path []int32, exact bool) Answer {
	out := Answer{Path: make([]int, len(path)), Cost: r.cost(path), Exact: exact, Work: r.work}
	for p, node := range path {
		out.Path[p] = int(node)
	}
	return out
}

// identity is every node at its own position.
func identity(n int) []int32 {
	path := make([]int32, n)
	for i := range path {
		path[i] = int32(i)
	}
	return path
}

// Length is what a way costs.
func (p *Problem) Length(path []int) int64 {
	sum := int64(0)
	for k, node := range path {
		switch {
		case k > 0:
			sum += p.Cost(path[k-1], node)
		case p.First != nil:
			sum += p.First(node)
		}
	}
	if p.Last != nil && len(path) > 0 {
		sum += p.Last(path[len(path)-1])
	}
	return sum
}
