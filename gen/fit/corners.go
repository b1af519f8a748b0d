package fit

import "gridferry/gen/geom"

// Corner is a slot that was touched: its row and column, counted from 0, and
// where it lies, in mm.
type Corner struct {
	Row, Col int
	At       geom.Vec
}

// CornerGrid places every slot of a grid whose corners were touched. From three
// corners it is a parallelogram; from four, opposite edges may differ and the
// surface may be warped (bilinear between the corners).
type CornerGrid struct {
	row0, col0 float64  // the slot that place belongs to
	place      geom.Vec // of that slot
	perCol     geom.Vec // step to the next column, in row row0
	perRow     geom.Vec // step to the next row, in column col0
	twist      geom.Vec // what a step of one row adds to perCol

	CornerFigures
}

// CornerFigures say how far a grid from corners can be trusted.
type CornerFigures struct {
	// Miss leads from where the other three corners, made up to a parallelogram,
	// expect the last corner given, to where it was touched, in mm. Each of the
	// four misses the other three by the same length. Zero for three corners.
	Miss geom.Vec
	// Warp is the part of Miss along the normal in the middle: out of the plane.
	Warp float64
	// ColPitch is the distance from column to column, in mm, along the first row
	// and the last row that were touched.
	ColPitch [2]float64
	// RowPitch is the distance from row to row, in mm, along the first column
	// and the last column that were touched.
	RowPitch [2]float64
	// Skew is the angle from the columns' direction to the rows' direction in
	// the middle, less 90 degrees: 0 is square.
	Skew float64
}

// Corners returns the grid through three corners, or four that are two rows by two
// columns. It refuses corners that are repeated, closer than MinDistance, within
// MinAngle of one line, or that cross over.
func Corners(corners []Corner) (CornerGrid, error) {
	if e := spanning(corners); e != nil {
		return CornerGrid{}, e
	}
	g := affine(corners[0], corners[1], corners[2])
	if len(corners) == 4 {
		last := corners[3]
		g.Miss = last.At.Sub(g.At(float64(last.Row), float64(last.Col)))
		g = bilinear(inOrder(corners), g.Miss)
	}
	g.measure(corners)
	return g, nil
}

// At returns where a slot lies, in mm. Rows and columns count from 0 and may be
// fractions, or outside the corners.
func (g CornerGrid) At(row, col float64) geom.Vec {
	r, c := row-g.row0, col-g.col0
	return g.place.Add(g.perCol.Scale(c)).Add(g.perRow.Scale(r)).Add(g.twist.Scale(float64(r * c)))
}

// steps returns the steps to the next column and to the next row at a slot.
func (g CornerGrid) steps(row, col float64) (perCol, perRow geom.Vec) {
	return g.perCol.Add(g.twist.Scale(row - g.row0)), g.perRow.Add(g.twist.Scale(col - g.col0))
}

// Normal returns the unit normal at a slot: columns' direction × rows' direction,
// as X × Y = Z. It points down where the rows step along -Y.
func (g CornerGrid) Normal(row, col float64) geom.Vec {
	perCol, perRow := g.steps(row, col)
	n, _ := perCol.Cross(perRow).Unit()
	return n
}

// affine returns the parallelogram grid through three corners.
func affine(a, b, c Corner) CornerGrid {
	r1, c1 := float64(b.Row-a.Row), float64(b.Col-a.Col)
	r2, c2 := float64(c.Row-a.Row), float64(c.Col-a.Col)
	u, v := b.At.Sub(a.At), c.At.Sub(a.At)
	det := float64(c1*r2) - float64(c2*r1)
	return CornerGrid{
		row0: float64(a.Row), col0: float64(a.Col), place: a.At,
		perCol: u.Scale(r2 / det).Sub(v.Scale(r1 / det)),
		perRow: v.Scale(c1 / det).Sub(u.Scale(c2 / det)),
	}
}

// bilinear returns the grid through four corners in the order of inOrder.
func bilinear(q [4]Corner, miss geom.Vec) CornerGrid {
	rows, cols := float64(q[3].Row-q[0].Row), float64(q[3].Col-q[0].Col)
	twist := q[3].At.Sub(q[1].At).Sub(q[2].At.Sub(q[0].At))
	return CornerGrid{
		row0: float64(q[0].Row), col0: float64(q[0].Col), place: q[0].At,
		perCol:        q[1].At.Sub(q[0].At).Scale(1 / cols),
		perRow:        q[2].At.Sub(q[0].At).Scale(1 / rows),
		twist:         twist.Scale(1 / float64(rows*cols)),
		CornerFigures: CornerFigures{Miss: miss},
	}
}

// measure fills in the figures of a grid whose places are known.
func (g *CornerGrid) measure(corners []Corner) {
	q := bounds(corners)
	top, left := float64(q[0].Row), float64(q[0].Col)
	bottom, right := float64(q[3].Row), float64(q[3].Col)
	colTop, rowLeft := g.steps(top, left)
	colBottom, rowRight := g.steps(bottom, right)
	g.ColPitch = [2]float64{colTop.Norm(), colBottom.Norm()}
	g.RowPitch = [2]float64{rowLeft.Norm(), rowRight.Norm()}
	middleRow, middleCol := (top+bottom)/2, (left+right)/2
	perCol, perRow := g.steps(middleRow, middleCol)
	g.Skew = perCol.AngleTo(perRow) - 90
	g.Warp = g.Miss.Dot(g.Normal(middleRow, middleCol))
}
