package pattern

// Pinwheel is the layer of four blocks round a hole in the middle, each turned by 90°
// against the next and the same as the one across: with the most boxes, then with the
// smallest hole, which may have closed. It looks the same after half a turn; it is its
// mirror image that ties it to the layer below. Nil, too, where no four blocks fit so.
func (f Floor) Pinwheel(looks *Looks) []LayBox {
	if !f.lays() {
		return nil
	}
	room, box := f.units()
	columns, rows := room[0]/box[1], room[1]/box[0] // of turned boxes
	if max(box[0], box[1]) > min(room[0], room[1]) || !looks.take(int(columns*rows*(room[0]/box[0]))) {
		return nil
	}
	var best [2]block
	most, hole := int64(0), 0.0
	for nx := int64(1); nx <= columns; nx++ {
		for ny := int64(1); ny <= rows; ny++ {
			for mx := (room[0] - nx*box[1]) / box[0]; mx > 0; mx-- {
				a, b := vanes(room, box, nx, ny, mx)
				open := float64(b.size(0)-a.size(0)) * float64(a.size(1)-b.size(1))
				if n := a.boxes() + b.boxes(); b.boxes() > 0 && open >= 0 && (n > most || n == most && open < hole) {
					best, most, hole = [2]block{a, b}, n, open
				}
			}
		}
	}
	if most == 0 {
		return nil
	}
	return f.arrange(wheel(best[0], best[1]))
}

// vanes is two blocks of a pinwheel beside each other: a turned one at the corner, and one
// of mx boxes along X that are not turned, as deep as there is room for.
func vanes(room, box [2]int64, nx, ny, mx int64) (a, b block) {
	a = blockOf(nx, ny, box, true)
	b = blockOf(mx, (room[1]-a.size(1))/box[1], box, false)
	if b.size(0) > a.size(0) { // then the blocks like b meet in the middle unless they are shallower
		b.n[1] = min(b.n[1], a.size(1)/box[1])
	}
	return a, b
}

// wheel is two blocks and each again across, turned by half about their middle.
func wheel(a, b block) []placed {
	return []placed{
		{a, [2]int64{0, 0}},
		{b, [2]int64{a.size(0), 0}},
		{a, [2]int64{b.size(0), b.size(1)}},
		{b, [2]int64{0, a.size(1)}},
	}
}
