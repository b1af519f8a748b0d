package compare

import (
	"math"
	"sort"

	"gridferry/gen/align"
)

// pairing lays the groups of two sides beside each other: of[i] is the group of B
// that belongs to group i of A, -1 for none. It never runs backwards.
type pairing struct {
	a, b []mark
	of   []int32
	near bool // groups that are not the same may still be meant by each other: by where they are
}

// pairUp finds the pairing. First groups that are the same: those at both ends, then
// those that each side has once, in the longest row that keeps its order (patience
// sorting), and so on in between. Then, in what is left between two pairs, groups
// that are nearest each other.
func pairUp(a, b []mark, near bool) []int32 {
	p := &pairing{a: a, b: b, of: make([]int32, len(a)), near: near}
	for i := range p.of {
		p.of[i] = -1
	}
	p.same(0, len(a), 0, len(b))
	p.rest()
	return p.of
}

// same pairs groups with the same key between i0 and i1 of A, j0 and j1 of B.
func (p *pairing) same(i0, i1, j0, j1 int) {
	for i0 < i1 && j0 < j1 && p.a[i0].key == p.b[j0].key {
		p.of[i0] = int32(j0)
		i0, j0 = i0+1, j0+1
	}
	for i0 < i1 && j0 < j1 && p.a[i1-1].key == p.b[j1-1].key {
		i1, j1 = i1-1, j1-1
		p.of[i1] = int32(j1)
	}
	if i0 == i1 || j0 == j1 {
		return
	}
	anchors := p.anchors(i0, i1, j0, j1)
	if len(anchors) == 0 {
		p.small(i0, i1, j0, j1)
		return
	}
	for _, at := range append(anchors, [2]int{i1, j1}) {
		p.same(i0, at[0], j0, at[1])
		if at[0] < i1 {
			p.of[at[0]] = int32(at[1])
		}
		i0, j0 = at[0]+1, at[1]+1
	}
}

// anchors are pairs of groups that either side has once between the bounds, as many
// as can be had in the order of both.
func (p *pairing) anchors(i0, i1, j0, j1 int) [][2]int {
	type found struct{ a, b, times int }
	seen := map[uint64]*found{}
	for i := i0; i < i1; i++ {
		if f := seen[p.a[i].key]; f != nil {
			f.times = 2
		} else {
			seen[p.a[i].key] = &found{i, -1, 1}
		}
	}
	for j := j0; j < j1; j++ {
		if f := seen[p.b[j].key]; f != nil {
			if f.b >= 0 {
				f.times = 2
			}
			f.b = j
		}
	}
	var pairs [][2]int
	for i := i0; i < i1; i++ {
		if f := seen[p.a[i].key]; f.a == i && f.times == 1 && f.b >= 0 {
			pairs = append(pairs, [2]int{i, f.b})
		}
	}
	return rising(pairs)
}

// rising is the longest row of pairs, in the order of their first numbers, whose
// second numbers rise too.
func rising(pairs [][2]int) [][2]int {
	var ends []int // of the best row of each length, the last pair
	before := make([]int, len(pairs))
	for k, pair := range pairs {
		at := sort.Search(len(ends), func(n int) bool { return pairs[ends[n]][1] >= pair[1] })
		before[k] = -1
		if at > 0 {
			before[k] = ends[at-1]
		}
		if at == len(ends) {
			ends = append(ends, k)
		} else {
			ends[at] = k
		}
	}
	if len(ends) == 0 {
		return nil
	}
	row := make([][2]int, len(ends))
	for n, k := len(ends)-1, ends[len(ends)-1]; n >= 0; n-- {
		row[n], k = pairs[k], before[k]
	}
	return row
}

// most is how many cells a table may have: beyond it, what is left is laid beside
// each other in order.
const most = 4_000_000

// small pairs groups with the same key where each comes several times: as many as
// can be had.
func (p *pairing) small(i0, i1, j0, j1 int) {
	if (i1-i0+1)*(j1-j0+1) > most {
		return
	}
	p.table(i0, i1, j0, j1, func(a, b *mark) float64 {
		if a.key == b.key {
			return 1
		}
		return 0
	})
}

// rest pairs what is left between pairs by where it is.
func (p *pairing) rest() {
	i0, j0 := 0, 0
	for i := 0; i <= len(p.a); i++ {
		j := len(p.b)
		if i < len(p.a) {
			if p.of[i] < 0 {
				continue
			}
			j = int(p.of[i])
		}
		p.between(i0, i, j0, j)
		i0, j0 = i+1, j+1
	}
}

func (p *pairing) between(i0, i1, j0, j1 int) {
	few := (i1-i0+1)*(j1-j0+1) <= most
	switch {
	case i0 == i1 || j0 == j1:
	case p.near && few:
		p.table(i0, i1, j0, j1, nearness)
	case p.near:
		for k := 0; i0+k < i1 && j0+k < j1; k++ {
			p.of[i0+k] = int32(j0 + k)
		}
	case few: // with labels: the same part that goes elsewhere
		for i := i0; i < i1; i++ {
			for j := j0; j < j1; j++ {
				if p.a[i].from == p.b[j].from {
					p.of[i], j0 = int32(j), j+1
					break
				}
			}
		}
	}
}

// nearness is what it is worth to lay two groups beside each other that are not the
// same: 1 where they are at the same places, less with every millimetre, a little
// wherever they are.
func nearness(a, b *mark) float64 {
	return 0.05 + 1/(1+(apart(a.at, b.at)+apart(a.destination, b.destination))/10)
}

func apart(p, q [3]float32) float64 {
	sum := 0.0
	for k := range p {
		d := float64(p[k] - q[k])
		sum += float64(d * d)
	}
	return math.Sqrt(sum)
}

// table pairs for the greatest worth.
func (p *pairing) table(i0, i1, j0, j1 int, worth func(a, b *mark) float64) {
	for i, j := range align.Pairs(i1-i0, j1-j0, func(i, j int) float32 { return float32(worth(&p.a[i0+i], &p.b[j0+j])) }) {
		if i >= 0 && j >= 0 {
			p.of[i0+i] = int32(j0 + j)
		}
	}
}
