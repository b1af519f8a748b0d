package rules

import (
	"math/rand/v2"
	"strconv"
	"testing"
)

// A value that is rounded without a text is the one that its text reads as.
func TestWrittenIsWhatTheTextSays(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, decimals := range []int{0, 1, 3, 9} {
		r := Default()
		r.Units[Length], r.Units[Speed] = lengthUnits[1], speedUnits[1]
		r.Decimals = Decimals{Length: decimals, Angle: decimals, Time: decimals, Speed: decimals, Mass: decimals, Quaternion: decimals}
		for i := range 4000 {
			q := []Quantity{Length, Angle, Component, Speed, Limit}[i%5]
			v := (rng.Float64() - 0.5) * []float64{1, 300, 5e6}[i%3]
			if i%4 == 0 {
				v = float64(int(v*2)) / 2 // halves among them
			}
			if q.bounds() {
				v = max(v, -v)
			}
			text, err := r.AppendFigure(nil, q, r.Units.At(q, 0).Of(v))
			if err != nil {
				t.Fatal(err)
			}
			figure, err := strconv.ParseFloat(string(text), 64)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := r.Written(q, v, 0), r.Units.At(q, 0).Value(figure); got != want {
				t.Fatalf("%v of quantity %d is written %s, which is %v, and counts as %v", v, q, text, want, got)
			}
		}
	}
}
