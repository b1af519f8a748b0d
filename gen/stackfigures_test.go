package gen_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/check"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
)

// TestStackFiguresByCountingCells lays random pallets, half of them of two kinds of boxes, and holds
// what `check` says of them against cells of 5 × 5 mm that are counted one by one: all
// lengths are such that boxes fill whole cells. Where boxes are comes from the moves.
func TestStackFiguresByCountingCells(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 5))
	plans, hollow, tied, mixed := 0, 0, 0, 0
	rounds := 1000
	if testing.Short() {
		rounds = 100
	}
	for range rounds {
		p := randomPallet(r)
		j := new(gen.Job)
		if !j.Read(plan.Source{File: "pallet.plan.yaml", Data: []byte(p.text()), Dir: "."}, nil, layout.Options{}) {
			continue // nothing fits
		}
		j.Check()
		plans++
		all := p.cells(t, j)
		too := false
		for i, s := range check.Stacks(j.Layout) {
			k := &p.kinds[i]
			layers := all[k.from : k.from+k.layers]
			for n := range layers {
				if n+k.from > 0 {
					too = too || layers[n].on(&all[n+k.from-1]).least() < 0.6-1e-9
				}
			}
			p.figures(t, &s, k, layers)
			if s.On != nil && s.On.Tied() > 0 {
				tied++
			}
		}
		if piles := check.Together(check.Stacks(j.Layout)); len(piles) == 1 {
			mixed++
			p.pile(t, &piles[0], all)
		} else if len(p.kinds) > 1 {
			t.Errorf("%d piles on one footprint\n%s", len(piles), p.text())
		}
		said := false
		for _, f := range j.Findings.Sorted() {
			switch {
			case f.Rule == "no-support":
				said = true
			case f.Severity.String() == "error":
				t.Fatalf("%s: %s\n%s", f.Rule, f.Message, p.text())
			}
		}
		if too != said {
			t.Errorf("a box rests on too little: %t; the check says so: %t\n%s", too, said, p.text())
		}
		if too {
			hollow++
		}
		if t.Failed() {
			t.FailNow()
		}
	}
	t.Logf("%d plans, %d of them mixed, %d with a box on too little, %d stacks are tied", plans, mixed, hollow, tied)
	if least := rounds * 4 / 5; plans < least || mixed < least/4 || hollow < least/40 || tied < least/5 {
		t.Error("the test proves little")
	}
}

// cell is the side of a cell, mm.
const cell = 5

// kind is the boxes of one of a pallet's stacks: lengths in mm.
type kind struct {
	name      string
	size      [3]int
	mass      float64
	gap       int
	layers    int
	from      int // the number of its lowest layer in the pile
	pattern   string
	alternate string
}

type pallet struct {
	footprint [2]int
	kinds     []kind
}

func randomPallet(r *rand.Rand) *pallet {
	tens := func(from, to int) int { return 10 * (from + r.IntN(to-from+1)) }
	pick := func(words ...string) string { return words[r.IntN(len(words))] }
	p := &pallet{footprint: [2]int{tens(30, 80), tens(30, 80)}}
	from := 0
	for i := range 1 + r.IntN(2) {
		k := kind{name: []string{"low", "high"}[i], size: [3]int{tens(8, 30), tens(8, 30), tens(4, 20)}, mass: float64(1 + r.IntN(9)), layers: 1 + r.IntN(3), from: from,
			gap: 10 * r.IntN(3), pattern: pick("best", "best", "columns", "brick", "pinwheel"), alternate: pick("none", "turn", "mirror")}
		from += k.layers
		p.kinds = append(p.kinds, k)
	}
	return p
}

func (p *pallet) text() string {
	parts, grids, entries := "", "", ""
	height := 0
	for i, k := range p.kinds {
		parts += fmt.Sprintf("  %s: {mass: %g, size: [%d, %d, %d], grip: %d}\n", k.name, k.mass, k.size[0], k.size[1], k.size[2], k.size[2])
		grids += fmt.Sprintf("  from_%s: {frame: base, rows: 1, columns: 1, first: [-900, %d, 300], part: %s, flow: in}\n", k.name, 900*i, k.name)
		grids += fmt.Sprintf("  %s: {frame: base, first: [500, 600, %d], boxes: {layers: %d, pattern: %s, alternate: %s, gap: %d}, pallet: [%d, %d], part: %s}\n",
			k.name, height, k.layers, k.pattern, k.alternate, k.gap, p.footprint[0], p.footprint[1], k.name)
		entries += fmt.Sprintf("  - {from: from_%s, to: %s}\n", k.name, k.name)
		height += k.layers * k.size[2]
	}
	return `format: gridferry plan 1
cell:
  tools: {plate: {tcp: {at: [0, 0, 200]}, mass: 5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  poses: {clear: {at: [0, 0, 3000]}}
parts:
` + parts + "grids:\n" + grids + "motion: {tool: plate, approach: 500, speed: {travel: 500, near: 60}, clear: clear}\ntransfers:\n" + entries
}

// cells is one layer: the box in each cell, from 1 on; 0 for none.
type cells struct {
	box     [][]int
	boxes   int
	size    [3]int // of the boxes, mm
	x, y    int    // of all middles, mm
	bottom  int
	covered int
}

// cells goes through the moves and fills the cells of every layer of the pile.
func (p *pallet) cells(t *testing.T, j *gen.Job) []cells {
	t.Helper()
	var all []cells
	var at move.Point
	for _, k := range p.kinds {
		for range k.layers {
			c := cells{size: k.size, box: make([][]int, p.footprint[0]/cell)}
			for i := range c.box {
				c.box[i] = make([]int, p.footprint[1]/cell)
			}
			if len(all) > 0 {
				last := all[len(all)-1]
				c.bottom = last.bottom + last.size[2]
			}
			all = append(all, c)
		}
	}
	for m := range j.Moves() {
		if m.Kind.IsMotion() {
			at = m.Base
		}
		if m.Kind != move.Release || m.Target.Grid == "" {
			continue
		}
		i := slices.IndexFunc(p.kinds, func(k kind) bool { return k.name == m.Target.Grid })
		c := &all[p.kinds[i].from+int(m.Target.Slot.Layer)]
		c.put(t, at)
	}
	return all
}

// put fills the cells of a box that the tool lets go of, held at its lid.
func (c *cells) put(t *testing.T, at move.Point) {
	t.Helper()
	size := c.size
	if int(math.Round(math.Abs(at.Yaw)))%180 == 90 {
		size[0], size[1] = size[1], size[0]
	}
	x0, y0 := at.X-500-float64(size[0])/2, at.Y-600-float64(size[1])/2
	if whole := math.Round(x0/cell)*cell == x0 && math.Round(y0/cell)*cell == y0; !whole || math.Abs(at.Z-float64(c.bottom+c.size[2])) > 1e-6 {
		t.Fatalf("a box at %g, %g, its lid at %g: no whole cells, or not on the layer below", x0, y0, at.Z)
	}
	c.boxes++
	c.x, c.y = c.x+2*int(x0)+size[0], c.y+2*int(y0)+size[1] // twice
	for i := int(x0) / cell; i < (int(x0)+size[0])/cell; i++ {
		for k := int(y0) / cell; k < (int(y0)+size[1])/cell; k++ {
			if c.box[i][k] != 0 {
				t.Fatalf("boxes %d and %d are in each other", c.box[i][k], c.boxes)
			}
			c.box[i][k] = c.boxes
			c.covered++
		}
	}
}

// borne is how the boxes of a layer rest on the one below, by cells.
type borne struct {
	share []float64
	under []int
}

func (b borne) least() float64 { return slices.Min(append([]float64{1}, b.share...)) }

func (c *cells) on(below *cells) (b borne) {
	counts := make([]map[int]int, c.boxes)
	for i := range c.box {
		for k, box := range c.box[i] {
			if box > 0 {
				if counts[box-1] == nil {
					counts[box-1] = map[int]int{}
				}
				counts[box-1][below.box[i][k]]++
			}
		}
	}
	own := c.size[0] * c.size[1] / (cell * cell)
	for _, on := range counts {
		under := 0
		for box, n := range on {
			if box > 0 && 100*n > own {
				under++
			}
		}
		b.share = append(b.share, float64(own-on[0])/float64(own))
		b.under = append(b.under, under)
	}
	return b
}

// joint is the room between two boxes in one line of cells, from where to where.
type joint struct{ from, to int }

// joints is those of one line of cells.
func (c *cells) joints(line []int) (all []joint) {
	last, end := 0, 0
	for i, box := range line {
		if box == 0 {
			continue
		}
		if last != 0 && box != last && (i-end)*cell < min(c.size[0], c.size[1]) {
			all = append(all, joint{end, i})
		}
		last, end = box, i+1
	}
	return all
}

// crossed is the joints of a layer, mm, and how much of them is above others.
func (c *cells) crossed(below *cells) (length, through int) {
	lines := func(of *cells) (all [][]int) {
		for k := range of.box[0] {
			var line []int
			for i := range of.box {
				line = append(line, of.box[i][k])
			}
			all = append(all, line)
		}
		return append(all, of.box...)
	}
	under := lines(below)
	for n, line := range lines(c) {
		for _, j := range c.joints(line) {
			length += cell
			if slices.ContainsFunc(below.joints(under[n]), func(o joint) bool { return o.from <= j.to && j.from <= o.to }) {
				through += cell
			}
		}
	}
	return length, through
}

// figures holds what check says of one stack against its layers.
func (p *pallet) figures(t *testing.T, s *check.Stacked, k *kind, layers []cells) {
	t.Helper()
	differ := func(what string, got, want any) {
		t.Errorf("%s: %s %v, wanted %v\n%s", k.name, what, got, want, p.text())
	}
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-6 {
			differ(what, got, want)
		}
	}
	if len(s.Words()) == 0 || !strings.HasPrefix(s.Words()[0], fmt.Sprintf("%d box", layers[0].boxes)) {
		differ("words", s.Words(), layers[0].boxes)
	}
	near("share", s.Share, float64(layers[0].covered*cell*cell)/float64(p.footprint[0]*p.footprint[1]))
	near("height", s.Height, float64(k.layers*k.size[2]))
	p.centre(t, s, layers)
	if k.layers == 1 {
		if s.On != nil {
			differ("overlap of one layer", s.On, nil)
		}
		return
	}
	want := layers[1].on(&layers[0])
	slices.Sort(want.share)
	slices.Sort(want.under)
	if got := slices.Sorted(slices.Values(s.On.On)); !slices.Equal(got, want.under) {
		differ("boxes below each", got, want.under)
	}
	for i, got := range slices.Sorted(slices.Values(s.On.Rests)) {
		near("share of a base", got, want.share[i])
	}
	length, through := layers[1].crossed(&layers[0])
	if math.Abs(s.On.Joints-float64(length)) > 0.1 || math.Abs(s.On.Through-float64(through)) > 0.1 {
		differ("joints", [2]float64{s.On.Joints, s.On.Through}, [2]int{length, through})
	}
}

// pile holds what check says of all stacks on the footprint together.
func (p *pallet) pile(t *testing.T, s *check.Stacked, all []cells) {
	t.Helper()
	top := all[len(all)-1]
	if want := float64(top.bottom + top.size[2]); math.Abs(s.Height-want) > 1e-6 {
		t.Errorf("the pile is %g mm high, wanted %g\n%s", s.Height, want, p.text())
	}
	p.centre(t, s, all)
}

// centre holds mass and centre of gravity against those of some layers.
func (p *pallet) centre(t *testing.T, s *check.Stacked, layers []cells) {
	t.Helper()
	var mass, x, y, z float64
	for i := range layers {
		c := &layers[i]
		one := p.kinds[slices.IndexFunc(p.kinds, func(k kind) bool { return k.size == c.size })].mass
		of := one * float64(c.boxes)
		mass += of
		x += one * float64(c.x) / 2
		y += one * float64(c.y) / 2
		z += of * (float64(c.bottom-layers[0].bottom) + float64(c.size[2])/2)
	}
	if math.Abs(s.Mass-mass) > 1e-6 || math.Abs(s.Centre.X-x/mass) > 1e-6 || math.Abs(s.Centre.Y-y/mass) > 1e-6 || math.Abs(s.Centre.Z-z/mass) > 1e-6 {
		t.Errorf("%g kg with its centre at %v, wanted %g kg and %g, %g, %g\n%s", s.Mass, s.Centre, mass, x/mass, y/mass, z/mass, p.text())
	}
}
