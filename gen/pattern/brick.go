package pattern

// Brick is a layer of rows one behind the other as in a brick wall: no joint between two
// boxes of a row goes on as a joint of the next row. Every row is centred on the
// footprint and has boxes that are turned alike, as many as fit or one fewer, which
// shifts them by half a box; rows of turned boxes and of others may follow each other.
// Of all such layers, in rows along X or along Y, it is the one with the most boxes,
// then the fewest turned. Where a row has room for no more than one box it has no joints.
func (f Floor) Brick(looks *Looks) []LayBox {
	if !f.lays() {
		return nil
	}
	room, _ := f.units()
	var best []row
	var along int
	for axis := range 2 {
		w := newWall(f, axis)
		if !looks.take(w.cost()) {
			return nil
		}
		if rows := w.build(); worth(rows) > worth(best) {
			best, along = rows, axis
		}
	}
	across, depth := 1-along, int64(0)
	for _, r := range best {
		depth += r.size(across)
	}
	at := float64(room[across]-depth) / 2
	var layer []LayBox
	for _, r := range best {
		var corner [2]float64
		corner[along], corner[across] = float64(room[along]-r.size(along))/2, at
		layer = f.lay(layer, r.block, corner[0], corner[1])
		at += float64(r.size(across))
	}
	return layer
}

// row is a block that is one box deep.
type row struct{ block }

// worth orders rows by boxes, and then the other way by turned ones.
func (r row) worth() int64 {
	w := r.boxes() * (MostBoxes + 1)
	if r.turned {
		w -= r.boxes()
	}
	return w
}

func worth(rows []row) (all int64) {
	for _, r := range rows {
		all += r.worth()
	}
	return all
}

// wall is the search for the rows along one axis. What can be reached with so many rows
// that are not turned, so many that are, and one of a kind at the end is worked out from
// what can be reached with one row fewer.
type wall struct {
	along, across int
	depth         int64     // of the room, in units
	kinds         []row     // that a row may be of
	follow        [][]bool  // whether a kind may come right behind another
	most          [2]int64  // rows not turned, and turned
	reached       []reached // by rows not turned, rows turned and the last one's kind
}

// reached is the most that rows of a state are worth; 0 where there are no such rows.
type reached struct {
	worth  int64
	behind int // the kind before the last one; -1 where that is the first
}

// mostStates is how many states a wall may have; beyond them it gets fewer turned rows.
const mostStates = 200_000

func newWall(f Floor, along int) *wall {
	room, box := f.units()
	w := &wall{along: along, across: 1 - along, depth: room[1-along]}
	for _, turned := range []bool{false, true} {
		if turned && box[0] == box[1] {
			break
		}
		one := blockOf(1, 1, box, turned)
		full := room[along] / one.box[along]
		for n := full; n > 0 && n >= full-1 && one.box[w.across] <= w.depth; n-- {
			r := row{one}
			r.n[along] = n
			w.kinds = append(w.kinds, r)
			if turned {
				w.most[1] = w.depth / r.box[w.across]
			} else {
				w.most[0] = w.depth / r.box[w.across]
			}
		}
	}
	if len(w.kinds) > 0 {
		w.most[1] = min(w.most[1], mostStates/(int64(len(w.kinds))*(w.most[0]+1)))
	}
	gap := int64(f.Gap * unit)
	for _, r := range w.kinds {
		var may []bool
		for _, next := range w.kinds {
			may = append(may, !joined(r, next, along, gap))
		}
		w.follow = append(w.follow, may)
	}
	return w
}

// joined reports whether a joint of a row goes on in another: both centred, and a joint as
// wide as the gap.
func joined(r, s row, along int, gap int64) bool {
	i, j := int64(1), int64(1)
	for i < r.n[along] && j < s.n[along] {
		// Twice the way from the middle, which is whole.
		a, b := (2*i-r.n[along])*r.box[along], (2*j-s.n[along])*s.box[along]
		switch {
		case a == b || max(a-b, b-a) < 2*gap:
			return true
		case a < b:
			i++
		default:
			j++
		}
	}
	return false
}

func (w *wall) states() int {
	return int(w.most[0]+1) * int(w.most[1]+1) * len(w.kinds)
}

func (w *wall) cost() int { return w.states()*len(w.kinds) + 4*MostBoxes }

func (w *wall) state(straight, turned int64, kind int) *reached {
	return &w.reached[int(straight*(w.most[1]+1)+turned)*len(w.kinds)+kind]
}

// build is the rows that are worth most.
func (w *wall) build() []row {
	w.reached = make([]reached, w.states())
	var best reached
	var last [3]int64 // the state of the best
	for straight := range w.most[0] + 1 {
		for turned := range w.most[1] + 1 {
			for kind := range w.kinds {
				now := w.reach(straight, turned, kind)
				if *w.state(straight, turned, kind) = now; now.worth > best.worth {
					best, last = now, [3]int64{straight, turned, int64(kind)}
				}
			}
		}
	}
	var rows []row
	for n := best; n.worth > 0; {
		kind := w.kinds[last[2]]
		rows = append(rows, kind)
		if n.behind < 0 {
			break
		}
		last = [3]int64{last[0], last[1], int64(n.behind)}
		if kind.turned {
			last[1]--
		} else {
			last[0]--
		}
		n = *w.state(last[0], last[1], int(last[2]))
	}
	return rows
}

// reach is the most that so many rows are worth with one of a kind at the end.
func (w *wall) reach(straight, turned int64, kind int) reached {
	r := w.kinds[kind]
	before := [2]int64{straight, turned}
	if r.turned {
		before[1]--
	} else {
		before[0]--
	}
	if before[0] < 0 || before[1] < 0 || !w.fits(straight, turned) {
		return reached{}
	}
	if before == [2]int64{} {
		return reached{r.worth(), -1}
	}
	var best reached
	for k := range w.kinds {
		if s := w.state(before[0], before[1], k); s.worth > 0 && w.follow[k][kind] && s.worth+r.worth() > best.worth {
			best = reached{s.worth + r.worth(), k}
		}
	}
	return best
}

// fits reports whether there is room for so many rows.
func (w *wall) fits(straight, turned int64) bool {
	var deep [2]int64
	for _, r := range w.kinds {
		if r.turned {
			deep[1] = r.size(w.across)
		} else {
			deep[0] = r.size(w.across)
		}
	}
	return straight*deep[0]+turned*deep[1] <= w.depth
}
