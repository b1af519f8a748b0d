package layout

import (
	"slices"

	"gridferry/gen/slot"
)

// byZones puts the boxes that an entry puts into a stack, or takes out of one, in an order in which
// those that the zones of its tool reach in one descent come together. No box is put down behind
// another one, nor taken from behind one, any more than in the order of the slots. A box with no
// box beside it for the other zones waits as long as it can, and shares its group with another
// one of that kind.
func (c *chooser) byZones(seq *Sequence, taking bool) {
	tool := c.r.out.Figures(c.e, seq.Grid).Tool
	if c.e.AtOnce == 1 || !seq.Grid.Stacked() || tool == nil || !c.r.look(2*seq.Grid.PerLayer()*seq.Grid.PerLayer(), c.e.Place) {
		return
	}
	z := zoned{Sequence: seq, tool: tool, taking: taking, zones: c.e.AtOnce, waiting: NewSlots(seq.Grid.Size())}
	var in []int
	for at := range seq.All() {
		i := seq.Grid.Index(at)
		in = append(in, i)
		z.waiting.Add(i)
	}
	for kind := range z.shields {
		if z.shields[kind] = seq.Grid.Stack.Shields(seq.Grid.Stack.Layers[kind], seq.Grid.Stack.From, &c.r.laying); z.shields[kind] == nil {
			return
		}
		z.mates[kind] = z.matesOf(int32(kind))
	}
	if list := z.order(in, func() bool { return c.r.look(z.spent, c.e.Place) }); list != nil {
		seq.list, seq.only, seq.except, seq.skip = list, nil, nil, 0
	}
}

// zoned is a sequence while it is put in the order of groups.
type zoned struct {
	*Sequence
	tool    *Tool
	spent   int // boxes that were looked at since that was paid for
	taking  bool
	zones   int
	waiting Slots       // those whose turn is still to come
	shields [2][][]bool // by kind of layer: as pattern.Floor.Shields has it
	mates   [2][][]int  // by kind of layer and box: the boxes that the further zones stand at; nil for not all of them
}

// matesOf finds, for every box of a kind of layer, the boxes for the further zones where the first
// zone is at it.
func (z *zoned) matesOf(kind int32) [][]int {
	n := z.Grid.PerLayer()
	at := func(i int) slot.Slot { return slot.Slot{Col: int32(i), Layer: min(kind, int32(z.Grid.Layers-1))} }
	all := make([][]int, n)
	for i := range n {
		_, first := z.Grid.Points(at(i))
		slots := []slot.Slot{at(i)}
		for zone := 1; zone < z.zones; zone++ {
			stands := z.tool.Zone(zone).At(z.tool.Zone(0), first)
			for k := range n {
				if near := z.Grid.Frame.Base.Apply(z.Grid.At(at(k))).Dist(stands.Vec); near <= ZoneOff && !slices.Contains(slots, at(k)) {
					slots = append(slots, at(k))
					break
				}
			}
		}
		if len(slots) < z.zones || !z.tool.InOneDescent(z.Grid, slots) {
			continue
		}
		for _, s := range slots[1:] {
			all[i] = append(all[i], int(s.Col))
		}
	}
	return all
}

// order is the slots' numbers in the new order; nil where paying for it fails.
func (z *zoned) order(in []int, pay func() bool) []int32 {
	out := make([]int32, 0, len(in))
	begin := 0 // of what waits in the old order
	for len(out) < len(in) {
		for begin < len(in) && !z.waiting.Has(in[begin]) {
			begin++
		}
		group := z.group(in[begin:], min(z.zones, len(in)-len(out)))
		for _, i := range group {
			z.waiting.Remove(i)
			out = append(out, int32(i))
		}
		if !pay() {
			return nil
		}
		z.spent = 0
	}
	return out
}

// group is the next n slots: those of one descent where there are such in the layer whose turn it
// is, and otherwise the next ones that are alone.
func (z *zoned) group(rest []int, n int) []int {
	layer := z.layer(rest[0])
	for _, i := range rest {
		if z.layer(i) != layer {
			break
		}
		if g := z.descent(i); n == z.zones && g != nil {
			return g
		}
	}
	var alone []int
	for len(alone) < n {
		i := z.single(rest)
		z.waiting.Remove(i)
		alone = append(alone, i)
	}
	return alone
}

// descent is a group with its first zone at slot i; nil where its boxes are not all there to be
// put down, or taken, now.
func (z *zoned) descent(i int) []int {
	layer := z.layer(i)
	mates := z.mates[layer%2][i-layer*z.Grid.PerLayer()]
	if mates == nil || !z.waiting.Has(i) {
		return nil
	}
	group := []int{i}
	for _, k := range mates {
		if k += layer * z.Grid.PerLayer(); !z.waiting.Has(k) {
			return nil
		}
		group = append(group, k)
	}
	for _, k := range group {
		if !z.free(k, group) {
			return nil
		}
	}
	return group
}

// single is the next slot by itself: one that is in no group that is still to come, if there is one.
func (z *zoned) single(rest []int) int {
	first, layer := -1, -1
	for _, i := range rest {
		if !z.waiting.Has(i) {
			continue
		}
		if layer < 0 {
			layer = z.layer(i)
		}
		if z.layer(i) != layer {
			break
		}
		if !z.free(i, nil) {
			continue
		}
		if first < 0 {
			first = i
		}
		if !z.paired(i) {
			return i
		}
	}
	return first
}

// paired reports whether a slot is in a group of which all wait.
func (z *zoned) paired(i int) bool {
	layer := z.layer(i)
	base := layer * z.Grid.PerLayer()
	z.spent += z.Grid.PerLayer()
	for k, mates := range z.mates[layer%2] {
		if mates == nil || !z.waiting.Has(base+k) {
			continue
		}
		has, all := base+k == i, true
		for _, m := range mates {
			has, all = has || base+m == i, all && z.waiting.Has(base+m)
		}
		if has && all {
			return true
		}
	}
	return false
}

// free reports whether nothing is in the way of a box, but for others of its group.
func (z *zoned) free(i int, group []int) bool {
	layer := z.layer(i)
	base := layer * z.Grid.PerLayer()
	shields := z.shields[layer%2]
	z.spent += z.Grid.PerLayer()
	for k := range z.Grid.PerLayer() {
		// Put down, a box comes behind those that it would shut off; taken, before them.
		inTheWay := shields[i-base][k]
		if z.taking {
			inTheWay = shields[k][i-base]
		}
		if inTheWay && z.waiting.Has(base+k) && !slices.Contains(group, base+k) {
			return false
		}
	}
	return true
}

func (z *zoned) layer(i int) int { return i / z.Grid.PerLayer() }
