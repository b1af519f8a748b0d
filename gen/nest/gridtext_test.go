package nest_test

import (
	"slices"
	"strings"

	"gridferry/gen/geom"
)

// gridText is what a GRID block says.
type gridText struct {
	name    string
	frame   string
	turn    geom.Rot // of the tool
	first   geom.Vec
	offsets map[string][]float64 // column_x, row_y, layer_z
	steps   map[string]float64
	shift   float64
	corners map[[2]int]geom.Vec
	slots   map[[3]int]geom.Vec // where each is written
	angles  map[[3]int]float64
	off     map[[3]int]geom.Vec
}

func (in *interpreter) grid(head string, body []string) {
	m := gridLine.FindStringSubmatch(head)
	g := &gridText{
		name: m[1], frame: m[2], offsets: map[string][]float64{}, steps: map[string]float64{}, corners: map[[2]int]geom.Vec{},
		slots: map[[3]int]geom.Vec{}, angles: map[[3]int]float64{}, off: map[[3]int]geom.Vec{},
	}
	in.grids[g.name] = g
	for _, l := range body {
		switch {
		case strings.HasPrefix(l, "TOOL TURNED"):
			g.turn = rotation(l)
		case l == "PLACES BETWEEN corners IN PROPORTION", l == "EVERY SLOT WHERE IT IS WRITTEN":
		case strings.HasPrefix(l, "slot["):
			g.single(l)
		default:
			g.line(l)
		}
	}
}

func (g *gridText) line(l string) {
	name, value, _ := strings.Cut(l, "=")
	name, value = strings.TrimSpace(name), strings.TrimSpace(value)
	switch {
	case name == "first":
		g.first = vector(value)
	case strings.HasPrefix(name, "corner["):
		var row, column int
		scan(name, "corner[%d, %d]", &row, &column)
		g.corners[[2]int{row, column}] = vector(value)
	case strings.HasPrefix(value, "STEPS OF "):
		g.steps[name] = figure(strings.TrimPrefix(value, "STEPS OF "))
	case name == "row_shift_x":
		g.shift = figure(strings.TrimSuffix(value, " IN ROWS 2, 4, 6 ..."))
	case strings.HasPrefix(value, "["):
		for _, f := range strings.Split(strings.Trim(value, "[]"), ", ") {
			g.offsets[name] = append(g.offsets[name], figure(f))
		}
	default:
		panic("cannot read in a grid: " + l)
	}
}

// single is a line about one slot: "slot[1, 2] = (1, 2, 3) TURNED ABOUT Z BY 30" or
// "slot[1, 2, 3] OFF BY (0, 0, 1)".
func (g *gridText) single(l string) {
	index, rest, _ := strings.Cut(strings.TrimPrefix(l, "slot["), "] ")
	at := [3]int{1, 1, 1}
	for i, n := range strings.Split(index, ", ") {
		at[i] = whole(n)
	}
	if by, off := strings.CutPrefix(rest, "OFF BY "); off {
		g.off[at] = vector(by)
		return
	}
	place, turned, _ := strings.Cut(strings.TrimPrefix(rest, "= "), " TURNED ABOUT Z BY ")
	g.slots[at] = vector(place)
	if turned != "" {
		g.angles[at] = figure(turned)
	}
}

// offset is entry k of a list, from 1; one that is not there is a mistake.
func (g *gridText) offset(name string, k int) float64 {
	if list, ok := g.offsets[name]; ok {
		return list[k-1]
	}
	return float64(k-1) * g.steps[name]
}

// slot is the tool's pose at a slot, in the grid's frame.
func (g *gridText) slot(at [3]int) geom.Pose {
	return geom.Pose{T: g.place(at).Add(g.off[at]), R: geom.RotZ(g.angles[at]).Mul(g.turn)}
}

func (g *gridText) place(at [3]int) geom.Vec {
	if place, ok := g.slots[at]; ok {
		return place
	}
	z := 0.0
	if at[2] > 1 {
		z = g.offset("layer_z", at[2])
	}
	if len(g.corners) > 0 {
		return g.between(at, z)
	}
	x := g.offset("column_x", at[1])
	if at[0]%2 == 0 {
		x += g.shift
	}
	return g.first.Add(geom.Vec{X: x, Y: g.offset("row_y", at[0]), Z: z})
}

// between is a place between corners in proportion, and so far above what they span.
func (g *gridText) between(at [3]int, up float64) geom.Vec {
	var rows, columns []int
	for corner := range g.corners {
		rows, columns = append(rows, corner[0]), append(columns, corner[1])
	}
	r, c := slices.Max(rows), slices.Max(columns)
	share := func(k, n int) float64 {
		if n == 1 {
			return 0
		}
		return float64(k-1) / float64(n-1)
	}
	down, across := share(at[0], r), share(at[1], c)
	mix := func(a, b geom.Vec, share float64) geom.Vec { return a.Scale(1 - share).Add(b.Scale(share)) }
	first, last := mix(g.corners[[2]int{1, 1}], g.corners[[2]int{r, 1}], down), mix(g.corners[[2]int{1, c}], g.corners[[2]int{r, c}], down)
	top, bottom := mix(g.corners[[2]int{1, 1}], g.corners[[2]int{1, c}], across), mix(g.corners[[2]int{r, 1}], g.corners[[2]int{r, c}], across)
	normal, _ := last.Sub(first).Cross(bottom.Sub(top)).Unit()
	if normal.Z < 0 {
		normal = normal.Scale(-1)
	}
	return mix(first, last, across).Add(normal.Scale(up))
}
