package pattern

// placed is a block with its lower corner, in units.
type placed struct {
	block
	at [2]int64
}

// arrange draws blocks together, as far as they stay beside each other as they are, and
// centres them: all in the footprint's middle, and each in the room that is left to it.
func (f Floor) arrange(blocks []placed) []LayBox {
	room, _ := f.units()
	var at [2][]float64
	for axis := range 2 {
		at[axis] = settle(blocks, axis, room[axis])
	}
	var layer []LayBox
	for i, p := range blocks {
		layer = f.lay(layer, p.block, at[0][i], at[1][i])
	}
	return layer
}

// settle is where blocks go along one axis: halfway between as low as they get and as
// high as they get, in the least length that they need together. Halfway keeps what
// both ends keep, that a block ends before the one after it begins.
func settle(blocks []placed, axis int, room int64) []float64 {
	low := push(blocks, axis)
	used := int64(0)
	for i, p := range blocks {
		used = max(used, low[i]+p.size(axis))
	}
	reversed := make([]placed, len(blocks)) // seen from the other end
	for i, p := range blocks {
		for a := range 2 {
			p.at[a] = -p.at[a] - p.size(a)
		}
		reversed[i] = p
	}
	high := push(reversed, axis)
	at := make([]float64, len(blocks))
	for i, p := range blocks {
		at[i] = float64(low[i]+used-high[i]-p.size(axis)+room-used) / 2
	}
	return at
}

// push is how low every block gets along one axis while those beside it there stay
// beside it. Five blocks need no cleverer way.
func push(blocks []placed, axis int) []int64 {
	at := make([]int64, len(blocks))
	for range blocks { // the longest row has as many
		for i, p := range blocks {
			for k, q := range blocks {
				if before(&q, &p, axis) {
					at[i] = max(at[i], at[k]+q.size(axis))
				}
			}
		}
	}
	return at
}

// before reports whether one block ends before another begins, along an axis.
func before(p, q *placed, axis int) bool { return p.at[axis]+p.size(axis) <= q.at[axis] }
