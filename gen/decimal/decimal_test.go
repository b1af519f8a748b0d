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
