package check_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"gridferry/gen/check"
	"gridferry/gen/expand"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// axesPlan has one post somewhere between two slots, and a TCP without a body.
const axesPlan = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  poses: {clear: {at: [%d, %d, %d]}}
  keep_out: {post: {from: [%d, %d, 0], to: [%d, %d, %d]}}
parts: {bead: {mass: 0.1}}
grids:
  here: {frame: base, rows: 1, columns: 1, first: [0, 0, 30], part: bead, filled: all}
  there: {frame: base, rows: 1, columns: 1, first: [300, 200, 30]}
motion: {tool: jaw, approach: 70, speed: {travel: 500, near: 60}, clear: clear}
transfers:
  - {from: here, to: there}
`

// TestTravelsByAxesAgainstSamples drives three axes at speeds of their own, a millimetre
// at a time: what enters the post was said, and nothing is said of what no speeds lead
// there.
func TestTravelsByAxesAgainstSamples(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(13, 5))
	entered, free := 0, 0
	for range 60 {
		x, y := 20+r.IntN(250), 20+r.IntN(150)
		text := fmt.Sprintf(axesPlan, r.IntN(300), r.IntN(200), 100+r.IntN(200), x, y, x+20+r.IntN(40), y+20+r.IntN(40), 60+r.IntN(200))
		var list diag.List
		l := resolve(text, &list)
		check.Run(l, expand.Batches(l, expand.Whole), &list)
		if list.HasErrors() {
			continue // the post stands in a slot
		}
		check.Travels(l, expand.Batches(l, expand.Whole), &list, check.Travel{Path: move.AxesPath, Family: "some"})
		said := strings.Contains(strings.Join(errorsOf(&list), "\n"), "each axis moves")
		if enters := entersPost(l, r); enters != said {
			t.Fatalf("enters the post: %t, said: %t\n%s\n%v", enters, said, text, errorsOf(&list))
		}
		if said {
			entered++
		} else {
			free++
		}
	}
	if entered < 10 || free < 10 {
		t.Errorf("%d entered, %d did not: the test proves little", entered, free)
	}
}

// entersPost tries many speeds on each travel.
func entersPost(l *layout.Layout, r *rand.Rand) bool {
	b := l.Boxes[0]
	var from geom.Vec
	for m := range expand.Moves(l) {
		if !m.Kind.IsMotion() {
			continue
		}
		to := m.Base.Vec
		for range 200 {
			if m.Kind != move.Travel || m.N < 3 {
				break
			}
			if meets(from, to, [3]float64{r.ExpFloat64(), r.ExpFloat64(), r.ExpFloat64()}, b) {
				return true
			}
		}
		from = to
	}
	return false
}

// meets goes from one end to the other; each axis has gone its share, times its
// speed, or all of its way.
func meets(from, to geom.Vec, speed [3]float64, b *layout.Box) bool {
	const steps = 300
	way := to.Sub(from)
	for k := range 5 * steps {
		share := func(i int) float64 { return min(1, float64(k)*speed[i]/steps) }
		at := geom.Vec{X: from.X + float64(share(0)*way.X), Y: from.Y + float64(share(1)*way.Y), Z: from.Z + float64(share(2)*way.Z)}
		if at.X > b.From.X && at.X < b.To.X && at.Y > b.From.Y && at.Y < b.To.Y && at.Z > b.From.Z && at.Z < b.To.Z {
			return true
		}
	}
	return false
}
