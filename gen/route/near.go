package route

// mostNear is how many near nodes each node is tried beside.
const mostNear = 12

// near lists for each node the nearest ones that may stand beside it, the
// nearest first; of equally near ones the lower number.
func (r *row) near() [][]int32 {
	beside := newBeside(r.Class)
	all := make([][]int32, r.n)
	for a := range r.n {
		list := make([]int32, 0, mostNear+1)
		for b := range r.n {
			if b == a || !beside.may(a, b) {
				continue
			}
			d, k := r.length[a*r.n+b], len(list)
			for k > 0 && d < r.length[a*r.n+int(list[k-1])] {
				k--
			}
			if k == mostNear {
				continue
			}
			list = append(list, 0)
			copy(list[k+1:], list[k:])
			list[k] = int32(b)
			list = list[:min(len(list), mostNear)]
		}
		all[a] = list
	}
	return all
}

// beside reports which classes are neighbours somewhere in the row.
type beside struct {
	number []int    // of each node's class, from 0
	pairs  [][]bool // by those numbers
}

func newBeside(class []int32) *beside {
	s := &beside{}
	numbers := map[int32]int{}
	for _, c := range class {
		if _, met := numbers[c]; !met {
			numbers[c] = len(numbers)
		}
		s.number = append(s.number, numbers[c])
	}
	s.pairs = make([][]bool, len(numbers))
	for i := range s.pairs {
		s.pairs[i] = make([]bool, len(numbers))
	}
	for p := 1; p < len(class); p++ {
		x, y := s.number[p-1], s.number[p]
		s.pairs[x][y], s.pairs[y][x] = true, true
	}
	return s
}

func (s *beside) may(a, b int) bool { return s.pairs[s.number[a]][s.number[b]] }
