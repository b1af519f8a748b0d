package align

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// side by side, "-" for none.
func show(a, b string, worth func(i, j int) float32) string {
	var out []string
	for i, j := range Pairs(len(a), len(b), worth) {
		x, y := "-", "-"
		if i >= 0 {
			x = a[i : i+1]
		}
		if j >= 0 {
			y = b[j : j+1]
		}
		out = append(out, x+y)
	}
	return strings.Join(out, " ")
}

func same(a, b string) func(i, j int) float32 {
	return func(i, j int) float32 {
		if a[i] == b[j] {
			return 1
		}
		return 0
	}
}

func TestPairs(t *testing.T) {
	for _, c := range []struct{ a, b, want string }{
		{"", "", ""},
		{"ab", "", "a- b-"},
		{"", "ab", "-a -b"},
		{"abc", "abc", "aa bb cc"},
		{"abc", "ac", "aa b- cc"},
		{"ac", "abc", "aa -b cc"},
		{"axc", "ayc", "aa x- -y cc"}, // worth the same either way: the first side's comes first
		{"ab", "ba", "a- bb -a"},
	} {
		if got := show(c.a, c.b, same(c.a, c.b)); got != c.want {
			t.Errorf("%q beside %q: %s, wanted %s", c.a, c.b, got, c.want)
		}
	}
}

// Two that are worth much keep apart what is worth less.
func TestPairsByWorth(t *testing.T) {
	worth := func(i, j int) float32 { return [][]float32{{0, 3}, {1, 0}}[i][j] }
	if got := show("ab", "cd", worth); got != "-c ad b-" {
		t.Errorf("found %s", got)
	}
}

// Whatever the worths, every element comes once and in order, nothing is paired
// for nothing, and no other way of pairing is worth more.
func TestPairsAreBest(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		n, m := r.IntN(6), r.IntN(6)
		table := make([]float32, n*m)
		for k := range table {
			table[k] = float32(max(0, r.IntN(7)-3))
		}
		worth := func(i, j int) float32 { return table[i*m+j] }
		nextA, nextB, sum := 0, 0, float32(0)
		for i, j := range Pairs(n, m, worth) {
			if i >= 0 && i != nextA || j >= 0 && j != nextB || i < 0 && j < 0 {
				t.Fatalf("%d and %d after %d and %d", i, j, nextA-1, nextB-1)
			}
			nextA, nextB = max(nextA, i+1), max(nextB, j+1)
			if i >= 0 && j >= 0 {
				if worth(i, j) == 0 {
					t.Fatalf("%d and %d are worth nothing together", i, j)
				}
				sum += worth(i, j)
			}
		}
		if nextA != n || nextB != m {
			t.Fatalf("%d of %d and %d of %d came", nextA, n, nextB, m)
		}
		if most := tried(0, 0, n, m, worth); sum != most {
			t.Fatal(fmt.Sprintf("paired for %g, but %g can be had:", sum, most), table)
		}
	}
}

// tried is the greatest worth, by trying every way.
func tried(i, j, n, m int, worth func(i, j int) float32) float32 {
	if i == n || j == m {
		return 0
	}
	best := max(tried(i+1, j, n, m, worth), tried(i, j+1, n, m, worth))
	return max(best, tried(i+1, j+1, n, m, worth)+worth(i, j))
}

func TestPairsStopWhenNobodyAsks(t *testing.T) {
	for range Pairs(3, 3, func(i, j int) float32 { return 1 }) {
		break
	}
}
