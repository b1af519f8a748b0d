package rules

import (
	"math"
	"math/big"
	"math/rand"
	"strconv"
	"strings"
	"testing"
)

func TestAppendFixed(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{0, 3, "0.000"}, {math.Copysign(0, -1), 3, "0.000"}, {-0.0004, 3, "0.000"}, {-0.0005, 3, "-0.001"},
		{0.5, 3, "0.500"}, {-0.5, 1, "-0.5"}, {12, 0, "12"}, {-0.4, 0, "0"},
		{1e6, 3, "1000000.000"}, {1e-9, 3, "0.000"}, {123456789.125, 2, "123456789.13"},
		// Exact halves go away from zero.
		{0.5, 0, "1"}, {1.5, 0, "2"}, {2.5, 0, "3"}, {-2.5, 0, "-3"}, {0.125, 2, "0.13"}, {-0.375, 2, "-0.38"}, {0.0625, 3, "0.063"},
		// These only look like halves: the binary value is a little less or more.
		{1.005, 2, "1.00"}, {2.675, 2, "2.67"}, {1.115, 2, "1.11"}, {0.15, 1, "0.1"}, {0.35, 1, "0.3"}, {8.345, 2, "8.35"},
		{999.9995, 3, "1000.000"}, {-999.9996, 3, "-1000.000"},
	} {
		got, err := AppendFixed(nil, c.v, c.decimals)
		if err != nil || string(got) != c.want {
			t.Errorf("AppendFixed(%v, %d) = %q, %v, want %q", c.v, c.decimals, got, err, c.want)
		}
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1.1e9, math.MaxFloat64} {
		if got, err := AppendFixed([]byte("x"), v, 3); err == nil || string(got) != "x" {
			t.Errorf("AppendFixed(%v) = %q, %v, want an error and nothing appended", v, got, err)
		}
	}
}

// math/big rounds the exact value of a float64 half away from zero (Rat.FloatString),
// which nothing in AppendFixed relies on.
func TestAppendFixedAgainstExactArithmetic(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for range 20_000 {
		decimals := rnd.Intn(6)
		v := (rnd.Float64() - 0.5) * math.Pow(10, float64(rnd.Intn(10)))
		if rnd.Intn(2) == 0 { // land on halves often
			v = math.Round(v*64) / 64
		}
		want := new(big.Rat).SetFloat64(v).FloatString(decimals)
		if strings.Trim(want, "-0.") == "" {
			want = strings.TrimPrefix(want, "-")
		}
		got, err := AppendFixed(nil, v, decimals)
		if err != nil || string(got) != want {
			t.Fatalf("AppendFixed(%v, %d) = %q, %v, want %q", v, decimals, got, err, want)
		}
	}
}

// A speed is never written faster than it is, whatever the unit makes of it in binary.
func TestAppendBelow(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{0.25, 1, "0.2"}, {0.3, 1, "0.3"}, {300.0 * 1 / 1000, 1, "0.3"}, {100.6, 0, "100"}, {12.5, 0, "12"}, {0.06, 1, "0.0"},
		{0.5 / 0.6, 0, "0"}, {999.99, 1, "999.9"}, {1e9, 9, "1000000000.000000000"},
	} {
		got, err := AppendBelow(nil, c.v, c.decimals)
		if err != nil || string(got) != c.want {
			t.Errorf("AppendBelow(%v, %d) = %q, %v, want %q", c.v, c.decimals, got, err, c.want)
		}
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), 1.1e9} {
		if got, err := AppendBelow([]byte("x"), v, 3); err == nil || string(got) != "x" {
			t.Errorf("AppendBelow(%v) = %q, %v, want an error and nothing appended", v, got, err)
		}
	}
}

// Every whole speed in mm/s comes back from each unit as it was, unless it was cut: then
// it is less by no more than a step. The units are those of rules_test.go in gen/render.
func TestSpeedsAreNeverFaster(t *testing.T) {
	for _, unit := range speedUnits[:len(speedUnits)-1] {
		for decimals := range 6 {
			rules := Rules{Decimals: Decimals{Speed: decimals}, Units: Units{Speed: unit}}
			below, above := rules.Reach(Speed, 0)
			for mms := 1; mms <= 2000; mms++ {
				text, err := rules.AppendFigure(nil, Speed, unit.Of(float64(mms)))
				figure, unread := strconv.ParseFloat(string(text), 64)
				off := unit.Value(figure) - float64(mms)
				if err != nil || unread != nil || above != 0 || off > 1e-9*float64(mms) || off < -below {
					t.Fatalf("%d mm/s with %d decimals is written %s %s, %v", mms, decimals, text, unit.Name, err)
				}
				if unit.Name == "m/s" && decimals >= 3 && math.Abs(off) > 1e-9 {
					t.Fatalf("%d mm/s has three decimals in m/s, but is written %s", mms, text)
				}
			}
		}
	}
}

// awkward is a figure that may lie on a half, beside one, be nothing or be huge.
func awkward(rnd *rand.Rand, decimals int) float64 {
	switch v := (rnd.Float64() - 0.5) * math.Pow(10, float64(rnd.Intn(14)-4)); rnd.Intn(6) {
	case 0:
		return math.Round(v*64) / 64
	case 1: // what a decimal half looks like, and its neighbours
		v = (math.Round(v) + 0.5) / math.Pow10(decimals)
		return []float64{v, math.Nextafter(v, 2*v), math.Nextafter(v, 0)}[rnd.Intn(3)]
	case 2:
		return math.Round(v)
	case 3:
		return math.Float64frombits(rnd.Uint64()) // any exponent
	case 4:
		return math.Copysign(0, v)
	default:
		return v
	}
}

// The quick way of AppendFixed and strconv give the same digits.
func TestAppendFixedBothWays(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	for range 400_000 {
		decimals := rnd.Intn(10)
		v := awkward(rnd, decimals)
		if math.IsNaN(v) || math.Abs(v) > largest {
			continue
		}
		got, err := AppendFixed([]byte("x"), v, decimals)
		if want := string(appendSlowly([]byte("x"), v, decimals)); err != nil || string(got) != want {
			t.Fatalf("AppendFixed(%v, %d) = %q, %v, want %q", v, decimals, got, err, want)
		}
	}
}

func FuzzAppendFixed(f *testing.F) {
	for _, v := range []float64{0, 0.0005, -0.0005, 1.005, 4503599627370.4955, 1e9, 5e-324, 0.5, -179.9995} {
		f.Add(v, 3)
	}
	f.Fuzz(func(t *testing.T, v float64, decimals int) {
		if math.IsNaN(v) || math.Abs(v) > largest || decimals < 0 || decimals > 9 {
			return
		}
		if got, err := AppendFixed(nil, v, decimals); err != nil || string(got) != string(appendSlowly(nil, v, decimals)) {
			t.Fatalf("AppendFixed(%v, %d) = %q, %v, want %q", v, decimals, got, err, appendSlowly(nil, v, decimals))
		}
	})
}

func BenchmarkAppendFixed(b *testing.B) {
	var room [32]byte
	for i := range b.N {
		if _, err := AppendFixed(room[:0], float64(i&0xffff)*0.0173, 3); err != nil {
			b.Fatal(err)
		}
	}
}

func TestAppendTurn(t *testing.T) {
	for v, want := range map[float64]string{
		-180: "180.000", -179.9999: "180.000", -179.9994: "-179.999", 180: "180.000", -90: "-90.000", 0: "0.000", -1800: "-1800.000",
	} {
		if got, err := appendTurn(nil, v, 180, 3); err != nil || string(got) != want {
			t.Errorf("appendTurn(%v) = %q, %v, want %q", v, got, err, want)
		}
	}
	if got, _ := appendTurn(nil, -180, 180, 0); string(got) != "180" {
		t.Errorf("without decimals: %q", got)
	}
	if _, err := appendTurn(nil, math.NaN(), 180, 3); err == nil {
		t.Error("NaN is no angle")
	}
}
