package route

import "slices"

// search improves a way by small changes: two nodes of a class change places, a
// stretch is turned round (2-opt: G. Croes, Operations Research 6(6), 1958,
// 791-812), a block of one to three periods moves elsewhere (I. Or, 1976). Only
// changes are looked at that bring a node beside one of those near to it. Where no
// change helps, the way is shaken (the double bridge of O. Martin, S. Otto and E.
// Felten, Complex Systems 5, 1991, 299-326) and improved again.
type search struct {
	*row
	pattern *pattern
	near    [][]int32 // of each node
	path    []int32
	pos     []int32 // of each node
	total   int64

	dirty []bool // positions that changes have not been looked for since they changed
	queue []int
	steps int // that may still be taken
	dice  dice
}

func (r *row) search(pattern *pattern, near [][]int32, start []int32, steps int) *search {
	s := &search{
		row: r, pattern: pattern, near: near, path: start, pos: make([]int32, r.n), total: r.cost(start),
		dirty: make([]bool, r.n), steps: steps,
	}
	s.place(0, r.n-1)
	for p := range r.n {
		s.touch(p)
	}
	return s
}

// place notes where the nodes from position i to j are.
func (s *search) place(i, j int) {
	for p := i; p <= j; p++ {
		s.pos[s.path[p]] = int32(p)
	}
}

// touch puts a position up for being looked at.
func (s *search) touch(p int) {
	if p >= 0 && p < s.n && !s.dirty[p] {
		s.dirty[p] = true
		s.queue = append(s.queue, p)
	}
}

// improve makes changes until none helps, or the steps are used up.
func (s *search) improve() {
	for len(s.queue) > 0 && s.steps > 0 {
		p := s.queue[0]
		s.queue = s.queue[1:]
		s.dirty[p] = false
		for s.steps > 0 && s.better(p) {
		}
	}
}

// better makes the first change that helps and brings the node at position i
// beside one near to it.
func (s *search) better(i int) bool {
	for _, node := range s.near[s.path[i]] {
		s.steps--
		j := int(s.pos[node])
		if s.trySwap(i+1, j) || s.trySwap(i-1, j) || s.tryTurns(i, j) || s.tryMoves(i, j) {
			return true
		}
	}
	return false
}

// now is the cost between position p and the next one as they are.
func (s *search) now(p int) int64 { return s.link(p, at(s.path, p), at(s.path, p+1)) }

func (s *search) trySwap(i, j int) bool {
	i, j = min(i, j), max(i, j)
	if i < 0 || j >= s.n || i == j || s.Class[i] != s.Class[j] {
		return false
	}
	a, b := s.path[i], s.path[j]
	change := s.link(i-1, at(s.path, i-1), b) + s.link(j, a, at(s.path, j+1)) - s.now(i-1) - s.now(j)
	if j > i+1 {
		change += s.link(i, b, s.path[i+1]) + s.link(j-1, s.path[j-1], a) - s.now(i) - s.now(j-1)
	}
	if change >= 0 {
		return false
	}
	s.path[i], s.path[j] = b, a
	s.pos[a], s.pos[b] = int32(j), int32(i)
	s.settle(change, i, j)
	return true
}

// tryTurns turns round what lies between positions i and j, with one of the two.
func (s *search) tryTurns(i, j int) bool {
	lo, hi := min(i, j), max(i, j)
	return s.tryTurn(lo+1, hi) || s.tryTurn(lo, hi-1)
}

// tryTurn turns positions i to j round.
func (s *search) tryTurn(i, j int) bool {
	if i >= j || !s.pattern.reversible(i, j) {
		return false
	}
	change := s.link(i-1, at(s.path, i-1), s.path[j]) + s.link(j, s.path[i], at(s.path, j+1)) - s.now(i-1) - s.now(j)
	if change >= 0 {
		return false
	}
	slices.Reverse(s.path[i : j+1])
	s.place(i, j)
	s.settle(change, i, j)
	return true
}

// longestBlock is how many periods a block has that is moved.
const longestBlock = 3

// tryMoves brings the nodes at positions lo and hi together by moving a block.
func (s *search) tryMoves(i, j int) bool {
	lo, hi := min(i, j), max(i, j)
	for length := s.Period; length <= longestBlock*s.Period; length += s.Period {
		if s.exchange(lo+1, hi, hi+length-1) || s.exchange(lo+1-length, lo+1, hi-1) || // lo then hi
			s.exchange(lo, lo+length, hi) || s.exchange(lo, hi+1-length, hi) { // hi then lo
			return true
		}
	}
	return false
}

// exchange lets blocks i…m-1 and m…j change places if that helps.
func (s *search) exchange(i, m, j int) bool {
	if i < 0 || m <= i || j < m || j >= s.n || !s.pattern.exchangeable(i, m, j) {
		return false
	}
	change := s.exchangeCost(i, m, j)
	if change >= 0 {
		return false
	}
	s.rotate(i, m, j, change)
	return true
}

func (s *search) exchangeCost(i, m, j int) int64 {
	return s.link(i-1, at(s.path, i-1), s.path[m]) + s.link(j, s.path[m-1], at(s.path, j+1)) +
		s.link(m-1, s.path[j], s.path[i]) - s.now(i-1) - s.now(m-1) - s.now(j)
}

func (s *search) rotate(i, m, j int, change int64) {
	block := s.path[i : j+1]
	slices.Reverse(block[:m-i])
	slices.Reverse(block[m-i:])
	slices.Reverse(block)
	s.place(i, j)
	s.settle(change, i, i+j-m, j)
}

// settle books a change and puts the positions about it up again.
func (s *search) settle(change int64, about ...int) {
	s.total += change
	for _, p := range about {
		s.touch(p - 1)
		s.touch(p)
		s.touch(p + 1)
	}
}

// shakeOn shakes and improves until the steps are used up, or nothing has come
// of it for long; what is worse is taken back.
func (s *search) shakeOn() {
	s.improve()
	best, least := slices.Clone(s.path), s.total
	for idle := 0; s.steps > 0 && idle < patience(s.n); idle++ {
		s.shake()
		s.improve()
		if s.total < least {
			idle = 0
		}
		if s.total > least {
			copy(s.path, best)
			s.place(0, s.n-1)
		} else {
			copy(best, s.path)
		}
		s.total = min(s.total, least)
		least = s.total
	}
	copy(s.path, best)
	s.total = least
}

// patience is how many shakes in a row may come to nothing.
func patience(n int) int { return 300 + 30*n }

// longestShake is how many periods each of the two blocks has that a shake lets
// change places. Short ones leave most of the way as good as it was.
const longestShake = 30

func (s *search) shake() {
	s.steps -= s.n / 8 // for what is copied
	most := min(longestShake, s.n/s.Period/3)
	for range 20 {
		if most < 1 {
			break
		}
		i := s.dice.below(s.n)
		m := i + s.Period*(1+s.dice.below(most))
		j := m + s.Period*(1+s.dice.below(most)) - 1
		if j < s.n && s.pattern.exchangeable(i, m, j) {
			s.rotate(i, m, j, s.exchangeCost(i, m, j))
			return
		}
	}
	s.shakeClass()
}

// shakeClass lets two nodes of a class change places.
func (s *search) shakeClass() {
	class := s.class[s.dice.below(len(s.class))]
	i, j := int(class[s.dice.below(len(class))]), int(class[s.dice.below(len(class))])
	if i == j {
		return
	}
	s.path[i], s.path[j] = s.path[j], s.path[i]
	s.place(i, i)
	s.place(j, j)
	s.total = s.cost(s.path)
	s.settle(0, i, j)
}

// dice is a generator of numbers that are the same everywhere and always
// (splitmix64: G. Steele, D. Lea and C. Flood, OOPSLA 2014).
type dice uint64

func (d *dice) below(n int) int {
	*d += 0x9e3779b97f4a7c15
	z := uint64(*d)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return int((z ^ z>>31) % uint64(n))
}
