package fit_test

import (
	"slices"
	"testing"

	"gridferry/gen/fit"
	"gridferry/gen/geom"
)

// grid returns the corners of rows × columns slots that lie in frame p with the
// given pitches, at the given slots.
func grid(p geom.Pose, pitchX, pitchY float64, slots ...[2]int) []fit.Corner {
	var corners []fit.Corner
	for _, s := range slots {
		at := p.Apply(vec(float64(s[1])*pitchX, float64(s[0])*pitchY, 0))
		corners = append(corners, fit.Corner{Row: s[0], Col: s[1], At: at})
	}
	return corners
}

func corners(t *testing.T, c []fit.Corner) fit.CornerGrid {
	t.Helper()
	g, err := fit.Corners(c)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// Any three slots off one line, and any two rows by two columns, in any order,
// give back the grid that they were taken from.
func TestCornersReturnTheGrid(t *testing.T) {
	r := random(40)
	sets := [][][2]int{
		{{0, 0}, {0, 5}, {3, 0}},
		{{3, 5}, {3, 0}, {0, 5}},
		{{1, 1}, {2, 5}, {3, 0}},
		{{0, 0}, {0, 5}, {3, 0}, {3, 5}},
		{{3, 0}, {0, 5}, {3, 5}, {0, 0}},
		{{2, 4}, {1, 1}, {2, 1}, {1, 4}},
	}
	for range rounds {
		p := randomPose(r)
		for _, slots := range sets {
			g := corners(t, grid(p, 65, -40, slots...))
			row, col := 5*r.Float64()-1, 8*r.Float64()-1
			nearVec(t, "slot", g.At(row, col), p.Apply(vec(65*col, -40*row, 0)), 1e-9)
			nearVec(t, "normal", g.Normal(row, col), p.R.Apply(vec(0, 0, -1)), 1e-11)
			near(t, "pitch along columns", g.ColPitch[0], 65, 1e-10)
			near(t, "pitch along rows", g.RowPitch[1], 40, 1e-10)
			near(t, "skew", g.Skew, 0, 1e-10)
			near(t, "miss", g.Miss.Norm(), 0, 1e-9)
		}
	}
}

// Touched corners are met exactly, and the place of a slot moves with the frame.
func TestFourCornersAreMet(t *testing.T) {
	r := random(41)
	for range rounds {
		c := grid(randomPose(r), 60, 50, [2]int{0, 0}, [2]int{0, 7}, [2]int{5, 0}, [2]int{5, 7})
		move := randomPose(r)
		var there []fit.Corner
		for i := range c {
			c[i].At = c[i].At.Add(randomVec(r).Scale(0.01))
			there = append(there, fit.Corner{Row: c[i].Row, Col: c[i].Col, At: move.Apply(c[i].At)})
		}
		g, h := corners(t, c), corners(t, there)
		for _, k := range c {
			nearVec(t, "corner", g.At(float64(k.Row), float64(k.Col)), k.At, 1e-11)
		}
		nearVec(t, "moved slot", h.At(2, 3), move.Apply(g.At(2, 3)), 1e-10)
		near(t, "warp", h.Warp, g.Warp, 1e-9)
		slices.Reverse(c)
		nearVec(t, "another order", corners(t, c).At(2, 3), g.At(2, 3), 1e-10)
		near(t, "miss, another order", corners(t, c).Miss.Norm(), g.Miss.Norm(), 1e-10)
	}
}

// Constructed: 5 columns 100 mm apart and 3 rows 100 mm apart, the last corner
// 4 mm further out, 3 mm to the side and 8 mm high.
func TestFourCornersFigures(t *testing.T) {
	c := grid(geom.Identity, 100, 100, [2]int{0, 0}, [2]int{0, 4}, [2]int{2, 0}, [2]int{2, 4})
	c[3].At = c[3].At.Add(vec(4, 3, 8))
	g := corners(t, c)
	nearVec(t, "miss", g.Miss, vec(4, 3, 8), 1e-12)
	near(t, "column pitch, first row", g.ColPitch[0], 100, 1e-12)
	near(t, "column pitch, last row", g.ColPitch[1], vec(404, 3, 8).Norm()/4, 1e-12)
	near(t, "row pitch, first column", g.RowPitch[0], 100, 1e-12)
	near(t, "row pitch, last column", g.RowPitch[1], vec(4, 203, 8).Norm()/2, 1e-12)
	nearVec(t, "middle", g.At(1, 2), vec(201, 100.75, 2), 1e-12)
	nearVec(t, "edge", g.At(2, 2), vec(202, 201.5, 4), 1e-12)
	// In the middle the steps are (402, 1.5, 4)/4 and (2, 201.5, 4)/2.
	normal, _ := vec(402, 1.5, 4).Cross(vec(2, 201.5, 4)).Unit()
	near(t, "warp", g.Warp, vec(4, 3, 8).Dot(normal), 1e-12)
	near(t, "skew", g.Skew, vec(402, 1.5, 4).AngleTo(vec(2, 201.5, 4))-90, 1e-12)
	if g.Skew >= 0 {
		t.Errorf("skew: got %v, want less than square, below 0", g.Skew)
	}
}

func TestSkewOfThreeCorners(t *testing.T) {
	s, c := geom.SinCos(92)
	g := corners(t, []fit.Corner{{Row: 0, Col: 0}, {Row: 0, Col: 3, At: vec(90, 0, 0)}, {Row: 2, Col: 0, At: vec(80*c, 80*s, 0)}})
	near(t, "skew", g.Skew, 2, 1e-12)
	near(t, "row pitch", g.RowPitch[0], 40, 1e-12)
}

// A long narrow rack is no line: 2 columns by 60 rows.
func TestLongNarrowGrid(t *testing.T) {
	slots := [][2]int{{0, 0}, {0, 1}, {59, 0}, {59, 1}}
	g := corners(t, grid(geom.Identity, 9, 9, slots...))
	near(t, "column pitch", g.ColPitch[1], 9, 1e-12)
}

func TestCornersRefuses(t *testing.T) {
	try := func(k fit.Kind, c ...fit.Corner) *fit.Error {
		t.Helper()
		_, err := fit.Corners(c)
		return refused(t, err, k)
	}
	a, b := fit.Corner{Row: 0, Col: 0}, fit.Corner{Row: 0, Col: 5, At: vec(325, 0, 0)}
	c, d := fit.Corner{Row: 3, Col: 0, At: vec(0, 195, 0)}, fit.Corner{Row: 3, Col: 5, At: vec(325, 195, 0)}
	as := func(slot, place fit.Corner) fit.Corner { return fit.Corner{Row: slot.Row, Col: slot.Col, At: place.At} }

	says(t, try(fit.TooFew, a, b), "found 2 corners, wanted 3 or more", "touch 1 more")
	says(t, try(fit.TooMany, a, b, c, d, fit.Corner{Row: 1, Col: 1}), "found 5 corners, wanted 4 or fewer", "leave out 1")
	says(t, try(fit.SameSlot, a, b, c, as(b, d)),
		"corner 2 and corner 4 are given for the same row and column, wanted different ones",
		"correct the row or column of one of them")
	try(fit.SlotLine, a, b, fit.Corner{Row: 0, Col: 3, At: vec(0, 195, 0)})
	try(fit.SlotLine, a, fit.Corner{Row: 1, Col: 2, At: b.At}, fit.Corner{Row: 2, Col: 4, At: c.At})
	try(fit.NotRectangle, a, b, c, fit.Corner{Row: 2, Col: 5, At: d.At})
	try(fit.NotRectangle, a, b, fit.Corner{Row: 0, Col: 2, At: c.At}, fit.Corner{Row: 0, Col: 3, At: d.At})
	if e := try(fit.TooClose, a, b, as(c, b)); !slices.Equal(e.Points, []int{1, 2}) {
		t.Errorf("got corners %v, want 1 and 2", e.Points)
	}
	e := try(fit.OneLine, a, b, fit.Corner{Row: 3, Col: 0, At: vec(100, 1, 0)})
	if e.Got >= fit.MinAngle || !slices.Equal(e.Points, []int{0, 1, 2}) {
		t.Errorf("got %v° and corners %v", e.Got, e.Points)
	}
	// Three good corners, and a fourth along one of their sides.
	if e := try(fit.OneLine, a, b, c, fit.Corner{Row: 3, Col: 5, At: vec(160, 0, 0)}); !slices.Equal(e.Points, []int{0, 1, 3}) {
		t.Errorf("got corners %v, want 0, 1 and 3", e.Points)
	}
	says(t, try(fit.Folded, a, b, as(c, d), as(d, c)),
		"the four corners cross over, wanted them in one round",
		"look for two neighbouring corners that are swapped")
	try(fit.Folded, a, as(b, d), c, as(d, b))
}
