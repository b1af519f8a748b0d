package check

import (
	"math/rand/v2"
	"testing"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
)

// TestBerthsKnowWhatIsFree: where berths say that a way or a corner is free, a close look finds nothing either, among boxes that stand
// anyhow, of an arm whose links may hit each other. Several are asked about one after the other, so that most berths are those of others.
func TestBerthsKnowWhatIsFree(t *testing.T) {
	t.Parallel()
	q := question{a: benchArm(), r: rand.New(rand.NewPCG(5, 11))}
	free, hit, close := 0, 0, 0
	for range 60 {
		l := q.among(3, geom.Vec{Z: 500}, 700)
		for kind := range 2 {
			look := lookAt(l)
			w := look.w
			w.pairs = w.pairsOf(w.limbs, &arm.Readings{})
			middle := q.readings(70)
			near := func(most float64) (r arm.Readings) {
				for i := range q.a.Joints {
					r[i] = middle[i] + q.between(-most, most)
				}
				return r
			}
			for range 12 {
				from, to, by := near(25), near(25), near(25)
				look.hit, look.open, look.travels = nil, nil, kind == allLimbs
				p := w.space(look.s, kind)
				knows := p.way(&from, &to, 0)
				if look.halves(&from, &to, 0, 1); look.hit == nil && kind == allLimbs {
					by = mean(&from, &by, 0.2)
					to = mean(&from, &to, 0.2)
					knows = p.corner(&by, &from, &to, 0)
					look.open = nil
					look.triangle(&by, &from, &to)
				}
				switch {
				case look.hit != nil && knows:
					t.Errorf("%v to %v is said to be free, and %.2f mm deep in %s at %v", from, to, look.hit.deep, look.hit.what, look.hit.at)
				case look.hit != nil:
					hit++
				case knows:
					free++
				default:
					close++
				}
			}
		}
	}
	t.Logf("%d are free, %d are not, %d are free and not known to be", free, hit, close)
	if hit < 100 || free < 10*close {
		t.Error("the test proves little")
	}
}
