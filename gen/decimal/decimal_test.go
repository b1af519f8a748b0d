package decimal

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// exact is Nearest by way of math/big: twice the product is looked at as a fraction of
// whole numbers, which leaves nothing to round.
func exact(size float64, decimals int) (steps uint64, half bool) {
	power := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(decimals)), nil))
	twice := new(big.Rat).Mul(new(big.Rat).SetFloat64(size), power)
	twice.Add(twice, twice)
	floor := new(big.Int).Div(twice.Num(), twice.Denom()).Uint64()
	return (floor + 1) / 2, twice.IsInt() && floor%2 == 1
}

func sameAsExact(t *testing.T, size float64, decimals int) {
	t.Helper()
	steps, half, ok := Nearest(size, decimals)
	if !ok {
		if size*math.Pow10(decimals) < 1<<51 {
			t.Fatalf("%v with %d decimals is refused", size, decimals)
		}
		return
	}
	if wantSteps, wantHalf := exact(size, decimals); steps != wantSteps || half != wantHalf {
		t.Fatalf("%v with %d decimals is %d steps, half %v; wanted %d, %v", size, decimals, steps, half, wantSteps, wantHalf)
	}
}

// Numbers of every size, those with few decimals, halves, and their neighbours.
func TestNearestIsExact(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 2))
	for range 5_000 {
		decimals := r.IntN(10)
		few := float64(r.IntN(10_000_000)) / math.Pow10(r.IntN(10))
		halves := (float64(r.IntN(1_000_000)) + 0.5) / math.Pow10(decimals)
		ties := float64(2*r.Int64N(1<<40)+1) / 1024
		small := math.Ldexp(r.Float64(), r.IntN(1100)-1060)
		for _, v := range []float64{few, halves, ties, small, r.Float64() * 2000} {
			sameAsExact(t, v, decimals)
			sameAsExact(t, math.Nextafter(v, math.Inf(1)), decimals)
			sameAsExact(t, math.Nextafter(v, 0), decimals)
		}
	}
}

func TestNearestAtTheEnds(t *testing.T) {
	for decimals := range 10 {
		end := halvesEnd / math.Pow10(decimals)
		for _, v := range []float64{0, math.SmallestNonzeroFloat64, 0x1p-1022, 1, end, math.Nextafter(end, 0), math.Nextafter(end, math.Inf(1))} {
			sameAsExact(t, v, decimals)
		}
		for _, v := range []float64{2 * end, math.MaxFloat64, math.Inf(1), math.NaN()} {
			if _, _, ok := Nearest(v, decimals); ok {
				t.Errorf("%v with %d decimals is not refused", v, decimals)
			}
		}
	}
	for _, decimals := range []int{-1, 10} {
		if _, _, ok := Nearest(1, decimals); ok {
			t.Errorf("%d decimals are not refused", decimals)
		}
	}
}

func TestAppend(t *testing.T) {
	for _, c := range []struct {
		steps    uint64
		decimals int
		want     string
	}{
		{0, 0, "0"}, {0, 3, "0.000"}, {5, 0, "5"}, {5, 3, "0.005"}, {1000, 3, "1.000"}, {12345, 2, "123.45"},
		{math.MaxUint64, 0, "18446744073709551615"}, {math.MaxUint64, 9, "18446744073.709551615"},
	} {
		if got := string(Append([]byte("x"), c.steps, c.decimals)); got != "x"+c.want {
			t.Errorf("%d with %d decimals is %q, wanted %q", c.steps, c.decimals, got, "x"+c.want)
		}
	}
}

// below is Below by way of math/big: the whole number under the exact product, and how
// far the next one lies above it, as a part of what the noise may be.
func below(size float64, decimals int) (steps uint64, lacking float64) {
	power := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(decimals)), nil))
	product := new(big.Rat).Mul(new(big.Rat).SetFloat64(size), power)
	floor := new(big.Int).Div(product.Num(), product.Denom())
	next := new(big.Rat).SetInt(new(big.Int).Add(floor, big.NewInt(1)))
	lacks, _ := next.Sub(next, product).Float64()
	whole, _ := product.Float64()
	return floor.Uint64(), lacks / min(1e-9*whole, 0.5)
}

func TestBelowIsNeverAbove(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 3))
	for range 20_000 {
		decimals := r.IntN(8)
		few := float64(r.IntN(10_000_000)+1) / math.Pow10(r.IntN(10))
		for _, v := range []float64{few, few * 60 / 1000, few / 25.4, math.Nextafter(few, 0), r.Float64() * 2000} {
			want, lacking := below(v, decimals)
			if lacking < 0.999 {
				want++
			} else if lacking < 1.001 {
				continue // either will do
			}
			if got, ok := Below(v, decimals); !ok || got != want {
				t.Fatalf("%v with %d decimals is %d steps, %v, wanted %d", v, decimals, got, ok, want)
			}
		}
	}
}

func TestBelow(t *testing.T) {
	for _, c := range []struct {
		size     float64
		decimals int
		want     uint64
	}{
		{0, 3, 0}, {0.25, 1, 2}, {0.3, 1, 3}, {math.Nextafter(0.3, 0), 1, 3}, {0.1 + 0.2, 1, 3}, {12.5, 0, 12}, {13, 0, 13},
		{100.6, 0, 100}, {0.9999999, 0, 0}, {0.9999999999, 0, 1}, {1e9, 0, 1e9}, {2e9, 3, 2e12}, {math.Nextafter(2e9, 0), 3, 2e12},
		{0.29, 2, 29}, {1.15, 2, 115}, {4.35, 2, 435}, // their products with 100 lie just below a whole number
	} {
		if got, ok := Below(c.size, c.decimals); !ok || got != c.want {
			t.Errorf("%v with %d decimals is %d, %v, wanted %d", c.size, c.decimals, got, ok, c.want)
		}
	}
	for _, v := range []float64{math.MaxFloat64, math.Inf(1), math.NaN()} {
		if _, ok := Below(v, 1); ok {
			t.Errorf("%v is not refused", v)
		}
	}
	for _, decimals := range []int{-1, 10} {
		if _, ok := Below(1, decimals); ok {
			t.Errorf("%d decimals are not refused", decimals)
		}
	}
}
