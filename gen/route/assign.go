package route

import "math"

// Assign gives every row a column of its own at the least total cost; there must
// be as many columns as rows, or more. Of several best answers it is always the
// same one.
//
// It grows shortest augmenting paths under dual prices, a row at a time (R.
// Jonker and A. Volgenant, Computing 38, 1987, 325-340, without their quick start);
// rows² × columns steps at the most.
func Assign(rows, columns int, cost func(row, column int) int64) (columnOf []int, total int64) {
	s := assignment{
		rows: rows, columns: columns, cost: cost,
		rowOf: make([]int, columns), price: make([]int64, columns), rowPrice: make([]int64, rows),
		dist: make([]int64, columns), from: make([]int, columns), done: make([]bool, columns),
	}
	for c := range s.rowOf {
		s.rowOf[c] = none
	}
	for r := range rows {
		s.place(r)
	}
	columnOf = make([]int, rows)
	for c, r := range s.rowOf {
		if r != none {
			columnOf[r] = c
			total += cost(r, c)
		}
	}
	return columnOf, total
}

const none = -1

type assignment struct {
	rows, columns   int
	cost            func(row, column int) int64
	rowOf           []int   // of each column, or none
	price, rowPrice []int64 // a pair that is in use costs exactly the sum of its prices, no pair costs less

	// the search for one row's path
	dist []int64 // cheapest way to each column
	from []int   // the column before it on that way, or none
	done []bool
}

// place finds row r a column, moving other rows on where that is cheaper.
func (s *assignment) place(r int) {
	for c := range s.columns {
		s.dist[c], s.from[c], s.done[c] = math.MaxInt64, none, false
	}
	row, last, at := r, none, int64(0)
	for {
		s.relax(row, last, at)
		last = s.nearest()
		at, s.done[last] = s.dist[last], true
		if s.rowOf[last] == none {
			break
		}
		row = s.rowOf[last]
	}
	s.reprice(r, at)
	for last != none { // every row on the path takes the next column
		before := s.from[last]
		if before == none {
			s.rowOf[last] = r
		} else {
			s.rowOf[last] = s.rowOf[before]
		}
		last = before
	}
}

// relax looks at the columns that can be reached from a row, which is at distance
// at, by way of the column it holds.
func (s *assignment) relax(row, by int, at int64) {
	for c := range s.columns {
		if s.done[c] {
			continue
		}
		if d := at + s.cost(row, c) - s.rowPrice[row] - s.price[c]; d < s.dist[c] {
			s.dist[c], s.from[c] = d, by
		}
	}
}

// nearest is the nearest column not done; the first one of several.
func (s *assignment) nearest() int {
	best := none
	for c, d := range s.dist {
		if !s.done[c] && (best == none || d < s.dist[best]) {
			best = c
		}
	}
	return best
}

// reprice keeps the pairs in use at their prices once a path of that length is
// taken.
func (s *assignment) reprice(r int, length int64) {
	s.rowPrice[r] += length
	for c, d := range s.dist {
		if !s.done[c] || s.rowOf[c] == none {
			continue
		}
		s.price[c] -= length - d
		s.rowPrice[s.rowOf[c]] += length - d
	}
}
