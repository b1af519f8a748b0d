package fit

import "gridferry/gen/geom"

// spanning refuses corners that do not span a grid.
func spanning(corners []Corner) *Error {
	n := float64(len(corners))
	switch {
	case n < 3:
		return &Error{Kind: TooFew, Of: "corner", Got: n, Want: 3}
	case n > 4:
		return &Error{Kind: TooMany, Of: "corner", Got: n, Want: 4}
	}
	if e := sameSlot(corners); e != nil {
		return e
	}
	if n == 3 && slotsInLine(corners) {
		return &Error{Kind: SlotLine, Of: "corner", Points: []int{0, 1, 2}}
	}
	if n == 4 && !isRectangle(corners) {
		return &Error{Kind: NotRectangle, Of: "corner", Points: strays(corners)}
	}
	if e := usable("corner", places(corners)); e != nil {
		return e
	}
	if e := inLine(corners); e != nil {
		return e
	}
	if n == 4 && folded(inOrder(corners)) {
		return &Error{Kind: Folded, Of: "corner", Points: []int{0, 1, 2, 3}}
	}
	return nil
}

func places(corners []Corner) []geom.Vec {
	at := make([]geom.Vec, len(corners))
	for i, c := range corners {
		at[i] = c.At
	}
	return at
}

func sameSlot(corners []Corner) *Error {
	for i, a := range corners {
		for j, b := range corners[:i] {
			if a.Row == b.Row && a.Col == b.Col {
				return &Error{Kind: SameSlot, Of: "corner", Points: []int{j, i}}
			}
		}
	}
	return nil
}

// slotsInLine reports whether the slots of three corners lie along one line of
// the grid, whatever was touched there.
func slotsInLine(c []Corner) bool {
	return (c[1].Col-c[0].Col)*(c[2].Row-c[0].Row) == (c[2].Col-c[0].Col)*(c[1].Row-c[0].Row)
}

// isRectangle reports whether four different slots are two rows by two columns.
func isRectangle(corners []Corner) bool {
	q := bounds(corners)
	if q[0].Row == q[3].Row || q[0].Col == q[3].Col {
		return false
	}
	for _, c := range corners {
		if c.Row != q[0].Row && c.Row != q[3].Row || c.Col != q[0].Col && c.Col != q[3].Col {
			return false
		}
	}
	return true
}

// strays returns the corners that keep four from being two rows by two columns: the
// one that is alone in its row and in its column, or the two that are alone in one
// of them, or all.
func strays(corners []Corner) []int {
	var alone, half []int
	for i, c := range corners {
		inRow, inCol := 0, 0
		for _, d := range corners {
			if d.Row == c.Row {
				inRow++
			}
			if d.Col == c.Col {
				inCol++
			}
		}
		switch {
		case inRow == 1 && inCol == 1:
			alone = append(alone, i)
		case inRow == 1 || inCol == 1:
			half = append(half, i)
		}
	}
	switch {
	case len(alone) == 1:
		return alone
	case len(alone) == 0 && len(half) == 2:
		return half
	}
	return []int{0, 1, 2, 3}
}

// bounds returns the slots at the four corners of the smallest rectangle around
// the corners: first row first column, first row last column, last row first
// column, last row last column. At is left empty.
func bounds(corners []Corner) [4]Corner {
	lo, hi := corners[0], corners[0]
	for _, c := range corners {
		lo.Row, lo.Col = min(lo.Row, c.Row), min(lo.Col, c.Col)
		hi.Row, hi.Col = max(hi.Row, c.Row), max(hi.Col, c.Col)
	}
	return [4]Corner{
		{Row: lo.Row, Col: lo.Col}, {Row: lo.Row, Col: hi.Col},
		{Row: hi.Row, Col: lo.Col}, {Row: hi.Row, Col: hi.Col},
	}
}

// inOrder returns four corners that are a rectangle in the order of bounds.
func inOrder(corners []Corner) [4]Corner {
	q := bounds(corners)
	for i := range q {
		for _, c := range corners {
			if c.Row == q[i].Row && c.Col == q[i].Col {
				q[i].At = c.At
			}
		}
	}
	return q
}

// inLine refuses any three corners along one line. The widest angle of the three
// shows: a long narrow grid has a narrow angle too, and nothing is wrong with it.
func inLine(corners []Corner) *Error {
	for i := range corners {
		for j := range i {
			for k := range j {
				a, b, c := corners[k].At, corners[j].At, corners[i].At
				widest := max(b.Sub(a).AngleTo(c.Sub(a)), a.Sub(b).AngleTo(c.Sub(b)), a.Sub(c).AngleTo(b.Sub(c)))
				if off := 180 - widest; off < MinAngle {
					return &Error{Kind: OneLine, Of: "corner", Points: []int{k, j, i}, Got: off, Want: MinAngle}
				}
			}
		}
	}
	return nil
}

// folded reports whether the surface between four corners in order turns upside
// down on the way from one to another, as it does when two neighbours are swapped.
func folded(q [4]Corner) bool {
	top, bottom := q[1].At.Sub(q[0].At), q[3].At.Sub(q[2].At)
	left, right := q[2].At.Sub(q[0].At), q[3].At.Sub(q[1].At)
	normals := [...]geom.Vec{top.Cross(left), top.Cross(right), bottom.Cross(left), bottom.Cross(right)}
	for i, a := range normals {
		for _, b := range normals[:i] {
			if a.Dot(b) <= 0 {
				return true
			}
		}
	}
	return false
}
