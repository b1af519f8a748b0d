package readback

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridferry/gen/family/reads"
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
)

// TestOnlyTheFigureItselfIsABound: of all figures, a speed is read back as the one that is
// written for it, and not as the next one up or down, whether something was cut off or not.
// Of more decimals than these, a step comes near to what arithmetic loses.
func TestOnlyTheFigureItselfIsABound(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 9))
	units := []rules.Unit{{Name: "mm/s", Times: 1, Over: 1}, {Name: "m/s", Times: 1, Over: 1000}, {Name: "inch/min", Times: 60, Over: 25.4}, {Name: "percent", Times: 100}}
	for _, unit := range units {
		for decimals := range 7 {
			r := rules.Rules{Decimals: rules.Decimals{Speed: decimals}, Units: rules.Units{rules.Speed: unit}}
			const machine = 1750.0
			j, unit := NewJudge(&r, &move.Job{Speed: machine}), r.Units.At(rules.Speed, machine)
			for range 300 {
				whole := float64(random.IntN(2000) + 1)
				for _, speed := range []float64{whole, random.Float64() * 2000, whole / 10, math.Nextafter(whole, 0), math.Nextafter(whole, 3000)} {
					text, err := r.AppendFigure(nil, rules.Speed, unit.Of(speed))
					if err != nil {
						t.Fatal(err)
					}
					figure, _ := reads.Decimal(text, '.')
					step := math.Pow10(-decimals)
					for by, want := range map[float64]bool{-step: false, 0: true, step: false} {
						var got reads.Values
						got.Set(reads.Speed, unit.Value(figure+by))
						if same := !j.differs(reads.Speed, &got, speed); same != want {
							t.Fatalf("%v mm/s is written %s %s: %+g beside that is the same: %v", speed, text, unit.Name, by, same)
						}
					}
				}
			}
		}
	}
}
