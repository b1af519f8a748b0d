package move

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// slowNumber is appendNumber by way of strconv alone.
func slowNumber(v float64) string {
	text := string(trimmed(strconv.AppendFloat(nil, v, 'f', decimals, 64)))
	if text == "-0" {
		return "0"
	}
	return text
}

func sameNumber(t *testing.T, v float64) {
	t.Helper()
	var room [32]byte
	for _, v := range []float64{v, -v} {
		if got, want := string(appendNumber(room[:0], v)), slowNumber(v); got != want {
			t.Fatalf("%v (%x) is written %s, wanted %s", v, math.Float64bits(v), got, want)
		}
	}
}

// Numbers of every kind come out as strconv writes them: any bits at all, numbers
// of a plan's size, those with few decimals and their neighbours.
func TestNumbersAreThoseOfTheLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	rounds := 100_000
	if testing.Short() {
		rounds = 20_000
	}
	for range rounds {
		if v := math.Float64frombits(r.Uint64()); !math.IsNaN(v) && !math.IsInf(v, 0) {
			sameNumber(t, v)
		}
		sameNumber(t, math.Ldexp(r.Float64(), r.IntN(120)-80))
		sameNumber(t, r.Float64()*2000)
		few := float64(r.IntN(10_000_000)) / math.Pow(10, float64(r.IntN(10)))
		sameNumber(t, few)
		sameNumber(t, math.Nextafter(few, math.Inf(1)))
		sameNumber(t, math.Nextafter(few, 0))
	}
}

// Halfway between two billionths lie odd multiples of 1/1024: they go to the even
// one, and the numbers next to them to the nearer one.
func TestNumbersHalfway(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 2))
	for i := range 20_000 {
		v := float64(2*i+1) / 1024
		if i%2 == 1 {
			v = float64(2*r.Int64N(1<<42)+1) / 1024
		}
		sameNumber(t, v)
		sameNumber(t, math.Nextafter(v, math.Inf(1)))
		sameNumber(t, math.Nextafter(v, 0))
	}
}

// The ends of what the quick way takes, and of what a number can be.
func TestNumbersAtTheEnds(t *testing.T) {
	for _, v := range []float64{
		0, math.SmallestNonzeroFloat64, 0x1p-1022, 4.9e-10, 5e-10, 5.1e-10, 9.999999995e-1, 0.9999999999, 1, 999999999.9999999999,
		0x1p51 / 1e9, 0x1p52 / 1e9, 0x1p53 / 1e9, 1 << 32, 1e15, 1 << 53, 1e22, 1e300,
	} {
		sameNumber(t, v)
		sameNumber(t, math.Nextafter(v, math.Inf(1)))
		sameNumber(t, math.Nextafter(v, math.Inf(-1)))
	}
	for shift := range 1100 {
		sameNumber(t, math.Ldexp(1, 40-shift))
		sameNumber(t, math.Ldexp(0x1.fffffffffffffp0, 40-shift))
	}
}

func BenchmarkNumbers(b *testing.B) {
	values := []float64{200, 218.5, -1e-12, 2.0 / 3, 100.125, 1234.5678, 0, 180}
	for name, write := range map[string]func([]byte, float64) []byte{
		"quick":   appendNumber,
		"library": func(b []byte, v float64) []byte { return trimmed(strconv.AppendFloat(b, v, 'f', decimals, 64)) },
	} {
		b.Run(name, func(b *testing.B) {
			var room [64]byte
			for i := range b.N {
				write(room[:0], values[i%len(values)])
			}
		})
	}
}
