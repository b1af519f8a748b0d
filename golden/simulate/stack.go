package simulate

import (
	"cmp"
	"math"
	"slices"

	"gridferry/plan"
)

// laid is a box of a layer: its middle from the corner of the footprint, how far it is turned, and how
// far it reaches from its middle.
type laid struct{ x, y, turned, alongX, alongY float64 }

// stack is layers of boxes on a pallet, of those patterns that words settle: columns, and boxes that are
// written out.
func (g *grid) stack(b *plan.Boxes) {
	size, floor := Vec(g.part.Size.V), g.Pallet.Size
	box := func(x, y, turned float64) laid {
		if turned == 90 {
			return laid{x, y, 90, size[1] / 2, size[0] / 2}
		}
		return laid{x, y, 0, size[0] / 2, size[1] / 2}
	}
	var odd []laid
	for _, out := range b.Out {
		odd = append(odd, box(out.At.V[0], out.At.V[1], float64(out.Turned.V)))
	}
	if b.Out == nil {
		odd = columns(floor, size, b.Gap.V, 0, box)
		if turned := columns(floor, Vec{size[1], size[0]}, b.Gap.V, 90, box); len(turned) > len(odd) {
			odd = turned
		}
	}
	image := func(of func(laid) laid) (all []laid) {
		for _, one := range odd {
			all = append(all, of(one))
		}
		return all
	}
	even := odd
	switch b.Alternate.V {
	case "turn":
		even = image(func(l laid) laid { return box(floor[0]-l.x, floor[1]-l.y, l.turned) })
	case "mirror":
		if even = image(func(l laid) laid { return box(floor[0]-l.x, l.y, l.turned) }); alike(odd, even) {
			even = image(func(l laid) laid { return box(l.x, floor[1]-l.y, l.turned) })
		}
	}
	from := g.side(b.Side.V)
	layers := [][]laid{putDown(odd, from), putDown(even, from)}
	g.even(1, len(odd))
	g.layers = b.Layers.Or(1)
	held := g.part.Grip.Or(size[2] / 2)
	g.lies = func(s slot) (Vec, float64) {
		l := layers[s.layer%2][s.col]
		return Vec(g.First.V).add(Vec{l.x, l.y, held + float64(s.layer)*size[2]}, 1), l.turned
	}
}

// columns are straight rows and columns in the middle of a floor.
func columns(floor [2]float64, size Vec, gap, turned float64, box func(x, y, turned float64) laid) (all []laid) {
	var n, corner [2]float64
	for k := range n {
		n[k] = math.Floor((floor[k] + gap + 1e-9) / (size[k] + gap))
		corner[k] = (floor[k] - n[k]*(size[k]+gap) + gap) / 2
	}
	for i := 0.0; i < n[0]; i++ {
		for k := 0.0; k < n[1]; k++ {
			all = append(all, box(corner[0]+i*(size[0]+gap)+size[0]/2, corner[1]+k*(size[1]+gap)+size[1]/2, turned))
		}
	}
	return all
}

// alike reports whether two layers have their boxes in the same places.
func alike(a, b []laid) bool {
	for _, one := range a {
		if !slices.ContainsFunc(b, func(l laid) bool {
			return math.Hypot(l.x-one.x, l.y-one.y) < 1e-3 && l.turned == one.turned
		}) {
			return false
		}
	}
	return true
}

// side is the direction of the side over which the tool comes: the one that is written, or the one that
// the machine's base is farthest outside of.
func (g *grid) side(written string) (way [2]float64) {
	base := g.frame.pose.inverse().At.add(Vec(g.First.V), -1)
	far := map[string]float64{"-x": -base[0], "+x": base[0] - g.Pallet.Size[0], "-y": -base[1], "+y": base[1] - g.Pallet.Size[1]}
	words := []string{"-x", "+x", "-y", "+y"}
	if written == "" {
		written = slices.MaxFunc(words, func(a, b string) int { return cmp.Compare(far[a], far[b]) })
	}
	return [][2]float64{{-1, 0}, {1, 0}, {0, -1}, {0, 1}}[slices.Index(words, written)]
}

// putDown is a layer in the order in which its boxes are put down: none that is there lies between a box
// and the tool's side; of those that can come next the one whose middle is farthest from that side, then
// the one whose corner has the lowest X, then Y.
func putDown(layer []laid, from [2]float64) (order []laid) {
	wait := slices.Clone(layer)
	for len(wait) > 0 {
		next := -1
		for i := range wait {
			free := true
			for k := range wait {
				free = free && (k == i || !wait[i].before(wait[k], from))
			}
			if free && (next < 0 || cmp.Or(round(wait[i].far(from)-wait[next].far(from)), round(wait[next].x-wait[next].alongX-wait[i].x+wait[i].alongX),
				round(wait[next].y-wait[next].alongY-wait[i].y+wait[i].alongY)) > 0) {
				next = i
			}
		}
		order = append(order, wait[next])
		wait = slices.Delete(wait, next, next+1)
	}
	return order
}

// round makes nothing of what is less than a thousandth of a millimetre.
func round(mm float64) float64 { return math.Round(mm * 1000) }

// far is how far the middle of a box is from the tool's side, but for a length that all have in common.
func (l laid) far(from [2]float64) float64 { return -l.x*from[0] - l.y*from[1] }

// before reports whether a box stands on the way of another one to the tool's side.
func (l laid) before(other laid, from [2]float64) bool {
	beside := round(math.Abs(l.y-other.y)-l.alongY-other.alongY) < 0
	if from[0] == 0 {
		beside = round(math.Abs(l.x-other.x)-l.alongX-other.alongX) < 0
	}
	return beside && l.far(from) < other.far(from)
}
