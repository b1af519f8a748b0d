package pattern

import (
	"math"
	"slices"
)

// LayBox is one box of a layer: where its middle is, from the footprint's corner, in
// mm, and how far the box is turned about Z: 0 or 90 degrees.
type LayBox struct{ X, Y, Turned float64 }

// Floor is what a layer of equal boxes is laid on, and of what. All layers that it
// gives are centred on the footprint and lie square to it; nil where not one box fits,
// or where more than MostBoxes might.
type Floor struct {
	Footprint [2]float64 // along X and Y, mm
	Base      [2]float64 // of a box that is not turned, along X and Y, mm
	Gap       float64    // between boxes side by side, at least, mm
}

// MostBoxes is how many boxes a layer may have: a hundred times what people stack. It
// keeps all that is asked of a layer below some tenths of a second.
const MostBoxes = 2000

// Looks is how much work may still be done for layers, counted and not timed: a look
// is a layout that is weighed, or two boxes that are held against each other, some 10 ns.
// Whoever lays boxes of a file that anyone may have sent gives all of them the same
// looks; beyond them every answer is empty.
type Looks struct{ Left int }

// take uses up so many looks, and reports whether there were as many.
func (l *Looks) take(n int) bool {
	l.Left -= n
	return l.Left >= 0
}

// Over reports that more was asked for than there were looks.
func (l *Looks) Over() bool { return l.Left < 0 }

// AreaBound is the most boxes that the footprint's area allows, gaps counted in: no
// layer has more.
func (f Floor) AreaBound() int {
	room, box := f.units()
	if box[0] <= 0 || box[1] <= 0 || room[0] <= 0 || room[1] <= 0 {
		return 0
	}
	// In floats: the areas may be beyond whole numbers. A layer that fills the footprint
	// to the last hair must not be counted out by rounding.
	return int(min(math.Floor(float64(room[0])/float64(box[0])*(float64(room[1])/float64(box[1]))*(1+1e-12)), 1e15))
}

// lays reports whether boxes of such a size can be laid at all.
func (f Floor) lays() bool {
	bound := f.AreaBound()
	return bound > 0 && bound <= MostBoxes && f.Base[0] > 0 && f.Base[1] > 0
}

// unit is what layers are worked out in: whole millionths of a millimetre, so that three
// boxes of 0.1 mm fit on 0.3 mm, on every machine.
const unit = 1e6

// units is the footprint and the base, in whole units. Both are longer by the gap, as if
// every box had it at two of its sides: then boxes touch, and gaps need no thought.
func (f Floor) units() (room, box [2]int64) {
	for i := range 2 {
		room[i] = int64(math.Round(float64((f.Footprint[i] + f.Gap) * unit)))
		box[i] = int64(math.Round(float64((f.Base[i] + f.Gap) * unit)))
	}
	return room, box
}

// block is boxes side by side and one behind the other, all turned alike.
type block struct {
	n      [2]int64 // boxes along X and along Y
	box    [2]int64 // of one of them as it lies, in units
	turned bool
}

func blockOf(nx, ny int64, box [2]int64, turned bool) block {
	if turned {
		box[0], box[1] = box[1], box[0]
	}
	return block{[2]int64{nx, ny}, box, turned}
}

// fill is the block with the most boxes in a room; not turned where that is as many.
func fill(room, box [2]int64) block {
	straight := blockOf(room[0]/box[0], room[1]/box[1], box, false)
	turned := blockOf(room[0]/box[1], room[1]/box[0], box, true)
	if turned.boxes() > straight.boxes() {
		return turned
	}
	return straight
}

func (b block) boxes() int64 { return b.n[0] * b.n[1] }

func (b block) size(axis int) int64 { return b.n[axis] * b.box[axis] }

// lay gives the boxes of a block whose corner is somewhere, in units.
func (f Floor) lay(layer []LayBox, b block, x, y float64) []LayBox {
	base := f.Base
	if b.turned {
		base[0], base[1] = base[1], base[0]
	}
	for j := range b.n[1] {
		for i := range b.n[0] {
			layer = append(layer, LayBox{
				X: (x+float64(i*b.box[0]))/unit + base[0]/2, Y: (y+float64(j*b.box[1]))/unit + base[1]/2, Turned: b.turning(),
			})
		}
	}
	return layer
}

func (b block) turning() float64 {
	if b.turned {
		return 90
	}
	return 0
}

// Columns is the layer of boxes in straight rows and columns, all turned alike: as they
// are, or by 90° where more of them fit so. Each stands right on the one below, whatever
// is done with every second layer, so nothing ties such a stack together.
func (f Floor) Columns() []LayBox {
	if !f.lays() {
		return nil
	}
	room, box := f.units()
	b := fill(room, box)
	return f.lay(nil, b, float64(room[0]-b.size(0))/2, float64(room[1]-b.size(1))/2)
}

// HalfTurn is a layer turned by 180° about the middle of the footprint. The boxes lie
// as before, 0 or 90: half a turn of its own makes no difference to a box's base.
func (f Floor) HalfTurn(layer []LayBox) []LayBox {
	return f.image(layer, func(b LayBox) LayBox { return LayBox{f.Footprint[0] - b.X, f.Footprint[1] - b.Y, b.Turned} })
}

// Mirror is a layer mirrored in the middle of the footprint: left for right (along X),
// and where that changes nothing, front for back.
func (f Floor) Mirror(layer []LayBox) []LayBox {
	mirrored := f.image(layer, func(b LayBox) LayBox { return LayBox{f.Footprint[0] - b.X, b.Y, b.Turned} })
	if !same(layer, mirrored) {
		return mirrored
	}
	return f.image(layer, func(b LayBox) LayBox { return LayBox{b.X, f.Footprint[1] - b.Y, b.Turned} })
}

func (f Floor) image(layer []LayBox, of func(LayBox) LayBox) []LayBox {
	made := make([]LayBox, len(layer))
	for i, b := range layer {
		made[i] = of(b)
	}
	return made
}

// same reports whether two layers have their boxes in the same places, in whatever order.
func same(a, b []LayBox) bool {
	type place [3]int64
	places := func(layer []LayBox) []place {
		all := make([]place, len(layer))
		for i, b := range layer {
			all[i] = place{int64(math.Round(float64(b.X * 1000))), int64(math.Round(float64(b.Y * 1000))), int64(b.Turned)} // to a thousandth of a mm
		}
		slices.SortFunc(all, func(a, b place) int { return slices.Compare(a[:], b[:]) })
		return all
	}
	return slices.Equal(places(a), places(b))
}
