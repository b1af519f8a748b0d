package route

// pattern answers which rearrangements of positions keep every position's class.
type pattern struct {
	class  []int32
	period int
	again  []int // how many positions from each on have the class of the one a period later
	odd    []int // the largest k for which p-k…p+k reads the same backwards
	even   []int // the same about the gap after p: p-k+1…p+k
}

func newPattern(class []int32, period int) *pattern {
	n := len(class)
	p := &pattern{class: class, period: period, again: make([]int, n+1), odd: make([]int, n), even: make([]int, n)}
	for i := n - 1 - period; i >= 0; i-- {
		if class[i] == class[i+period] {
			p.again[i] = p.again[i+1] + 1
		}
	}
	p.palindromes()
	return p
}

// palindromes spreads out from every middle as far as classes agree. Patterns
// repeat, so that is long; but it is only walked once per middle, and no row is
// longer than Limit.
func (p *pattern) palindromes() {
	same := func(i, j int) bool { return i >= 0 && j < len(p.class) && p.class[i] == p.class[j] }
	for m := range p.class {
		for same(m-p.odd[m]-1, m+p.odd[m]+1) {
			p.odd[m]++
		}
		for same(m-p.even[m], m+p.even[m]+1) {
			p.even[m]++
		}
	}
}

// reversible reports whether positions i to j may be read backwards.
func (p *pattern) reversible(i, j int) bool {
	middle := (i + j) / 2
	if (i+j)%2 == 0 {
		return middle-p.odd[middle] <= i
	}
	return middle-p.even[middle]+1 <= i
}

// exchangeable reports whether the blocks i…m-1 and m…j may change places: the
// classes repeat throughout, and both blocks are whole periods.
func (p *pattern) exchangeable(i, m, j int) bool {
	return (m-i)%p.period == 0 && (j+1-m)%p.period == 0 && p.again[i] >= j+1-i-p.period
}
