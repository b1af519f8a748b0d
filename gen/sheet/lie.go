package sheet

import (
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/pattern"
)

// lie is how a grid lies before those who look at the picture: which of its rows and
// columns go across, and from where. The zero value has A1 at the upper left.
type lie struct {
	across   bool // rows stand side by side, columns below each other
	left, up bool // what goes across goes to the left; what goes down goes up
}

// lieOf is the lie of a grid in a view from above with these directions, to the next
// quarter turn.
func lieOf(g *layout.Grid, right, up geom.Vec) lie {
	if !inRows(g) {
		return lie{}
	}
	corner, turn := g.Pattern.Corners(), g.Frame.Base.R
	along := func(i int, axis geom.Vec) geom.Vec {
		way := g.At(corner[i]).Sub(g.At(corner[0]))
		if way.Norm() == 0 { // one row, or one column
			way = axis
		}
		way = turn.Apply(way)
		return way.Scale(1 / way.Norm())
	}
	columns, rows := along(1, geom.Vec{X: 1}), along(2, geom.Vec{Y: 1})
	abs := func(x float64) float64 { return max(x, -x) }
	if abs(columns.Dot(right))+abs(rows.Dot(up)) < abs(columns.Dot(up))+abs(rows.Dot(right)) {
		return lie{true, rows.Dot(right) < 0, columns.Dot(up) > 0}
	}
	return lie{false, columns.Dot(right) < 0, rows.Dot(up) > 0}
}

// inRows reports whether a grid's slots lie in straight rows, but for corrections of single ones.
func inRows(g *layout.Grid) bool {
	plain, _ := pattern.Uncorrected(g.Pattern)
	return plain.Form().Even()
}

// size is how many fields go across and down.
func (l lie) size(rows, columns int) (across, down int) {
	if l.across {
		return rows, columns
	}
	return columns, rows
}

// place is where a field is, counted from the upper left.
func (l lie) place(row, column, rows, columns int) (x, y int) {
	x, y = column, row
	if l.across {
		x, y = row, column
	}
	across, down := l.size(rows, columns)
	if l.left {
		x = across - 1 - x
	}
	if l.up {
		y = down - 1 - y
	}
	return x, y
}
