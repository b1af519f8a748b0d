package simulate

import (
	"math"
	"math/cmplx"
	"strings"

	"gridferry/plan"
)

// cut parts a grid's name from the slots behind it.
func cut(target string) (name, slots string, some bool) {
	return strings.Cut(strings.TrimSpace(target), " ")
}

// lay sets how many slots a grid has and where they lie: each pattern by a formula of its own.
func (g *grid) lay() {
	switch {
	case g.Standard != nil:
		g.plate(g.Standard)
	case g.Ring != nil:
		g.ring(g.Ring)
	case g.Places != nil:
		g.places(g.Places.Rows)
	case g.Boxes != nil:
		g.stack(g.Boxes)
	default:
		g.rowsAndColumns()
	}
}

func (g *grid) even(rows, columns int) {
	for range rows {
		g.rows = append(g.rows, columns)
	}
}

// rowsAndColumns step along X and Y from the first slot on; every second row is shifted.
func (g *grid) rowsAndColumns() {
	g.even(g.Rows.V, g.Columns.V)
	g.lies = func(s slot) (Vec, float64) {
		off := Vec{float64(s.col) * g.Pitch.V[0], float64(s.row) * g.Pitch.V[1], float64(s.layer) * g.LayerPitch.V}
		if s.row%2 == 1 {
			off[0] += g.Stagger.V
		}
		return Vec(g.First.V).add(off, 1), 0
	}
}

// plate is one of ANSI/SLAS 4-2004: the wells of 96 begin 14.38 mm from the left edge and 11.24 mm from
// the upper one, 9 mm apart; each finer plate has half the pitch, and four wells where one was (values of the standard, as quoted in plan/FORMAT.md).
func (g *grid) plate(p *plan.Standard) {
	const length, width = 127.76, 85.48
	pitch, rows, first := 9.0, 8, Vec{14.38, 11.24}
	for range map[string]int{"ansi-slas-384": 1, "ansi-slas-1536": 2}[p.Name.V] {
		pitch, rows = pitch/2, rows*2
		first[0], first[1] = first[0]-pitch/2, first[1]-pitch/2
	}
	corner := p.Corner.Or("top-left")
	g.even(rows, rows*3/2)
	g.lies = func(s slot) (Vec, float64) {
		at := Vec{first[0] + float64(s.col)*pitch, -first[1] - float64(s.row)*pitch, p.Height.V + float64(s.layer)*g.LayerPitch.V}
		if strings.HasSuffix(corner, "right") {
			at[0] -= length
		}
		if strings.HasPrefix(corner, "bottom") {
			at[1] += width
		}
		return at, 0
	}
}

// ring: place k of a circle is that power of a root of unity, in the complex plane of the frame's X and Y.
func (g *grid) ring(r *plan.Ring) {
	own := func(of []plan.Real, row int, otherwise float64) float64 {
		switch len(of) {
		case 0:
			return otherwise
		case 1:
			return of[0].V
		}
		return of[row].V
	}
	for _, n := range r.Places {
		g.rows = append(g.rows, n.V)
	}
	g.lies = func(s slot) (Vec, float64) {
		angle := own(r.Start, s.row, 0) + float64(s.col)*own(r.Step, s.row, 360/float64(g.rows[s.row]))
		at := cmplx.Exp(complex(0, angle*math.Pi/180)) * complex(r.Radius[s.row].V, 0)
		turned := 0.0
		if r.Turned.V == "radial" {
			turned = angle
		}
		return Vec(g.First.V).add(Vec{real(at), imag(at), float64(s.layer) * g.LayerPitch.V}, 1), turned
	}
}

// places are written one by one.
func (g *grid) places(rows []*plan.PlaceRow) {
	for _, row := range rows {
		g.rows = append(g.rows, len(row.Places))
	}
	g.lies = func(s slot) (Vec, float64) {
		p := rows[s.row].Places[s.col]
		return Vec(p.At.V).add(Vec{0, 0, 1}, float64(s.layer)*g.LayerPitch.V), p.Turned.V
	}
}

// at is the tool's pose at a slot, so far off it along the approach, in the grid's frame.
func (g *grid) at(s slot, by *figures, off float64) Pose {
	at, turned := g.lies(s)
	at = at.add(g.offsets[s], 1)
	tool := RPY(Vec{180, 0, 0})
	if g.RPY.IsSet() {
		tool = RPY(Vec(g.RPY.V))
	}
	tool = RPY(Vec{0, 0, turned}).mul(tool)
	way := Vec{0, 0, 1}
	switch {
	case by.Along.Direction.IsSet():
		way = unit(Vec(by.Along.Direction.V))
	case by.Along.Word.V == "tool":
		way = Vec{}.add(tool.column(2), -1)
	}
	return Pose{tool, at.add(way, off)}
}

// middle is where the middle of a part is in a slot, in the frame: where an arm left it, or else square to
// the grid, or turned as the slot is, its bottom "grip" below the TCP.
func (g *grid) middle(s slot, t token) Pose {
	if t.left.kind == t.kind {
		return t.left.middle
	}
	at, turned := g.lies(s)
	at = at.add(g.offsets[s], 1)
	height := t.kind.Size.V[2]
	at[2] += height/2 - t.kind.Grip.Or(height/2)
	return Pose{RPY(Vec{0, 0, turned}), at}
}
